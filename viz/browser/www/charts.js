// The charts: drawn by the program, with a cursor that follows the lock, and values at it or under the pointer.
(function () {
  "use strict";
  const { format } = window.lockarc;
  const FAR = 10;  // lock positions that the page keys go at once

  window.lockarc.parts["lockarc-chart"] = {
    props: ["chart", "drawing", "lock", "index", "through", "quantities", "shaded"],
    emits: ["seek"],
    data: () => ({ pointed: null, edge: null }),
    mounted() { this.follow(); },
    watch: {
      index() { this.follow(); },
      drawing() { this.$nextTick(this.follow); },
    },
    computed: {
      last() { return this.lock.length - 1; },
      values() { return this.told(this.pointed ?? this.index); },
      spoken() { return `${this.words(this.index)}: ${this.told(this.index).map((v) => `${v.what} ${v.text}`).join(", ")}`; },
    },
    methods: {
      words(index) { return format.lock(this.lock[index]); },
      told(index) {
        const shown = this.quantities.filter((q) => this.chart.names.includes(q.name));
        return ["A", "B"].flatMap((slot) => shown.map((q) => {
          const side = q.name.includes("_left_") ? " left" : q.name.includes("_right_") ? " right" : "";
          return { what: slot + side, text: format.number(this.through[slot][q.name][index], q.decimals) };
        }));
      },
      /** Where the curves begin and end across the drawing, in its own units, and how wide that is. */
      place() {
        const svg = this.$refs.drawing.querySelector("svg"), cursor = svg?.querySelector(".cursor");
        return cursor && { svg, cursor, from: Number(cursor.dataset.from), to: Number(cursor.dataset.to), wide: svg.viewBox.baseVal.width };
      },
      x(index, { from, to }) { return from + (this.lock[index] - this.lock[0]) / (this.lock[this.last] - this.lock[0]) * (to - from); },
      follow() {
        const at = this.place();
        if (!at) return;
        const x = this.x(this.index, at).toFixed(1);
        at.cursor.setAttribute("x1", x);
        at.cursor.setAttribute("x2", x);
      },
      under(event) {
        const at = this.place();
        if (!at) return null;
        const box = at.svg.getBoundingClientRect(), x = (event.clientX - box.left) / box.width * at.wide;
        const share = Math.min(1, Math.max(0, (x - at.from) / (at.to - at.from)));
        return Math.round(share * this.last);
      },
      down(event) {
        if (event.button) return;
        event.currentTarget.setPointerCapture?.(event.pointerId);
        this.held = true;
        this.move(event);
      },
      move(event) {
        const index = this.under(event);
        if (index === null) return;
        if (this.held) { this.leave(); this.$emit("seek", index); return; }
        if (event.pointerType === "touch") return;
        this.pointed = index;
        this.edge = `${100 * this.x(index, this.place()) / this.place().wide}%`;
      },
      up() { this.held = false; },
      leave() { this.pointed = this.edge = null; },
      key(event) {
        const to = {
          ArrowRight: this.index + 1, ArrowUp: this.index + 1, ArrowLeft: this.index - 1, ArrowDown: this.index - 1,
          PageUp: this.index + FAR, PageDown: this.index - FAR, Home: 0, End: this.last,
        }[event.key];
        if (to === undefined) return;
        event.preventDefault();
        this.leave();
        this.$emit("seek", Math.min(this.last, Math.max(0, to)));
      },
    },
    template: `
      <figure class="graph" :data-chart="chart.key">
        <figcaption>{{ chart.title }}, {{ chart.unit }}</figcaption>
        <div class="plot" role="slider" tabindex="0" :aria-label="chart.title + ', ' + chart.unit + ', at handwheel'" aria-orientation="horizontal"
          :aria-valuemin="lock[0]" :aria-valuemax="lock[last]" :aria-valuenow="lock[index]" :aria-valuetext="spoken"
          @keydown="key" @pointerdown="down" @pointermove="move" @pointerup="up" @pointercancel="up(); leave()" @pointerleave="leave">
          <div ref="drawing" v-html="drawing"></div>
          <i v-if="edge" class="pointed" :style="{ left: edge }"></i>
        </div>
        <p class="values"><span class="where">{{ words(pointed ?? index) }}</span><span v-for="v in values">{{ v.what }} <b>{{ v.text }}</b></span></p>
        <p v-if="shaded" class="key">shade: {{ shaded }}</p>
      </figure>`,
  };
})();
