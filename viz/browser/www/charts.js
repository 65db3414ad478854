// The charts: drawn by the program, with a cursor that follows the lock and its values written below.
(function () {
  "use strict";
  const { format } = window.lockarc;

  window.lockarc.parts["lockarc-chart"] = {
    props: ["chart", "drawing", "lock", "index", "values"],
    emits: ["seek"],
    mounted() { this.follow(); },
    watch: {
      index() { this.follow(); },
      drawing() { this.$nextTick(this.follow); },
    },
    methods: {
      format: () => format,
      x(cursor) {
        const from = Number(cursor.dataset.from), to = Number(cursor.dataset.to);
        const share = (this.lock[this.index] - this.lock[0]) / (this.lock[this.lock.length - 1] - this.lock[0]);
        return from + share * (to - from);
      },
      follow() {
        const cursor = this.$refs.drawing.querySelector(".cursor");
        if (!cursor) return;
        const x = this.x(cursor).toFixed(1);
        cursor.setAttribute("x1", x);
        cursor.setAttribute("x2", x);
      },
      seek(event) {
        const svg = this.$refs.drawing.querySelector("svg"), cursor = svg.querySelector(".cursor");
        const box = svg.getBoundingClientRect(), x = (event.clientX - box.left) / box.width * svg.viewBox.baseVal.width;
        const from = Number(cursor.dataset.from), to = Number(cursor.dataset.to);
        const share = Math.min(1, Math.max(0, (x - from) / (to - from)));
        this.$emit("seek", Math.round(share * (this.lock.length - 1)));
      },
    },
    template: `
      <figure class="graph">
        <figcaption>{{ chart.title }}, {{ chart.unit }}</figcaption>
        <div ref="drawing" v-html="drawing" @click="seek"></div>
        <p class="values"><span v-for="v in values">{{ v.what }} <b>{{ v.text }}</b></span></p>
      </figure>`,
  };
})();
