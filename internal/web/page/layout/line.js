// Presses on the photograph lay a line along the yarn, point by point; points are
// moved by finger, mouse or the arrow keys. The form's field follows, so the server
// sees the same either way.
"use strict";
{
  const form = document.getElementById("box");
  const again = form && form.closest("details");
  const svg = document.querySelector("svg.overlay");
  if (svg && again) {
    const field = form.elements.along;
    const parts = [...form.querySelectorAll("[data-hint]")];
    const lines = () => form.elements.hint.value === "line";
    form.querySelector("[data-hints]").hidden = false;
    form.querySelector("[data-points]").hidden = false;
    for (const radio of form.elements.hint) radio.disabled = false;
    form.querySelector(".linehint").textContent = "Press along the middle of the yarn, point by point, from where it may be read to where it may not; then say how many strands it has. Points can be moved.";

    const create = (name, attrs) => {
      const e = document.createElementNS("http://www.w3.org/2000/svg", name);
      for (const key in attrs) e.setAttribute(key, attrs[key]);
      return e;
    };
    const layer = create("g", { visibility: "hidden" });
    const curves = [create("path", { class: "drawn under" }), create("path", { class: "drawn" })];
    layer.append(...curves);
    svg.append(layer);
    let points = [], handles = [];

    // The server follows the same curve: its pace goes with the root of the distances.
    const mix = (p, q, f) => ({ x: p.x + f * (q.x - p.x), y: p.y + f * (q.y - p.y) });
    const pace = (p, q) => Math.sqrt(Math.hypot(q.x - p.x, q.y - p.y)) || 1e-6;
    const between = (a, b, c, d, u) => {
      const t1 = pace(a, b), t2 = t1 + pace(b, c), t3 = t2 + pace(c, d), t = t1 + u * (t2 - t1);
      const p = mix(a, b, t / t1), q = mix(b, c, (t - t1) / (t2 - t1)), r = mix(c, d, (t - t2) / (t3 - t2));
      return mix(mix(p, q, t / t2), mix(q, r, (t - t1) / (t3 - t1)), u);
    };
    const curve = () => {
      const way = points.slice(0, 1);
      for (let i = 1; i < points.length; i++) {
        const b = points[i - 1], c = points[i];
        const a = points[i - 2] || mix(b, c, -1), d = points[i + 1] || mix(c, b, -1);
        for (let k = 1; k <= 8; k++) way.push(between(a, b, c, d, k / 8));
      }
      return way.length > 1 ? "M" + way.map((p) => p.x.toFixed(1) + "," + p.y.toFixed(1)).join("L") : "";
    };

    const view = svg.viewBox.baseVal;
    const place = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const show = () => {
      const shown = again.open && lines();
      layer.setAttribute("visibility", shown ? "visible" : "hidden");
      for (const old of svg.querySelectorAll("polyline.drawn")) old.setAttribute("visibility", again.open ? "hidden" : "visible");
      for (const c of curves) c.setAttribute("d", curve());
      const pixel = view.width / (svg.getBoundingClientRect().width || view.width);
      handles.forEach(([dot, ring], i) => {
        for (const [circle, r] of [[dot, 6], [ring, 16]]) {
          for (const [k, v] of [["cx", points[i].x], ["cy", points[i].y], ["r", r * pixel]]) circle.setAttribute(k, v);
        }
        ring.setAttribute("aria-valuetext", Math.round(points[i].x) + " across, " + Math.round(points[i].y) + " down");
      });
      form.querySelector("[data-count]").textContent = points.length === 0 ? "" : points.length === 1 ? "One point: press on along the yarn." : points.length + " points.";
      for (const name of ["back", "over"]) form.querySelector("[data-do=" + name + "]").disabled = points.length === 0;
    };
    const write = () => {
      field.value = points.map((p) => Math.round(p.x) + "," + Math.round(p.y)).join(", ");
      show();
    };
    const image = svg.querySelector("image");
    const inside = (p) => ({ x: Math.min(Math.max(p.x, 0), +image.getAttribute("width")), y: Math.min(Math.max(p.y, 0), +image.getAttribute("height")) });
    const move = (i, p) => { points[i] = inside(p); write(); };
    const handle = (i) => {
      const dot = create("circle", { class: "dot" });
      const ring = create("circle", { class: "handle", tabindex: "0", role: "slider", "aria-label": "line, point " + (i + 1), "aria-valuenow": i + 1, "aria-valuemin": "1", "aria-valuemax": "100" });
      ring.addEventListener("pointerdown", (e) => { ring.setPointerCapture(e.pointerId); e.preventDefault(); });
      ring.addEventListener("pointermove", (e) => { if (ring.hasPointerCapture(e.pointerId)) move(i, place(e)); });
      ring.addEventListener("keydown", (e) => {
        const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
        if (!by) return;
        e.preventDefault();
        const step = view.width / 300;
        move(i, { x: points[i].x + by[0] * step, y: points[i].y + by[1] * step });
      });
      layer.append(dot, ring);
      return [dot, ring];
    };
    const lay = (all) => {
      points = all;
      for (const [dot, ring] of handles.splice(0)) { dot.remove(); ring.remove(); }
      handles = points.map((_, i) => handle(i));
    };
    const parse = () => {
      const v = field.value.split(/[,;\s]+/).filter(Boolean).map(Number);
      lay(v.length % 2 || v.some((x) => !Number.isFinite(x)) ? [] : Array.from({ length: v.length / 2 }, (_, i) => ({ x: v[2 * i], y: v[2 * i + 1] })));
      show();
    };
    const add = (p) => { lay([...points, inside(p)]); write(); };

    let from = null;
    svg.addEventListener("pointerdown", (event) => {
      if (!again.open || !lines() || event.target.classList.contains("handle")) return;
      from = { x: event.clientX, y: event.clientY };
      event.preventDefault();
    });
    svg.addEventListener("pointerup", (event) => {
      if (from && Math.hypot(event.clientX - from.x, event.clientY - from.y) < 8) add(place(event));
      from = null;
    });
    svg.addEventListener("pointercancel", () => { from = null; });
    const does = {
      // For the keyboard: a point farther on, to be moved by the arrow keys.
      add: () => {
        const n = points.length, middle = { x: view.x + view.width / 2, y: view.y + view.height / 2 };
        add(n === 0 ? middle : n === 1 ? { x: points[0].x + view.width / 8, y: points[0].y } : mix(points[n - 2], points[n - 1], 2));
        handles[n][1].focus();
      },
      back: () => { lay(points.slice(0, -1)); write(); },
      over: () => { lay([]); write(); },
    };
    for (const button of form.querySelectorAll("[data-do]")) button.addEventListener("click", () => does[button.dataset.do]());
    const choose = () => {
      for (const part of parts) {
        const on = (part.dataset.hint === "line") === lines();
        part.hidden = !on;
        // What the other way holds is kept, but not sent.
        for (const input of part.querySelectorAll("input")) input.disabled = !on;
      }
      show();
    };
    form.addEventListener("change", choose);
    field.addEventListener("input", parse);
    again.addEventListener("toggle", show);
    addEventListener("resize", show);
    parse();
    choose();
  }
}
