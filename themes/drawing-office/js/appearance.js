// Light, dark, night: chosen by the reader, kept by the browser. Choosing the same again follows the device.
(function (root) {
  "use strict";
  const buttons = [...document.querySelectorAll("[data-choose]")];
  const colours = [...document.querySelectorAll("meta[name=theme-color]")];

  function show(chosen) {
    if (chosen) root.dataset.appearance = chosen; else delete root.dataset.appearance;
    for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.choose === chosen));
    for (const meta of colours) {
      meta.content = meta.dataset[chosen || meta.dataset.own];
      meta.media = chosen ? "all" : `(prefers-color-scheme: ${meta.dataset.own})`;
    }
  }

  function choose(chosen) {
    const next = root.dataset.appearance === chosen ? "" : chosen;
    try {
      if (next) localStorage.setItem("appearance", next); else localStorage.removeItem("appearance");
    } catch (refused) { /* it still holds for this page */ }
    show(next);
  }

  for (const button of buttons) button.addEventListener("click", () => choose(button.dataset.choose));
  window.addEventListener("storage", (event) => { if (event.key === "appearance") show(event.newValue || ""); });
  show(root.dataset.appearance || "");
})(document.documentElement);
