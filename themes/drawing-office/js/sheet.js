// Working beside a number: pointing at a number marks its working; where the working is folded, a click unfolds it.
(function () {
  "use strict";
  const wide = window.matchMedia("(min-width: 62rem)");
  if (!CSS.supports("selector(::details-content)")) {
    const folds = [...document.querySelectorAll("details.note, details.sheets")];
    const unfold = () => { for (const fold of folds) fold.open = wide.matches; };
    wide.addEventListener("change", unfold);
    unfold();
  }

  function workingOf(number) {
    const id = decodeURIComponent(number.hash.slice(1));
    return id ? document.querySelector(`[data-working-of="${CSS.escape(id)}"]`) : null;
  }

  for (const number of document.querySelectorAll("a.number, .entry-value a")) {
    const working = workingOf(number);
    if (!working) continue;
    const mark = (on) => working.classList.toggle("pointed", on);
    for (const event of ["pointerenter", "focus"]) number.addEventListener(event, () => mark(true));
    for (const event of ["pointerleave", "blur"]) number.addEventListener(event, () => mark(false));
    number.addEventListener("click", (event) => {
      const fold = working.closest("details");
      if (wide.matches || !fold || fold.open || event.metaKey || event.ctrlKey || event.shiftKey) return;
      event.preventDefault();
      fold.open = true;
      working.scrollIntoView({ block: "nearest" });
    });
  }
})();
