// Lines are laid over the photograph with finger, pen, mouse or the arrow keys;
// the form's fields follow, so the server sees the same either way.
"use strict";
const svg = document.querySelector("[data-lay] svg.overlay");
const lines = document.getElementById("lines");
const make = (name, attrs) => {
  const e = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const key in attrs) e.setAttribute(key, attrs[key]);
  return e;
};
const place = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());

if (svg && lines) {
  document.body.classList.add("scripted");
  const field = (name) => lines.elements[name];
  const ends = ["axis1", "axis2", "strand1", "strand2"];
  const view = svg.viewBox.baseVal;
  const step = view.width / 300;
  const layer = make("g", { visibility: "hidden" });
  const draw = { axis: [make("line", { class: "shade" }), make("line", { class: "mine axis" })],
    strand: [make("line", { class: "shade" }), make("line", { class: "mine" })] };
  layer.append(...draw.axis, ...draw.strand);
  const handles = {}, dots = {};
  for (const end of ends) {
    const which = end.startsWith("axis") ? "axis" : "strand";
    // A finger needs more room than the eye: an unseen ring takes the touch too.
    handles[end] = make("circle", { class: "handle", tabindex: "0", role: "slider", "aria-valuemin": "0", "aria-valuemax": "90", "aria-label": which + " line, end " + end.slice(-1) });
    dots[end] = make("circle", { class: "dot" });
    layer.append(dots[end], handles[end]);
  }
  svg.append(layer);

  const at = (end) => ({ x: parseFloat(field(end + "x").value), y: parseFloat(field(end + "y").value) });
  const show = () => {
    // Handles keep the size of a fingertip whatever the picture's scale.
    const pixel = view.width / (svg.getBoundingClientRect().width || view.width);
    for (const which of ["axis", "strand"]) {
      const a = at(which + "1"), b = at(which + "2");
      for (const line of draw[which]) for (const [k, v] of [["x1", a.x], ["y1", a.y], ["x2", b.x], ["y2", b.y]]) line.setAttribute(k, v);
    }
    for (const end of ends) {
      const p = at(end);
      for (const [circle, r] of [[dots[end], 11], [handles[end], 22]])
        for (const [k, v] of [["cx", p.x], ["cy", p.y], ["r", r * pixel]]) circle.setAttribute(k, v);
    }
    const a1 = at("axis1"), a2 = at("axis2"), s1 = at("strand1"), s2 = at("strand2");
    const ax = a2.x - a1.x, ay = a2.y - a1.y, sx = s2.x - s1.x, sy = s2.y - s1.y;
    const dot = ax * sx + ay * sy, cross = (ax * sy - ay * sx) * (dot < 0 ? -1 : 1);
    const angle = Math.atan2(Math.abs(cross), Math.abs(dot)) * 180 / Math.PI;
    const text = angle.toFixed(1) + "°, twist " + (cross > 0 ? "Z" : "S");
    lines.querySelector(".live").textContent = text;
    for (const end of ends) for (const [k, v] of [["aria-valuenow", angle.toFixed(1)], ["aria-valuetext", text]]) handles[end].setAttribute(k, v);
  };
  const move = (end, x, y) => {
    field(end + "x").value = x.toFixed(1);
    field(end + "y").value = y.toFixed(1);
    show();
  };
  for (const end of ends) {
    const h = handles[end];
    h.addEventListener("pointerdown", (e) => { h.setPointerCapture(e.pointerId); e.preventDefault(); });
    h.addEventListener("pointermove", (e) => { if (h.hasPointerCapture(e.pointerId)) { const p = place(e); move(end, p.x, p.y); } });
    h.addEventListener("keydown", (e) => {
      const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
      if (!by) return;
      e.preventDefault();
      const p = at(end);
      move(end, p.x + by[0] * step, p.y + by[1] * step);
    });
  }
  const correct = document.querySelector(".correct");
  const toggle = () => {
    layer.setAttribute("visibility", correct.open ? "visible" : "hidden");
    for (const old of svg.querySelectorAll(".under, .over")) old.setAttribute("visibility", correct.open ? "hidden" : "visible");
    show();
  };
  correct.addEventListener("toggle", toggle);
  addEventListener("resize", show);
  toggle();
}
