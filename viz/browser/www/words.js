// Words at points of the picture, in the colours of what they name, each with a line to its point where it had to move.
(function () {
  "use strict";
  const { apart, format: { seenFrom } } = window.lockarc;
  const LINED = 6;  // px from which on a moved label has a line

  const MOST = 4000;  // texts whose size is kept
  const known = new Map();

  /** How wide and high a word on the page is, px: measured once for each text. */
  function size(word, text) {
    if (known.size > MOST) known.clear();
    if (!known.has(text)) known.set(text, [word.offsetWidth, word.offsetHeight]);
    return known.get(text);
  }

  /** Where points of the world are in a picture so many px wide and high; depth lies in -1..1 before the eye. */
  function lens(eye, wide, high) {
    const m = eye.getCompositeProjectionMatrix(wide / high, -1, 1);  // row by row
    const row = (i, x, y, z) => m[4 * i] * x + m[4 * i + 1] * y + m[4 * i + 2] * z + m[4 * i + 3];
    return (x, y, z) => {
      const w = row(3, x, y, z);
      return { x: (row(0, x, y, z) / w + 1) * wide / 2, y: (1 - row(1, x, y, z) / w) * high / 2, depth: row(2, x, y, z) / w };
    };
  }

  /** The boxes in the picture of what words keep off. */
  function hidden(bodies, index, view, seen) {
    const boxes = [];
    for (const body of bodies) {
      const at = body.at[index];
      if (!body.clear?.length || at < 0 || !body.visible || !body.seen[at] || !seenFrom(body.views, view)) continue;
      const m = body.moves.subarray(16 * at, 16 * at + 16);  // column by column
      for (let first = 0; first < body.clear.length; first += 24) {
        const box = { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity };
        for (let i = first; i < first + 24; i += 3) {
          const [a, b, c] = body.clear.subarray(i, i + 3);
          const { x, y } = seen(...[0, 1, 2].map((k) => m[k] * a + m[4 + k] * b + m[8 + k] * c + m[12 + k]));
          box.left = Math.min(box.left, x); box.right = Math.max(box.right, x);
          box.top = Math.min(box.top, y); box.bottom = Math.max(box.bottom, y);
        }
        boxes.push(box);
      }
    }
    return boxes;
  }

  const within = (n, low, high) => Math.min(Math.max(n, low), high);

  window.lockarc.words = {
    methods: {
      /** Labels over the picture, where their points are or near by. */
      write() {
        const { width: wide, height: high } = this.inner.container.getBoundingClientRect();
        const seen = lens(this.eye, wide, high), shown = [], spans = this.$refs.words.children;
        this.labels.forEach((label, i) => {
          const at = label.at[this.index], text = at < 0 || !seenFrom(label.views, this.view) ? "" : label.texts[at], word = spans[i];
          if (!word) return;
          if (word.textContent !== text) word.textContent = text;
          const point = text && seen(label.points[3 * at], label.points[3 * at + 1], label.points[3 * at + 2]);
          word.hidden = !(text && point.x > 0 && point.y > 0 && point.x < wide && point.y < high && Math.abs(point.depth) < 1);
          this.$refs.leads.children[i].setAttribute("visibility", "hidden");
          if (!word.hidden) shown.push({ i, label, word, text, point });
        });
        const boxes = shown.map((one) => ({ ...one, ...this.wanted(one) }));
        apart(boxes, hidden(this.bodies, this.index, this.view, seen), wide, high).forEach((place, n) => this.put(boxes[n], place));
      },
      /** Where a label would stand by itself. */
      wanted({ label, word, text, point }) {
        const [wide, high] = size(word, text), x = point.x + label.shift[0], y = point.y - label.shift[1];
        return { left: x - wide / 2, right: x + wide / 2, top: y - high / 2, bottom: y + high / 2 };
      },
      put({ i, word, point, left, top }, place) {
        word.hidden = !place;
        if (!place) return;
        word.style.transform = `translate(${place.left.toFixed(1)}px, ${place.top.toFixed(1)}px)`;
        const end = { x: within(point.x, place.left, place.right), y: within(point.y, place.top, place.bottom) };
        if (Math.hypot(place.left - left, place.top - top) <= LINED || Math.hypot(end.x - point.x, end.y - point.y) <= LINED) return;
        const lead = this.$refs.leads.children[i];
        for (const [name, value] of Object.entries({ x1: point.x, y1: point.y, x2: end.x, y2: end.y })) lead.setAttribute(name, value.toFixed(1));
        lead.setAttribute("visibility", "visible");
      },
    },
  };
})();
