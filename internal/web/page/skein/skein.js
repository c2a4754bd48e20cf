// A plain countdown for the bath. It lives on this page only; the bath itself is
// recorded by hand afterwards.
"use strict";
const bath = document.getElementById("washtimer");
if (bath) {
  bath.parentElement.hidden = false;
  const left = bath.parentElement.querySelector(".left");
  bath.addEventListener("click", async () => {
    const audio = new AudioContext();
    await audio.resume();
    bath.disabled = true;
    const ends = Date.now() + 20 * 60000;
    const clock = setInterval(() => {
      const seconds = Math.max(0, Math.round((ends - Date.now()) / 1000));
      left.textContent = Math.floor(seconds / 60) + ":" + String(seconds % 60).padStart(2, "0");
      if (seconds) return;
      clearInterval(clock);
      bath.disabled = false;
      for (let i = 0; i < 8; i++) {
        const tone = audio.createOscillator(), level = audio.createGain(), at = audio.currentTime + i * 0.7;
        tone.frequency.value = i % 2 ? 660 : 880;
        level.gain.setValueAtTime(0.4, at);
        level.gain.exponentialRampToValueAtTime(0.0001, at + 0.6);
        tone.connect(level).connect(audio.destination);
        tone.start(at);
        tone.stop(at + 0.65);
      }
    }, 500);
  });
}
