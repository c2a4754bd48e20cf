// Presses on the photograph set the points of a scale, or the corners of a box
// around a coin or the marks of a ruler, and so does dragging; the form's fields
// follow, so the server sees the same either way.
"use strict";
{
  const gauge = document.querySelector(".gauge");
  const form = document.getElementById("scale");
  const svg = document.querySelector("svg.overlay");
  if (gauge && form && svg) {
    const create = (name, attrs) => {
      const e = document.createElementNS("http://www.w3.org/2000/svg", name);
      for (const key in attrs) e.setAttribute(key, attrs[key]);
      return e;
    };
    const hint = form.querySelector(".scalehint");
    const by = () => form.elements.by.value;
    const hints = {
      points: "Press two points in the picture whose distance you know. Or give them in pixels across and down from the top left.",
      coin: "The coin is found by itself. Where there are several round things, press the one that is meant, or drag a box around it.",
      ruler: "The marks are found by themselves. Where there are several rows of them, press the one that is meant, or drag a box along it.",
    };
    const layer = create("g", { class: "ends-of-scale", visibility: "hidden" });
    const line = create("line", {}), under = create("line", { class: "shade" });
    const dots = [create("circle", {}), create("circle", {})];
    const box = create("rect", {});
    layer.append(under, line, box, ...dots);
    svg.append(layer);
    const whole = svg.querySelector("image");
    const narrow = svg.getAttribute("viewBox");
    const value = (name) => parseFloat(form.elements[name].value);
    const ends = () => [[value("x1"), value("y1")], [value("x2"), value("y2")]];
    const show = () => {
      hint.textContent = hints[by()];
      const dot = 5 * svg.viewBox.baseVal.width / (svg.getBoundingClientRect().width || 1);
      const given = ends().map(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
      ends().forEach(([x, y], i) => {
        dots[i].setAttribute("visibility", gauge.open && given[i] ? "visible" : "hidden");
        if (given[i]) for (const [k, v] of [["cx", x], ["cy", y], ["r", dot]]) dots[i].setAttribute(k, v);
      });
      const both = gauge.open && given[0] && given[1];
      for (const l of [under, line]) {
        l.setAttribute("visibility", both && by() === "points" ? "visible" : "hidden");
        if (both) for (const k of ["x1", "y1", "x2", "y2"]) l.setAttribute(k, value(k));
      }
      box.setAttribute("visibility", both && by() !== "points" ? "visible" : "hidden");
      if (both) {
        const [[x1, y1], [x2, y2]] = ends();
        for (const [k, v] of [["x", Math.min(x1, x2)], ["y", Math.min(y1, y2)], ["width", Math.abs(x2 - x1)], ["height", Math.abs(y2 - y1)]])
          box.setAttribute(k, v);
      }
    };
    const toggle = () => {
      // The whole picture is needed to show where the ruler lies.
      svg.setAttribute("viewBox", gauge.open ? "0 0 " + whole.getAttribute("width") + " " + whole.getAttribute("height") : narrow);
      svg.classList.toggle("gauging", gauge.open);
      svg.classList.toggle("boxing", gauge.open && by() !== "points");
      layer.setAttribute("visibility", gauge.open ? "visible" : "hidden");
      show();
    };
    const place = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const set = (n, p) => {
      form.elements["x" + n].value = p.x.toFixed(1);
      form.elements["y" + n].value = p.y.toFixed(1);
    };
    const busy = (event) => !gauge.open || svg.classList.contains("laying") || event.target.classList.contains("handle");
    let second = false, from = null, dragged = false;
    svg.addEventListener("pointerdown", (event) => {
      dragged = false;
      if (busy(event) || by() === "points") return;
      from = { x: event.clientX, y: event.clientY, at: place(event) };
      svg.setPointerCapture(event.pointerId);
      event.preventDefault();
    });
    svg.addEventListener("pointermove", (event) => {
      if (!from || Math.hypot(event.clientX - from.x, event.clientY - from.y) < 8 && !dragged) return;
      dragged = true;
      set("1", from.at);
      set("2", place(event));
      show();
    });
    for (const over of ["pointerup", "pointercancel"]) svg.addEventListener(over, () => { from = null; });
    svg.addEventListener("click", (event) => {
      if (busy(event) || dragged) return;
      if (by() !== "points") second = false;
      set(second ? "2" : "1", place(event));
      if (!second) form.elements.x2.value = form.elements.y2.value = "";
      second = !second;
      show();
    });
    form.addEventListener("input", toggle);
    gauge.addEventListener("toggle", toggle);
    addEventListener("resize", show);
    toggle();
  }
}
