// One bush as a dial: the hole where it is, to be clicked, dragged, typed or moved with the arrow keys.
(function () {
  "use strict";
  const { format } = window.lockarc;
  const MIDDLE = 70, SEAT = 60, REACH = 34, HOLE = 17;

  window.lockarc.parts["lockarc-dial"] = {
    props: ["side", "seat", "bush", "sizes", "step", "slotName"],
    emits: ["pick"],
    data: () => ({ held: null }),
    computed: {
      now() { return this.held || this.bush; },
      largest() { return Math.max(3, ...this.sizes); },
      outward() { return this.side === "right" ? 1 : -1; },
      hole() {
        const turn = this.now.clock_deg * Math.PI / 180;
        const r = REACH * Math.min(this.now.size_deg / this.largest, 1.15);
        return { x: MIDDLE + this.outward * r * Math.sin(turn), y: MIDDLE - r * Math.cos(turn) };
      },
      rings() { return this.sizes.filter((s) => s > 0).map((s) => REACH * s / this.largest); },
      name() { return `${this.seat === "top" ? "Top" : "Bottom"} bush, ${this.side === "both" ? "both sides" : this.side}`; },
      spoken() {
        return this.now.size_deg === 0 ? "concentric"
          : `${this.now.size_deg} degrees, hole ${format.towards(this.now.clock_deg)}, clock ${this.now.clock_deg}`;
      },
    },
    methods: {
      format: () => format,
      picked(size, clock) {
        const turned = ((clock % 360) + 360) % 360;
        if (size !== this.bush.size_deg || turned !== this.bush.clock_deg) this.$emit("pick", { size_deg: size, clock_deg: turned });
      },
      at(event) {
        const box = this.$refs.face.getBoundingClientRect();
        const x = ((event.clientX - box.left) / box.width * 2 - 1) * MIDDLE * this.outward;
        const y = ((event.clientY - box.top) / box.height * 2 - 1) * MIDDLE;
        const reach = Math.hypot(x, y) / REACH * this.largest;
        const size = this.sizes.reduce((a, b) => (Math.abs(b - reach) < Math.abs(a - reach) ? b : a));
        const step = this.step || 1;
        const clock = Math.round(Math.atan2(x, -y) * 180 / Math.PI / step) * step;
        return { size_deg: size, clock_deg: size === 0 ? this.bush.clock_deg : ((clock % 360) + 360) % 360 };
      },
      down(event) { event.target.setPointerCapture?.(event.pointerId); this.held = this.at(event); },
      move(event) { if (this.held) this.held = this.at(event); },
      up() {
        const held = this.held;
        this.held = null;
        if (held) this.picked(held.size_deg, held.clock_deg);
      },
      key(event) {
        const step = this.step || 1, { size_deg: size, clock_deg: clock } = this.bush;
        const larger = this.sizes.find((s) => s > size), smaller = [...this.sizes].reverse().find((s) => s < size);
        const moves = {
          ArrowRight: [size, clock + step], ArrowLeft: [size, clock - step],
          ArrowUp: [larger ?? size, clock], ArrowDown: [smaller ?? size, clock],
          PageUp: [size, clock + 90], PageDown: [size, clock - 90], Home: [size, 0],
        };
        if (!(event.key in moves)) return;
        event.preventDefault();
        this.picked(...moves[event.key]);
      },
      typed(event, what) {
        const value = event.target.valueAsNumber;
        if (Number.isFinite(value)) {
          this.$emit("pick", { size_deg: this.bush.size_deg, clock_deg: this.bush.clock_deg, [what]: value });
        } else event.target.value = this.bush[what];
      },
    },
    template: `
      <fieldset class="dial">
        <legend>{{ name }}</legend>
        <svg ref="face" viewBox="0 0 140 140" role="slider" tabindex="0" :aria-label="name + ', where its hole is, setting ' + slotName"
          aria-valuemin="0" aria-valuemax="360" :aria-valuenow="now.clock_deg" :aria-valuetext="spoken"
          @pointerdown.prevent="down" @pointermove="move" @pointerup="up" @pointercancel="held = null" @keydown="key">
          <circle class="seat" cx="70" cy="70" r="60" />
          <path class="cross" d="M70 12V128M12 70H128" />
          <circle v-for="r in rings" class="ring" cx="70" cy="70" :r="r" />
          <line class="lead" x1="70" y1="70" :x2="hole.x" :y2="hole.y" />
          <circle class="hole" :cx="hole.x" :cy="hole.y" r="17" />
          <circle class="pin" :cx="hole.x" :cy="hole.y" r="2.5" />
          <text class="way" x="70" y="8" text-anchor="middle">front</text>
          <text class="way" x="70" y="8" text-anchor="middle" :transform="'rotate(' + 90 * outward + ' 70 70)'">out</text>
        </svg>
        <div class="typed">
          <label>Size, °<input type="number" step="any" min="0" max="14.9" :value="now.size_deg" @change="typed($event, 'size_deg')"
            :aria-label="name + ', rated size in degrees, setting ' + slotName"></label>
          <label>Clock, °<input type="number" step="any" :value="now.clock_deg" @change="typed($event, 'clock_deg')"
            :aria-label="name + ', clock in degrees, setting ' + slotName"></label>
          <p class="said odd" v-if="bush.odd">{{ bush.odd }}</p>
          <p class="said" v-if="bush.offset_mm !== null">given as {{ bush.offset_mm }} mm off centre</p>
          <p class="said" v-else>{{ now.size_deg === 0 ? "concentric" : "hole " + format().towards(now.clock_deg) }}</p>
        </div>
      </fieldset>`,
  };
})();
