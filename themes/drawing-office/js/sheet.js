// Working beside a number: pointing at one marks the other. Where the browser cannot unfold notes by style, do it here.
(function () {
  "use strict";
  const folds = [...document.querySelectorAll("details.note, details.sheets")];
  if (!CSS.supports("selector(::details-content)")) {
    const wide = window.matchMedia("(min-width: 62rem)");
    const unfold = () => { for (const fold of folds) fold.open = wide.matches; };
    wide.addEventListener("change", unfold);
    unfold();
  }

  function note(number) {
    const id = decodeURIComponent((number.hash || "").slice(1));
    return id ? document.querySelector(`[data-working-of="${CSS.escape(id)}"]`) : null;
  }

  for (const number of document.querySelectorAll("a.number")) {
    const mark = (on) => { const found = note(number); if (found) found.classList.toggle("pointed", on); };
    for (const event of ["pointerenter", "focus"]) number.addEventListener(event, () => mark(true));
    for (const event of ["pointerleave", "blur"]) number.addEventListener(event, () => mark(false));
  }
})();
