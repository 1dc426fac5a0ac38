// Before anything is drawn: the appearance that the reader chose, and that scripts run at all.
(function (root) {
  root.classList.add("js");
  try {
    var chosen = localStorage.getItem("appearance");
    if (/^(light|dark|night)$/.test(chosen)) {
      root.dataset.appearance = chosen;
      document.querySelectorAll("meta[name=theme-color]").forEach(function (meta) {
        meta.content = meta.dataset[chosen];
        meta.media = "all";
      });
    }
  } catch (refused) { /* a browser that keeps nothing follows the device */ }
})(document.documentElement);
