// A press on the photograph says which yarn is meant, and a drag draws a box
// around it; the form's fields follow, so the server sees the same either way.
"use strict";
{
  const form = document.getElementById("box");
  const again = form && form.closest("details");
  const svg = document.querySelector("svg.overlay");
  if (svg && again) {
    const create = (name, under) => {
      const e = document.createElementNS("http://www.w3.org/2000/svg", name);
      e.setAttribute("class", under ? "box under" : "box");
      svg.append(e);
      return e;
    };
    const boxes = [create("rect", true), create("rect", false)], dots = [create("circle", true), create("circle", false)];
    form.querySelector(".boxhint").textContent = "Press the yarn in the picture, or drag a box around it; or leave it open.";
    const lines = () => form.elements.hint.value === "line"; // see line.js
    const whole = svg.querySelector("image");
    const narrow = svg.getAttribute("viewBox");
    const place = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const write = (values) => ["box1x", "box1y", "box2x", "box2y"].forEach((name, i) => { form.elements[name].value = values[i] === undefined ? "" : Math.round(values[i]); });
    const set = (elements, shown, attrs) => {
      for (const e of elements) {
        e.setAttribute("visibility", shown ? "visible" : "hidden");
        for (const key in attrs) if (shown) e.setAttribute(key, attrs[key]);
      }
    };
    const show = () => {
      const [x1, y1, x2, y2] = ["box1x", "box1y", "box2x", "box2y"].map((name) => parseFloat(form.elements[name].value));
      const one = again.open && !lines() && Number.isFinite(x1 + y1), two = one && Number.isFinite(x2 + y2);
      set(boxes, two, { x: Math.min(x1, x2), y: Math.min(y1, y2), width: Math.abs(x2 - x1), height: Math.abs(y2 - y1) });
      set(dots, one && !two, { cx: x1, cy: y1, r: 11 * svg.viewBox.baseVal.width / (svg.getBoundingClientRect().width || 1) });
    };
    const toggle = () => {
      // The whole picture is needed to show where the yarn lies.
      svg.setAttribute("viewBox", again.open ? "0 0 " + whole.getAttribute("width") + " " + whole.getAttribute("height") : narrow);
      svg.classList.toggle("laying", again.open);
      show();
    };
    let from = null, dragged = false;
    svg.addEventListener("pointerdown", (event) => {
      if (!again.open || lines() || event.target.classList.contains("handle")) return;
      svg.setPointerCapture(event.pointerId);
      from = { x: event.clientX, y: event.clientY, at: place(event) };
      dragged = false;
      event.preventDefault();
    });
    svg.addEventListener("pointermove", (event) => {
      if (!from || Math.hypot(event.clientX - from.x, event.clientY - from.y) < 8 && !dragged) return;
      dragged = true;
      const to = place(event);
      write([Math.min(from.at.x, to.x), Math.min(from.at.y, to.y), Math.max(from.at.x, to.x), Math.max(from.at.y, to.y)]);
      show();
    });
    svg.addEventListener("pointerup", () => {
      if (from && !dragged) write([from.at.x, from.at.y]);
      from = null;
      show();
    });
    svg.addEventListener("pointercancel", () => { from = null; });
    form.addEventListener("input", show);
    again.addEventListener("toggle", toggle);
    addEventListener("resize", show);
    toggle();
  }
}
