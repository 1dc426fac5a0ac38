// Pointing at a number of a drawing shows where it comes from, laid over the page beside it: nothing else moves.
(function () {
  "use strict";
  const gap = 6, leave = 250;
  let shown = null, going = 0;

  function hide() {
    clearTimeout(going);
    if (!shown) return;
    shown.slip.remove();
    shown.number.removeAttribute("aria-describedby");
    shown.number.classList.remove("pointed");
    shown = null;
  }

  function later() {
    clearTimeout(going);
    going = setTimeout(hide, leave);
  }

  function originOf(number, figure) {
    const text = number.matches("[data-result], [data-key]") ? number : number.querySelector("[data-result], [data-key]");
    const all = document.getElementById(`${figure.dataset.pointing}-numbers`);
    if (!text || !all) return null;
    const { result, key } = text.dataset;
    return all.querySelector(result ? `[data-result="${CSS.escape(result)}"]` : `[data-key="${CSS.escape(key)}"]`);
  }

  function show(number, figure) {
    clearTimeout(going);
    if (shown && shown.number === number) return;
    const origin = originOf(number, figure);
    if (!origin) return;
    hide();
    const slip = origin.cloneNode(true);
    slip.className = "slip work";
    slip.id = "slip";
    slip.setAttribute("role", "tooltip");
    slip.addEventListener("pointerenter", () => clearTimeout(going));
    slip.addEventListener("pointerleave", later);
    figure.append(slip);
    const at = number.getBoundingClientRect(), frame = figure.getBoundingClientRect();
    const below = at.bottom + gap + slip.offsetHeight <= innerHeight || at.top - gap - slip.offsetHeight < 0;
    const left = Math.max(0, Math.min((at.left + at.right - slip.offsetWidth) / 2 - frame.left, frame.width - slip.offsetWidth));
    slip.style.left = `${left}px`;
    slip.style.top = `${below ? at.bottom - frame.top + gap : at.top - frame.top - gap - slip.offsetHeight}px`;
    number.setAttribute("aria-describedby", slip.id);
    number.classList.add("pointed");
    shown = { number, slip };
  }

  for (const figure of document.querySelectorAll(".to-point-at")) {
    for (const number of figure.querySelectorAll("svg a, svg [data-key]:not(a *)")) {
      let touched = false;
      number.addEventListener("pointerenter", (event) => { if (event.pointerType !== "touch") show(number, figure); });
      number.addEventListener("pointerleave", (event) => { if (event.pointerType !== "touch") later(); });
      number.addEventListener("focus", () => show(number, figure));
      number.addEventListener("blur", (event) => { if (!shown || !shown.slip.contains(event.relatedTarget)) later(); });
      number.addEventListener("pointerdown", (event) => { touched = event.pointerType === "touch"; });
      number.addEventListener("click", (event) => {
        // A finger cannot point without tapping: the tap shows, and what it shows leads on.
        if (!touched) return;
        event.preventDefault();
        show(number, figure);
      });
    }
  }
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") hide(); });
  document.addEventListener("pointerdown", (event) => {
    if (shown && !shown.slip.contains(event.target) && !shown.number.contains(event.target)) hide();
  });
  window.addEventListener("resize", hide);
})();
