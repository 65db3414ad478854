"use strict";
(() => {
  const steps = [...document.querySelectorAll(".step")], by = (id) => document.getElementById(id);
  let now = 0;

  function show(next, moved) {
    now = Math.min(steps.length - 1, Math.max(0, next));
    steps.forEach((step, i) => { step.hidden = i !== now; });
    by("back").disabled = now === 0;
    by("next").disabled = now === steps.length - 1;
    if (moved) { steps[now].querySelector("h2").focus(); window.scrollTo(0, 0); }
  }

  for (const step of steps) step.querySelector("h2").tabIndex = -1;
  document.querySelector("nav").hidden = false;
  by("back").addEventListener("click", () => show(now - 1, true));
  by("next").addEventListener("click", () => show(now + 1, true));
  document.addEventListener("keydown", (event) => {
    if (event.target.closest("summary")) return;
    if (event.key === "ArrowRight" || event.key === "PageDown") show(now + 1, true);
    if (event.key === "ArrowLeft" || event.key === "PageUp") show(now - 1, true);
  });
  show(0, false);
  document.documentElement.dataset.ready = "";
})();
