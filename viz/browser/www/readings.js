// Readings of the real kart: typed, listed, taken out, saved and opened as a file, with the kart that they mean.
(function () {
  "use strict";
  const { save } = window.lockarc;
  const KINDS = ["reading", "unread", "readings"], LOWER = 24;  // changes of readings; px between a wheel's labels
  const MOST_LINES = 64, LONGEST = 200;  // lines of a file that a message takes, and characters of each

  let count = 0;

  /** What the page has of readings: the fit is asked for anew when they have changed. */
  window.lockarc.fitting = {
    data: () => ({ isFitting: false, forgiving: false }),
    computed: {
      isOfReadings() { return KINDS.includes(this.refusedOf); },
      /** A label at the wheel that is read worst. */
      worstRead() {
        const worst = this.fit?.worst, on = worst && this.now.karts.A.labels.findIndex((label) => label.of === worst.wheel);
        if (!worst || on < 0) return [];
        const label = this.labels("A")[on];
        return [{ ...label, texts: label.texts.map(() => worst.text), shift: [label.shift[0], label.shift[1] + LOWER], role: "air" }];
      },
    },
    methods: {
      /** Each by itself: of two readings that wait neither takes the other's place. */
      askOfReadings(change) { this.ask({ ...change, key: `reading ${++count}` }); },
      refit(now) {
        const text = JSON.stringify(now.readings);
        if (text === (this.fitted || "[]")) return;
        this.fitted = text;
        this.askFit();
      },
      askFit() {
        this.isFitting = true;
        this.ask({ kind: "fit", forgiving: this.forgiving });
      },
      forgive(on) { this.forgiving = on; this.askFit(); },
      takeFit(fit) {
        this.fit = fit;
        this.isFitting = this.queue.some((c) => c.kind === "fit");
      },
      saveReadings() { save.download("readings.csv", `${window.location.pathname}readings.csv`); },
    },
  };

  window.lockarc.parts["lockarc-readings"] = {
    props: ["page", "now", "fit", "busy", "forgiving", "refused"],
    emits: ["ask", "save", "forgive"],
    data: () => ({ what: "scale_kg", where: "front_left", setting: "", handwheel: 0, under: "", shim: 10, value: "", open: false }),
    created() { this.setting = this.page.usual_setting; },
    watch: {
      what() { if (!this.kind.places.some((p) => p.name === this.where)) this.where = this.kind.places[0].name; },
      taken(now, before) { if (now.length > before.length) this.value = ""; },
    },
    computed: {
      kind() { return this.page.kinds.find((k) => k.name === this.what); },
      taken() { return this.now.readings; },
      saysMuch() { return this.fit && this.fit.bars.length > 0; },
    },
    methods: {
      words: (name) => name.replace("_", " "),
      add() {
        const number = (value) => (Number.isFinite(value) ? value : null);
        const under = this.under ? { under: this.under, under_mm: number(this.shim) } : {};
        this.$emit("ask", { kind: "reading", what: this.what, where: this.where, setting: this.setting, handwheel_deg: number(this.handwheel), value: number(this.value), ...under });
        this.$refs.value.focus();
      },
      takeOut(at) {
        this.$emit("ask", { kind: "unread", at });
        this.$refs.list.focus();
      },
      /** Lines of a file that hold readings: remarks stay behind. */
      async load(event) {
        const [file] = event.target.files;
        if (!file) return;
        const lines = (await file.text()).split(/\r?\n/).filter((line) => line.trim() && !line.startsWith("#"));
        event.target.value = "";
        const fits = lines.length <= MOST_LINES && lines.every((line) => line.length <= LONGEST);
        this.$emit("ask", { kind: "readings", lines: fits ? lines : null });
      },
    },
    template: `
      <section class="gauged" aria-label="Readings" :class="{ shut: !open }">
        <details class="more" @toggle="open = $event.target.open"><summary>Readings of your own kart: {{ taken.length }}</summary>
          <form class="reading" @submit.prevent="add">
            <label class="broad">Kind<select v-model="what"><option v-for="k in page.kinds" :key="k.name" :value="k.name">{{ k.what }}, {{ k.unit }}</option></select></label>
            <label>Where<select v-model="where"><option v-for="p in kind.places" :key="p.name" :value="p.name">{{ p.words }}</option></select></label>
            <label>Setting fitted<select v-model="setting"><option v-for="s in page.settings" :key="s.name" :value="s.name">{{ s.name }}</option></select></label>
            <label>Handwheel, ° (+ left)<input type="number" step="any" v-model.number="handwheel"></label>
            <label>Shim under<select v-model="under"><option value="">no wheel</option><option v-for="w in page.wheels" :key="w" :value="w">{{ words(w) }}</option></select></label>
            <label v-if="under">Shim, mm<input type="number" step="any" v-model.number="shim"></label>
            <label>Value, {{ kind.unit }}<input ref="value" type="number" step="any" v-model.number="value" data-value></label>
            <button type="submit">Add reading</button>
          </form>
          <p class="key">{{ kind.how }}</p>
          <p v-if="refused" class="refused" role="alert">{{ refused }}</p>
          <ol ref="list" class="taken" tabindex="-1" aria-label="Readings typed"><li v-for="(r, i) in taken" :key="i">
            <span>{{ r.words }}: <b>{{ r.value }}</b><small v-if="r.setting !== page.usual_setting"> {{ r.setting }}</small></span>
            <button type="button" :aria-label="'Take out reading ' + (i + 1) + ': ' + r.words" @click="takeOut(i)">Take out</button></li></ol>
          <div class="row wrap">
            <button type="button" :aria-disabled="!taken.length" @click="taken.length && $emit('save')">Save readings as file</button>
            <label class="file">Open a file of readings, CSV<input type="file" accept=".csv,text/csv" @change="load"></label>
          </div>
          <label class="tick"><input type="checkbox" :checked="forgiving" @change="$emit('forgive', $event.target.checked)"> a reading that fits badly counts less</label>
          <p class="key">Up to {{ page.most_readings }} readings, kept while this page is open and not in its address: save them as a file, which lockarc fit takes too. Undo and redo take them back as all else.</p>
        </details>
        <div class="fit" data-fit :aria-busy="busy">
          <p role="status" class="key" v-text="busy ? 'Working out the kart that the readings mean …' : ''"></p>
          <template v-if="fit && taken.length">
            <p v-if="fit.refused" class="refused">{{ fit.refused }}</p>
            <template v-if="saysMuch">
              <p v-for="(line, i) in fit.said" :class="{ agreement: !i }">{{ line }}</p>
              <lockarc-misses :bars="fit.bars"></lockarc-misses>
              <lockarc-bands v-if="fit.bands" :bands="fit.bands"></lockarc-bands>
            </template>
          </template>
        </div>
      </section>`,
  };
})();
