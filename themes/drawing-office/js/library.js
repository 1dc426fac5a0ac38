// The index of plans: filter, order, and up to three side by side. Without it all are listed and all are compared.
(function () {
  "use strict";
  const form = document.querySelector("[data-library]");
  if (!form) return;
  const most = 3;
  const home = document.querySelector("[data-builds]");
  const builds = [...home.querySelectorAll("[data-build]")];
  const boxes = [...home.querySelectorAll("[data-beside]")];

  const value = (build, name) => (build.dataset[name] === "" ? NaN : Number(build.dataset[name]));

  // What a build does not say is not held against it.
  function fits(build) {
    for (const field of form.querySelectorAll("[data-least]"))
      if (field.value !== "" && value(build, field.dataset.least) < Number(field.value)) return false;
    for (const field of form.querySelectorAll("[data-most]"))
      if (field.value !== "" && value(build, field.dataset.most) > Number(field.value)) return false;
    const level = form.querySelector("[data-level]").value;
    if (level !== "" && Number(build.dataset.level) > Number(level)) return false;
    return !(form.querySelector("[data-no-printer]").checked && build.dataset.printer === "yes");
  }

  function order(one, other) {
    const by = form.querySelector("[data-order]").value;
    const names = one.dataset.name.localeCompare(other.dataset.name, document.documentElement.lang || undefined);
    if (by === "name") return names;
    const first = value(one, by), second = value(other, by);
    if (isNaN(first) || isNaN(second)) return Number(isNaN(first)) - Number(isNaN(second)) || names;
    return first - second || names;
  }

  function compare() {
    const chosen = boxes.filter((box) => box.checked).map((box) => box.dataset.beside);
    for (const box of boxes) box.disabled = chosen.length >= most && !box.checked;
    for (const cell of document.querySelectorAll("[data-column]"))
      cell.hidden = chosen.length > 0 && !chosen.includes(cell.dataset.column);
  }

  function show() {
    for (const build of [...builds].sort(order)) home.append(build);
    for (const build of builds) build.hidden = !fits(build);
    const left = builds.filter((build) => !build.hidden).length;
    const counted = left === builds.length ? `${left} plans` : `${left} of ${builds.length} plans`;
    form.querySelector("[data-count]").textContent = left ? counted : `${counted}: empty a field or allow more`;
  }

  form.addEventListener("input", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  home.addEventListener("change", compare);
  form.hidden = false;
  document.querySelector("[data-hint]").hidden = builds.length <= most;
  for (const label of home.querySelectorAll(".library-choose")) label.hidden = builds.length < 2;
  show();
  compare();
})();
