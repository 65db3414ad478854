// Words over the picture kept apart, by the rules of every other picture: none over another, a tyre or the edge.
(function () {
  "use strict";
  const APART = 3;  // px between words, and to the edge
  const RINGS = 16, SPOKES = 16, WIDER = 1.6;  // places tried round about a word's own, further apart sideways
  const NEAR = 8, FAR = 40;  // how far at most, in half its heights: for a place that hides nothing, and for any

  const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > -APART && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > -APART;

  const moved = (a, x, y) => ({ ...a, left: a.left + x, right: a.right + x, top: a.top + y, bottom: a.bottom + y });

  /** The same inside a room that it fits into. */
  function kept(a, room) {
    const x = Math.max(room.left - a.left, 0) || Math.min(room.right - a.right, 0);
    const y = Math.max(room.top - a.top, 0) || Math.min(room.bottom - a.bottom, 0);
    return x || y ? moved(a, x, y) : a;
  }

  const PLACES = [{ x: 0, y: 0, far: 0 }];
  for (let ring = 1; ring < RINGS; ring++) {
    for (let spoke = 0; spoke < SPOKES; spoke++) {
      const turn = 2 * Math.PI * spoke / SPOKES - Math.PI / 2, x = WIDER * ring * Math.cos(turn), y = ring * Math.sin(turn);
      PLACES.push({ x, y, far: Math.hypot(x, y) });
    }
  }
  PLACES.sort((a, b) => a.far - b.far);

  function free(box, placed, hides, room) {
    if (box.right - box.left > room.right - room.left || box.bottom - box.top > room.bottom - room.top) return null;
    const near = kept(box, room), step = (box.bottom - box.top) / 2 + APART;
    for (const [far, taken] of [[NEAR, [...placed, ...hides]], [FAR, placed]]) {
      for (const place of PLACES) {
        if (place.far > far) break;
        const tried = kept(moved(near, step * place.x, step * place.y), room);
        if (!taken.some((other) => over(tried, other))) return tried;
      }
    }
    return null;
  }

  /** The boxes moved as little as may be, near by off what they would hide; null for one that has no place. */
  function apart(boxes, hides, wide, high) {
    const room = { left: APART, top: APART, right: wide - APART, bottom: high - APART }, placed = [], found = [];
    for (const box of boxes) {
      const place = free(box, placed, hides, room);
      if (place) placed.push(place);
      found.push(place);
    }
    return found;
  }

  window.lockarc.apart = apart;
})();
