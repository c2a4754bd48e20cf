// Says what has the focus and whether that can be seen; null at the end of the
// page.
(() => {
  "use strict";
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return null;
  const s = getComputedStyle(e);
  const box = e.getBoundingClientRect();
  // The calendar button in a date field is the browser's own, and so is its ring.
  const own = e.type === "date" && e.dataset.visited === "yes";
  const ringed = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || s.boxShadow !== "none";
  const inside = box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  const text = (e.getAttribute("aria-label") || e.textContent || e.name || "").trim().replace(/\s+/g, " ");
  e.dataset.visited = "yes";
  return { what: "<" + e.localName + "> “" + text.slice(0, 40) + "”", seen: inside && (own || e.matches(":focus-visible") && ringed) };
})()
