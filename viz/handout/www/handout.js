"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const by = (id) => document.getElementById(id);
  const slots = Object.keys(data.pictures.light);
  const slider = by("lock"), play = by("play"), root = document.documentElement;
  const rows = [...document.querySelectorAll("#live tbody tr")].map((row) => [...row.querySelectorAll("td")]);
  const cursors = [...document.querySelectorAll("svg.chart .cursor")];
  const last = data.at.length - 1;
  const night = window.matchMedia("(prefers-color-scheme: dark)");
  let stop = data.start, way = 1, timer = 0;

  const theme = () => root.dataset.theme || (night.matches ? "dark" : "light");

  const other = () => (theme() === "dark" ? "light" : "dark");

  function dress() {
    by("theme").textContent = other() === "dark" ? "Dark" : "Light";
    by("theme").setAttribute("aria-label", "Show the page " + other());
    for (const slot of slots) if (by("clock" + slot)) by("clock" + slot).src = data.clocks[theme()][slot][0];
    show(stop);
  }

  function show(next) {
    stop = Math.min(last, Math.max(0, next));
    slider.value = String(stop);
    slider.setAttribute("aria-valuetext", data.says[stop]);
    by("said").textContent = data.says[stop];
    for (const slot of slots) {
      const picture = data.pictures[theme()][slot][stop];
      by("binds" + slot).hidden = picture !== null;
      if (picture !== null) by("view" + slot).src = picture;
      by("view" + slot).classList.toggle("absent", picture === null);
    }
    for (const slot of slots) {
      const told = data.bars[slot][stop], parts = [...by("bar" + slot).children];
      let at = 0;
      parts.forEach((part, i) => {
        const wide = told === null ? 0 : told[0][i];
        part.setAttribute("x", String(at));
        part.setAttribute("width", String(wide));
        at += wide;
      });
      by("says" + slot).textContent = told === null ? "" : told[1];
    }
    rows.forEach((cells, i) => cells.forEach((cell, j) => { cell.textContent = data.numbers[i][j][stop]; }));
    for (const cursor of cursors) {
      const from = Number(cursor.dataset.from), to = Number(cursor.dataset.to);
      const x = String(from + data.at[stop] * (to - from));
      cursor.setAttribute("x1", x);
      cursor.setAttribute("x2", x);
    }
  }

  function halt() {
    clearInterval(timer);
    timer = 0;
    play.textContent = "Play";
    play.setAttribute("aria-pressed", "false");
  }

  function run() {
    timer = setInterval(() => {
      if (stop + way > last || stop + way < 0) way = -way;
      show(stop + way);
    }, 90);
    play.textContent = "Stop";
    play.setAttribute("aria-pressed", "true");
  }

  slider.addEventListener("input", () => { halt(); show(Number(slider.value)); });
  by("less").addEventListener("click", () => { halt(); show(stop - 1); });
  by("more").addEventListener("click", () => { halt(); show(stop + 1); });
  play.addEventListener("click", () => { if (timer) halt(); else run(); });

  const nearest = (share) => data.at.reduce((b, at, i) => (Math.abs(at - share) < Math.abs(data.at[b] - share) ? i : b), 0);
  for (const cursor of cursors) {
    const chart = cursor.ownerSVGElement;
    const follow = (event) => {
      if (event.buttons === 0 && event.type !== "pointerdown") return;
      const box = chart.getBoundingClientRect();
      const x = ((event.clientX - box.left) / box.width) * chart.viewBox.baseVal.width;
      const from = Number(cursor.dataset.from), to = Number(cursor.dataset.to);
      halt();
      show(nearest((x - from) / (to - from)));
    };
    chart.addEventListener("pointerdown", follow);
    chart.addEventListener("pointermove", follow);
  }

  by("theme").hidden = false;
  by("theme").addEventListener("click", () => {
    root.dataset.theme = other();
    dress();
  });
  night.addEventListener("change", dress);
  for (const id of ["lock", "less", "more", "play"]) by(id).disabled = false;
  root.dataset.ready = "";
  dress();
})();
