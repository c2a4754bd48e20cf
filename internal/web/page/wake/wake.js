// The soak timer counts down to a moment that the server keeps, so a sleeping
// phone loses nothing; when it wakes, the count is right again.
"use strict";
const timer = document.querySelector(".timer[data-ends]");
if (timer) {
  const ends = Date.parse(timer.dataset.ends);
  const figures = timer.querySelector("span");
  const sound = document.getElementById("sound");
  let audio, rung = false;

  const ring = () => {
    for (let i = 0; i < 6; i++) {
      const tone = audio.createOscillator(), level = audio.createGain();
      const at = audio.currentTime + i * 0.7;
      tone.frequency.value = i % 2 ? 660 : 880;
      level.gain.setValueAtTime(0.0001, at);
      level.gain.exponentialRampToValueAtTime(0.5, at + 0.03);
      level.gain.exponentialRampToValueAtTime(0.0001, at + 0.6);
      tone.connect(level).connect(audio.destination);
      tone.start(at);
      tone.stop(at + 0.65);
    }
  };
  // Browsers allow sound only after a touch.
  sound.hidden = false;
  sound.addEventListener("click", async () => {
    audio = audio || new AudioContext();
    await audio.resume();
    sound.textContent = "It will ring";
    sound.setAttribute("aria-pressed", "true");
    if ("wakeLock" in navigator) navigator.wakeLock.request("screen").catch(() => {});
  });

  const tick = () => {
    const left = Math.max(0, Math.ceil((ends - Date.now()) / 1000));
    figures.textContent = Math.floor(left / 60) + ":" + String(left % 60).padStart(2, "0");
    document.title = left ? figures.textContent + " soaking" : "Soaked: read it now";
    if (left) return;
    clearInterval(clock);
    timer.classList.add("over");
    if (audio && !rung) {
      rung = true;
      ring();
      setInterval(ring, 20000);
    } else {
      location.reload();
    }
  };
  const clock = setInterval(tick, 500);
  tick();
}
