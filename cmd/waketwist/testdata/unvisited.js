// Lists what can be used but was never reached by the tab key. Of a group of
// radio buttons the key reaches one.
(() => {
  "use strict";
  const all = [...document.querySelectorAll("a[href], button, summary, select, textarea, [tabindex='0'], input:not([type=hidden])")];
  const group = (e) => all.filter((o) => o.type === "radio" && o.name === e.name && o.form === e.form);
  return all.filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.dataset.visited)
    .filter((e) => e.type !== "radio" || !group(e).some((o) => o.dataset.visited))
    .map((e) => e.outerHTML.slice(0, 90));
})()
