// The answer follows while the wish is written: the same page is asked for with
// what stands in the form, and what it answers takes the place of what was there.
"use strict";
const plan = document.getElementById("plan");
let waiting, asked = 0;
const filled = () => {
  const all = new URLSearchParams();
  for (const [name, value] of new FormData(plan)) if (value.trim()) all.append(name, value);
  return all;
};
const follow = async () => {
  const turn = ++asked, address = plan.action + "?" + filled();
  const reply = await fetch(address).catch(() => null);
  if (turn !== asked) return;
  if (!reply) {
    document.getElementById("live-top").textContent = "The workbench does not answer, and what stands below is old. Start it again; what you wrote stays here.";
    return;
  }
  const page = new DOMParser().parseFromString(await reply.text(), "text/html");
  for (const old of document.querySelectorAll("[id^=live-]")) {
    const fresh = page.getElementById(old.id);
    if (fresh) old.replaceWith(fresh);
    else old.replaceChildren();
  }
  history.replaceState(null, "", address);
};
const soon = wait => {
  clearTimeout(waiting);
  waiting = setTimeout(follow, wait);
};
plan.addEventListener("input", e => { if (e.target.name !== "name") soon(250); });
plan.addEventListener("change", e => {
  if (e.target.name === "fabric") location.assign(plan.action + "?" + filled());
  else if (e.target.name !== "name") soon(0);
});
plan.classList.add("scripted");
