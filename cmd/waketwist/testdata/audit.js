// Looks over the page as it stands, and lists what a person would stumble on.
// Widths are CSS pixels; contrast is reckoned as WCAG 2.2 defines it.
(() => {
  "use strict";
  const faults = [];
  const all = (selector) => [...document.querySelectorAll(selector)];
  const name = (e) => {
    const text = (e.getAttribute("aria-label") || e.textContent || e.getAttribute("name") || "").trim().replace(/\s+/g, " ");
    return "<" + e.localName + (e.id ? " id=" + e.id : "") + "> “" + text.slice(0, 40) + "”";
  };
  const seen = (e) => {
    if (!e.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true })) return false;
    const box = e.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && box.right > 0 && box.bottom + scrollY > 0;
  };

  // Language, headings, names that must be unique, images.
  if (!document.documentElement.lang) faults.push("the page has no language");
  if (!document.title) faults.push("the page has no title");
  const headings = all("h1, h2, h3, h4, h5, h6");
  const tops = headings.filter((h) => h.localName === "h1");
  if (tops.length !== 1) faults.push("the page has " + tops.length + " first headings");
  headings.reduce((before, h) => {
    const level = Number(h.localName[1]);
    if (level > before + 1) faults.push("heading " + name(h) + " skips a level after h" + before);
    if (!h.textContent.trim()) faults.push("heading " + name(h) + " is empty");
    return level;
  }, 0);
  const ids = new Set();
  for (const e of all("[id]")) {
    if (ids.has(e.id)) faults.push("the id “" + e.id + "” stands twice");
    ids.add(e.id);
  }
  for (const attribute of ["aria-labelledby", "aria-describedby", "for"]) {
    for (const e of all("[" + attribute + "]")) {
      for (const id of e.getAttribute(attribute).split(/\s+/)) {
        if (!ids.has(id)) faults.push(name(e) + " refers to “" + id + "”, which is not there");
      }
    }
  }
  for (const e of all("img")) {
    if (!e.hasAttribute("alt")) faults.push("an image has no alt: " + e.src);
    if (!e.complete || e.naturalWidth === 0) faults.push("an image did not load: " + e.src);
  }
  for (const e of all("svg")) {
    if (e.closest("[aria-hidden=true]")) continue;
    if (e.getAttribute("role") !== "img" || !(e.getAttribute("aria-label") || e.querySelector("title"))) faults.push("a drawing is neither named nor hidden: " + name(e));
  }

  // Nothing reaches beyond the window.
  const root = document.documentElement;
  const wide = root.clientWidth;
  if (root.scrollWidth > wide) {
    const culprit = all("body *").find((e) => seen(e) && e.getBoundingClientRect().right > wide + 1 && !clipped(e));
    faults.push("the page is " + root.scrollWidth + " wide in a window of " + wide + (culprit ? ", because of " + name(culprit) : ""));
  }
  function clipped(e) {
    for (let p = e.parentElement; p; p = p.parentElement) if (getComputedStyle(p).overflowX !== "visible") return true;
    return false;
  }
  for (const e of all("button, label, legend, summary, h1, h2, h3, h4, strong, a")) {
    if (seen(e) && getComputedStyle(e).display !== "inline" && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== "visible") faults.push("text is cut off in " + name(e));
  }

  // Targets for a finger.
  const target = 44;
  const boxed = (e) => {
    const s = getComputedStyle(e);
    return s.display !== "inline" && (parseFloat(s.borderTopWidth) > 0 || colour(s.backgroundColor)[3] > 0);
  };
  if (innerWidth <= 390) {
    const targets = [...all("button, summary, select, textarea, [role=button], input:not([type=hidden], [type=radio], [type=checkbox])"),
      ...all("a[href]").filter(boxed), ...all("nav a[href]"), ...all("input[type=radio], input[type=checkbox]").map((e) => e.closest("label") || e)];
    for (const e of new Set(targets)) {
      const box = e.getBoundingClientRect();
      if (seen(e) && Math.round(box.height) < target) faults.push("only " + box.height.toFixed(0) + " high: " + name(e));
    }
  }

  // Contrast of text against what lies behind it.
  const pen = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  pen.canvas.width = pen.canvas.height = 1;
  function colour(css) {
    const m = /^rgba?\(([\d.]+), ([\d.]+), ([\d.]+)(?:, ([\d.]+))?\)$/.exec(css);
    if (m) return [Number(m[1]), Number(m[2]), Number(m[3]), m[4] === undefined ? 1 : Number(m[4])];
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = css;
    pen.fillRect(0, 0, 1, 1);
    const d = pen.getImageData(0, 0, 1, 1).data;
    return [d[0], d[1], d[2], d[3] / 255];
  }
  const over = (top, below) => [0, 1, 2].map((i) => top[i] * top[3] + below[i] * (1 - top[3])).concat(1);
  const behind = (e) => {
    const layers = [];
    for (let p = e; p; p = p.parentElement) {
      const s = getComputedStyle(p);
      if (s.backgroundImage !== "none") return null;
      const c = colour(s.backgroundColor);
      if (c[3] > 0) layers.push(c);
      if (c[3] === 1) break;
    }
    return layers.reduceRight((below, top) => over(top, below), [255, 255, 255, 1]);
  };
  const light = (c) => {
    const [r, g, b] = c.map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a, b) => {
    const [hi, lo] = [light(a), light(b)].sort((x, y) => y - x);
    return (hi + 0.05) / (lo + 0.05);
  };
  const faint = (e) => {
    let o = 1;
    for (let p = e; p; p = p.parentElement) o *= Number(getComputedStyle(p).opacity);
    return o;
  };
  const judge = (e, style, what) => {
    const ground = behind(e);
    if (!ground) return faults.push("text over a picture cannot be judged: " + name(e));
    const ink = colour(e.namespaceURI.endsWith("svg") ? style.fill : style.color);
    ink[3] *= faint(e);
    const size = parseFloat(style.fontSize);
    const least = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700) ? 3 : 4.5;
    const found = contrast(over(ink, ground), ground);
    if (found < least) faults.push("contrast " + found.toFixed(2) + " of " + what + " in " + name(e) + ", want " + least);
  };
  const judged = new Set();
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const e = texts.currentNode.parentElement;
    if (!texts.currentNode.data.trim() || judged.has(e) || ["SCRIPT", "STYLE", "OPTION"].includes(e.nodeName) || !seen(e)) continue;
    judged.add(e);
    judge(e, getComputedStyle(e), "text");
  }
  for (const e of all("input, select, textarea")) {
    if (!seen(e) || ["radio", "checkbox", "hidden"].includes(e.type)) continue;
    judge(e, getComputedStyle(e), "a field's text");
    if (e.placeholder) judge(e, getComputedStyle(e, "::placeholder"), "a placeholder");
    const s = getComputedStyle(e), outside = behind(e.parentElement), border = contrast(over(colour(s.borderTopColor), outside), outside);
    if (border < 3) faults.push("contrast " + border.toFixed(2) + " of the border of " + name(e) + ", want 3");
  }
  return faults;
})()
