// Words over the picture kept from lying on each other and from running over its edge.
(function () {
  "use strict";
  const STEP = 3, FAR = 240;  // px: how a word is moved to find room, and how far at most

  const over = (a, b) => Math.abs(a.x - b.x) * 2 < a.wide + b.wide && Math.abs(a.y - b.y) * 2 < a.high + b.high;

  /** Boxes by their middles, moved up or down as little as it takes; the first ones stay where they are. */
  function apart(boxes, wide, high) {
    const placed = [];
    for (const box of boxes) {
      const x = Math.max(box.wide / 2, Math.min(wide - box.wide / 2, box.x));
      const fits = (y) => y >= box.high / 2 && y <= high - box.high / 2 && !placed.some((other) => over({ ...box, x, y }, other));
      let y = Math.max(box.high / 2, Math.min(high - box.high / 2, box.y));
      for (let off = 0; off <= FAR; off += STEP) {
        const free = [box.y - off, box.y + off].find(fits);
        if (free !== undefined) { y = free; break; }
      }
      placed.push({ ...box, x, y });
    }
    return placed;
  }

  window.lockarc.apart = apart;
})();
