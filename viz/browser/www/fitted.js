// What is fitted: settings A and B, the load case, the bushes as dials, tie rods, and all else a setting changes.
(function () {
  "use strict";

  window.lockarc.parts["lockarc-fitted"] = {
    props: ["page", "now"],
    emits: ["ask"],
    data: () => ({ slot: "A", linked: true }),
    computed: {
      slots() { return this.now.slots; },
      sides() { return this.linked ? ["both"] : ["left", "right"]; },
      notes() { return Object.fromEntries(this.page.settings.map((s) => [s.name, s.note])); },
      moved() { return this.slots[this.slot].toe_moved; },
      rods() {
        const { left, right } = this.slots[this.slot];
        return left.rod_length_mm !== null || right.rod_length_mm !== null ? "length" : left.toe_deg === null ? "kept" : "toe";
      },
    },
    methods: {
      ask(change) { this.$emit("ask", change); },
      pick(side, seat, bush) { this.ask({ kind: "bush", slot: this.slot, sides: side === "both" ? ["left", "right"] : [side], seat, ...bush }); },
      bush(side, seat) { return this.slots[this.slot][side === "right" ? "right" : "left"][seat]; },
      setRods(event) {
        if (event.target.value === "length") return;
        this.ask({ kind: "rod", slot: this.slot, sides: ["left", "right"], toe_deg: event.target.value === "toe" ? -0.1 : null });
      },
      setToe(event) {
        const toe = event.target.valueAsNumber;
        if (Number.isFinite(toe)) this.ask({ kind: "rod", slot: this.slot, sides: ["left", "right"], toe_deg: toe });
      },
      setting(name, event) { this.ask({ kind: "setting", slot: name, name: event.target.value }); },
    },
    template: `
      <section class="fitted" aria-label="What is fitted">
        <label v-for="s in ['A', 'B']">Setting {{ s }}
          <select :value="slots[s].name" @change="setting(s, $event)" :data-slot="s">
            <option v-for="o in page.settings" :value="o.name">{{ o.name }}</option></select>
          <small>{{ slots[s].edited ? "Edited here. " : notes[slots[s].name] }} {{ slots[s].changes.join("; ") }}</small></label>
        <label>Load case
          <select :value="now.case" @change="ask({ kind: 'case', name: $event.target.value })" data-case>
            <option v-for="c in page.cases" :value="c">{{ c }}</option></select></label>
        <lockarc-undo :history="now.history" @ask="ask"></lockarc-undo>
        <h2>Bushes of {{ slot }}</h2>
        <div class="row wrap">
          <div class="row" role="group" aria-label="Setting to change">
            <button v-for="s in ['A', 'B']" type="button" :aria-pressed="slot === s" @click="slot = s">change {{ s }}</button>
          </div>
          <button type="button" @click="ask({ kind: 'copy', slot })">make {{ slot }} as {{ slot === "A" ? "B" : "A" }}</button>
        </div>
        <label class="tick"><input type="checkbox" v-model="linked"> left and right alike</label>
        <div class="dials">
          <template v-for="side in sides"><lockarc-dial v-for="seat in ['top', 'bottom']" :key="side + seat" :side="side" :seat="seat" :slot-name="slot"
            :bush="bush(side, seat)" :sizes="page.sizes_deg" :step="page.clock_step_deg" @pick="(b) => pick(side, seat, b)"></lockarc-dial></template>
        </div>
        <p class="key">Seen along the kingpin from above, the hole's offset drawn large. Arrow keys: left and right turn, up and down change the size.</p>
        <p v-if="moved" class="moved" role="status" data-toe>{{ moved.line }}
          <button type="button" @click="ask({ kind: 'toe', slot, left_deg: moved.left_deg, right_deg: moved.right_deg })">set toe back to {{ moved.was }}</button></p>
        <div class="row wrap rods">
          <label>Tie rods of {{ slot }}
            <select :value="rods" @change="setRods">
              <option value="kept">kept as they were</option><option value="toe">re-set to a toe</option>
              <option v-if="rods === 'length'" value="length">a given length</option></select></label>
          <label v-if="rods === 'toe'">Toe of each wheel, ° (+ in)
            <input type="number" step="any" :value="slots[slot].left.toe_deg" @change="setToe"></label>
        </div>
        <lockarc-changes :slot-name="slot" :slot="slots[slot]" :sides="sides" :page="page" @change="ask"></lockarc-changes>
      </section>`,
  };
})();
