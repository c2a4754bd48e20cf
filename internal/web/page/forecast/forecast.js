// Each number gets a slider beside it, and the answer follows while it moves. The
// page without script has the same form and a button.
"use strict";
const asks = document.getElementById("asks");
let waiting, asked = 0;
const follow = async () => {
  const turn = ++asked;
  const address = asks.action + "?" + new URLSearchParams(new FormData(asks));
  const reply = await fetch(address);
  if (turn !== asked) return;
  const page = new DOMParser().parseFromString(await reply.text(), "text/html");
  const answer = page.getElementById("answer");
  if (!answer) return;
  document.getElementById("answer").replaceWith(answer);
  history.replaceState(null, "", address);
};
const soon = () => {
  clearTimeout(waiting);
  waiting = setTimeout(follow, 150);
};
for (const field of asks.querySelectorAll("[data-slide]")) {
  const [min, max, step] = field.dataset.slide.split(" ");
  const slider = document.createElement("input");
  Object.assign(slider, { type: "range", min, max, step, value: field.value || max / 2 });
  slider.setAttribute("aria-label", field.closest("label").firstChild.textContent.trim() + ", slider");
  slider.addEventListener("input", () => { field.value = slider.value; soon(); });
  field.addEventListener("input", () => { if (field.value) slider.value = field.value; soon(); });
  const label = field.closest("label"), cell = document.createElement("div");
  label.replaceWith(cell);
  cell.append(label, slider);
}
asks.addEventListener("change", soon);
