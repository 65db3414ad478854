// What a setting changes beside its bushes: numbers of a corner, of the whole kart, and ballast.
(function () {
  "use strict";
  const PLACES = ["ahead of the rear axle", "to the left", "above the floor"];

  window.lockarc.parts["lockarc-changes"] = {
    props: ["slotName", "slot", "sides", "page"],
    emits: ["change"],
    data: () => ({ places: PLACES }),
    methods: {
      corner(side) { return this.slot[side === "right" ? "right" : "left"]; },
      /** The number typed; where it is none, what stood there stands there again. */
      typed(event, before) {
        const value = event.target.valueAsNumber;
        if (Number.isFinite(value)) return value;
        event.target.value = before;
        return null;
      },
      say(change) { this.$emit("change", { slot: this.slotName, ...change }); },
      setCorner(event, side, key) {
        const value = this.typed(event, this.corner(side)[key]);
        if (value !== null) this.say({ kind: "corner", key, value, sides: side === "both" ? ["left", "right"] : [side] });
      },
      setKart(event, key) {
        const value = this.typed(event, this.slot.kart[key]);
        if (value !== null) this.say({ kind: "kart", key, value });
      },
      setBallast(event, place) {
        const now = this.slot.ballast;
        const value = this.typed(event, place < 0 ? now.mass_kg : now.at_mm[place]);
        if (value === null) return;
        this.say({ kind: "ballast", mass_kg: place < 0 ? value : now.mass_kg, at_mm: now.at_mm.map((mm, i) => (i === place ? value : mm)) });
      },
    },
    template: `
      <details class="more">
        <summary>Spacers, hubs and joints of {{ slotName }}</summary>
        <template v-for="side in sides"><label v-for="c in page.at_a_corner" :key="side + c.key"><span>{{ side === "both" ? "" : side + ": " }}{{ c.told }}, {{ c.unit }}</span>
          <input type="number" step="any" :value="corner(side)[c.key]" @change="setCorner($event, side, c.key)"></label></template>
      </details>
      <details class="more">
        <summary>Whole kart of {{ slotName }}: axle, track, tyres, frame, seat, ballast</summary>
        <label v-for="c in page.on_the_kart" :key="c.key"><span>{{ c.told }}, {{ c.unit }}</span>
          <input type="number" step="any" :value="slot.kart[c.key]" @change="setKart($event, c.key)"></label>
        <label><span>ballast put on, - taken off, kg</span>
          <input type="number" step="any" :value="slot.ballast.mass_kg" @change="setBallast($event, -1)"></label>
        <label v-for="(way, i) in places" :key="way"><span>ballast {{ way }}, mm</span>
          <input type="number" step="any" :value="slot.ballast.at_mm[i]" @change="setBallast($event, i)"></label>
        <p class="key">Not modelled, which is not without effect: {{ page.not_modelled.join("; ") }}.</p>
      </details>`,
  };
})();
