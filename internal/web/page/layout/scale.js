// Two presses on the photograph set the points of a scale; the form's fields
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
    form.querySelector(".scalehint").textContent =
      "Press two points in the picture whose distance you know, on a ruler or at the two sides of a coin that lies as near to the camera as the yarn. Or give them in pixels across and down from the top left.";
    const layer = create("g", { class: "ends-of-scale", visibility: "hidden" });
    const line = create("line", {}), under = create("line", { class: "shade" });
    const dots = [create("circle", {}), create("circle", {})];
    layer.append(under, line, ...dots);
    svg.append(layer);
    const whole = svg.querySelector("image");
    const narrow = svg.getAttribute("viewBox");
    const value = (name) => parseFloat(form.elements[name].value);
    const ends = () => [[value("x1"), value("y1")], [value("x2"), value("y2")]];
    const show = () => {
      const dot = 5 * svg.viewBox.baseVal.width / (svg.getBoundingClientRect().width || 1);
      const given = ends().map(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
      ends().forEach(([x, y], i) => {
        dots[i].setAttribute("visibility", gauge.open && given[i] ? "visible" : "hidden");
        if (given[i]) for (const [k, v] of [["cx", x], ["cy", y], ["r", dot]]) dots[i].setAttribute(k, v);
      });
      const both = gauge.open && given[0] && given[1];
      for (const l of [under, line]) {
        l.setAttribute("visibility", both ? "visible" : "hidden");
        if (both) for (const k of ["x1", "y1", "x2", "y2"]) l.setAttribute(k, value(k));
      }
    };
    const toggle = () => {
      // The whole picture is needed to show where the ruler lies.
      svg.setAttribute("viewBox", gauge.open ? "0 0 " + whole.getAttribute("width") + " " + whole.getAttribute("height") : narrow);
      svg.classList.toggle("gauging", gauge.open);
      layer.setAttribute("visibility", gauge.open ? "visible" : "hidden");
      show();
    };
    let second = false;
    svg.addEventListener("click", (event) => {
      if (!gauge.open || svg.classList.contains("laying") || event.target.classList.contains("handle")) return;
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      const n = second ? "2" : "1";
      form.elements["x" + n].value = p.x.toFixed(1);
      form.elements["y" + n].value = p.y.toFixed(1);
      if (!second) form.elements.x2.value = form.elements.y2.value = "";
      second = !second;
      show();
    });
    form.addEventListener("input", show);
    gauge.addEventListener("toggle", toggle);
    addEventListener("resize", show);
    toggle();
  }
}
