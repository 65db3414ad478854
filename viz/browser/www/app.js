// The page: what is fitted, the lock, the picture, charts and tables, and the talk with the program.
(function () {
  "use strict";
  const { inject, markRaw, shallowRef } = window.Vue;
  const { format, scene, save } = window.lockarc;
  const STEP_MS = 60, LINE = 2;
  const COARSE = { over: 1, side: 0.6 };  // pixels drawn for one on the page, each way, while a processor alone moves the kart

  window.lockarc.parts["lockarc-page"] = {
    setup() {
      return { trame: inject("trame"), page: shallowRef(null), now: shallowRef(null), karts: shallowRef({ A: [], B: [], edges: [] }) };
    },
    data: () => ({
      refused: "", slot: "A", linked: true, index: 0, playing: false, busy: false, together: "over", split: false,
      wish: "auto", prefersDark: matchMedia("(prefers-color-scheme: dark)").matches, view: "overview", said: "",
    }),
    created() { this.meshes = new Map(); this.last = {}; this.line = {}; this.queue = []; this.timer = 0; },
    async mounted() {
      try { this.wish = localStorage.getItem("lockarc-theme") || "auto"; } catch { /* storage may be switched off */ }
      matchMedia("(prefers-color-scheme: dark)").addEventListener("change", (e) => { this.prefersDark = e.matches; });
      const first = await this.trame.trigger("hello");
      this.page = first.page;
      this.shell = first.saved;
      this.refused = first.refused;
      this.index = this.page.lock_deg.reduce((best, d, i, all) => (Math.abs(d) < Math.abs(all[best]) ? i : best), 0);
      this.take(first.now);
      this.$nextTick(() => setTimeout(() => document.documentElement.setAttribute("data-ready", "yes"), 150));
    },
    beforeUnmount() { clearInterval(this.timer); },
    watch: {
      theme: { immediate: true, handler(name) { document.documentElement.dataset.theme = name; if (this.now) this.dress(); } },
      together(how) { this.split = this.split || how === "side"; this.dress(); },
    },
    computed: {
      theme() { return this.wish === "auto" ? (this.prefersDark ? "dark" : "light") : this.wish; },
      paper() { return this.page.themes[this.theme].paper; },
      lock() { return this.page.lock_deg[this.index]; },
      lockWords() { return format.lock(this.lock); },
      slots() { return this.now.slots; },
      sides() { return this.linked ? ["both"] : ["left", "right"]; },
      notes() { return Object.fromEntries(this.page.settings.map((s) => [s.name, s.note])); },
      at() {
        const row = (table) => Object.fromEntries(Object.entries(table).map(([name, values]) => [name, values[this.index]]));
        return { A: row(this.now.through.A), B: row(this.now.through.B) };
      },
      camera() {
        const kept = this.now.karts.A.cameras[this.view] || this.now.karts.B.cameras[this.view];
        return kept && {
          position: kept.position, focalPoint: kept.focus, viewUp: kept.up, viewAngle: 28,
          parallelProjection: kept.parallel > 0, parallelScale: kept.parallel || 1,
        };
      },
      /** The second view stays once it has been asked for. */
      views() {
        const label = (name) => `Kart with setting ${name}, ${this.slots[name].title}, handwheel ${this.lockWords}, ${this.now.case}`;
        const side = this.together === "side", { A, B } = this.slots;
        const first = side ? { title: "A · " + A.title, what: label("A") }
          : { title: `A solid · ${A.title}`, second: `B outlined · ${B.title}`, what: `${label("A")}; over it in outline B, ${B.title}` };
        const views = [{ name: "A", shown: true, ...first, bodies: [...this.karts.A, ...this.karts.edges], labels: this.labels("A") }];
        if (this.split) views.push({ name: "B", shown: side, title: "B · " + B.title, what: label("B"), bodies: this.karts.B, labels: this.labels("B") });
        return views;
      },
      /** How A and B stand at this lock position, in a line each. */
      stands() {
        return ["A", "B"].map((name) => {
          const kart = this.now.karts[name], at = kart.at[this.index];
          return { name, text: at < 0 ? (kart.notes.length ? "a tie rod binds here" : "not drawn") : kart.notes[at], tips: at >= 0 && kart.tips[this.index] };
        });
      },
      coarse() { return COARSE[this.together]; },
      captions() {
        return [
          `A: ${this.slots.A.title}; B: ${this.slots.B.title}`,
          `Handwheel ${this.lockWords}; load case ${this.now.case}; ${this.now.stated}`,
          ...this.stands.map((s) => `${s.name}: ${s.text}`),
        ];
      },
    },
    methods: {
      format: () => format,
      labels(name) {
        const kart = this.now.karts[name];
        return kart.labels.map((w) => ({ texts: w.texts, role: w.role, shift: w.shift, views: w.views, at: kart.at, points: scene.array(w.points, Float32Array) }));
      },
      /** One change at a time; of what waits only the newest of a kind is kept. */
      async ask(change) {
        const same = (c) => c.kind === change.kind && c.slot === change.slot && c.seat === change.seat && c.key === change.key && String(c.sides) === String(change.sides);
        this.queue = [...this.queue.filter((c) => !same(c)), change];
        if (this.busy) return;
        this.busy = true;
        try {
          while (this.queue.length) {
            const answer = await this.trame.trigger("change", [this.queue.shift()]);
            this.refused = answer.refused;
            if (answer.now) this.take(answer.now);
            else this.now = { ...this.now };
          }
        } catch (error) {
          this.queue = [];
          this.refused = "The program could not do that; nothing was changed.";
        } finally {
          this.busy = false;
        }
      },
      take(now) {
        if (now.fresh) {  // drop all meshes but those of a kart that is hidden just now
          const worn = new Set(Object.values(this.last).flat().flatMap((k) => [...k.solid, ...k.outline].map((b) => b.mesh)));
          for (const key of this.meshes.keys()) if (!worn.has(key)) this.meshes.delete(key);
        }
        for (const [key, mesh] of Object.entries(now.meshes)) this.meshes.set(key, scene.unpacked(mesh));
        this.now = now;
        this.dress();
        document.documentElement.dataset.answers = String(Number(document.documentElement.dataset.answers || 0) + 1);
      },
      /** Bodies in the present colours: A and B solid, and B as edges to lay over A. */
      dress() {
        const over = this.together === "over";
        if (this.line.theme !== this.theme) {
          const property = { color: scene.rgb(this.page.themes[this.theme].second), lineWidth: 1, lighting: false };
          this.line = markRaw({ theme: this.theme, wide: LINE, mapper: { scalarVisibility: false }, property });
        }
        const solid = (name) => this.bodies(name, "solid", (kept, body) => ({ ...kept, ...scene.surface(body), visible: true, colours: this.colours(kept.mesh) }));
        const edges = this.bodies("B", "outline", (kept) => ({ ...kept, ...this.line, visible: over }));
        this.karts = { A: solid("A"), B: this.split ? solid("B") : [], edges };
      },
      /** A kart's bodies for the view. One that reaches no lock position keeps its last shape and is hidden. */
      bodies(name, how, dressed) {
        const kart = this.now.karts[name];
        if (kart.solid.length) this.last[name] = kart;
        return (this.last[name]?.[how] || []).map((body) => dressed({
          id: `${name}-${how}-${body.name}`, mesh: this.meshes.get(body.mesh), at: kart.at,
          moves: scene.array(body.moves, Float32Array), seen: scene.array(body.seen, Uint8Array), views: body.views,
        }, body));
      },
      colours(mesh) {
        if (mesh.theme !== this.theme) { mesh.colours = scene.coloured(mesh, this.page.themes[this.theme].palette); mesh.theme = this.theme; }
        return mesh.colours;
      },
      pick(side, seat, bush) { this.ask({ kind: "bush", slot: this.slot, sides: side === "both" ? ["left", "right"] : [side], seat, ...bush }); },
      bush(side, seat) { return this.slots[this.slot][side === "right" ? "right" : "left"][seat]; },
      rods() {
        const { left, right } = this.slots[this.slot];
        return left.rod_length_mm !== null || right.rod_length_mm !== null ? "length" : left.toe_deg === null ? "kept" : "toe";
      },
      setRods(event) {
        if (event.target.value === "length") return;
        this.ask({ kind: "rod", slot: this.slot, sides: ["left", "right"], toe_deg: event.target.value === "toe" ? -0.1 : null });
      },
      setToe(event) {
        const toe = event.target.valueAsNumber;
        if (Number.isFinite(toe)) this.ask({ kind: "rod", slot: this.slot, sides: ["left", "right"], toe_deg: toe });
      },
      setting(name, event) { this.ask({ kind: "setting", slot: name, name: event.target.value }); },
      seek(index) { this.index = index; },
      play() {
        this.playing = !this.playing;
        clearInterval(this.timer);
        let way = 1;
        if (this.playing) {
          this.timer = setInterval(() => {
            if (this.index + way < 0 || this.index + way >= this.page.lock_deg.length) way = -way;
            this.index += way;
          }, STEP_MS);
        }
      },
      look(name) { this.view = name; this.$nextTick(() => this.$refs.views[0].look(this.camera)); },
      /** What one view sees the other sees too. */
      linkedLook(from, state) {
        const views = this.$refs.views || [];
        views.forEach((view, i) => { if (i !== from && view.shown) view.look(state, true); });
      },
      dressIn(wish) { this.wish = wish; try { localStorage.setItem("lockarc-theme", wish); } catch { /* as above */ } },
      values(chart) {
        const shown = this.page.through.filter((s) => chart.names.includes(s.name));
        return ["A", "B"].flatMap((slot) => shown.map((s) => {
          const side = s.name.includes("_left_") ? " left" : s.name.includes("_right_") ? " right" : "";
          return { what: slot + side, text: format.number(this.at[slot][s.name], s.decimals) };
        }));
      },
      picture() {
        const ink = getComputedStyle(document.body).color;
        return save.picture(this.$refs.views.filter((view) => view.shown), this.captions, this.paper, ink);
      },
      async saveWith(doing, done) {
        try { await doing(); this.said = done; } catch (error) { this.refused = `It could not be saved: ${error.message}.`; }
      },
      savePicture() { return this.saveWith(async () => save.download("lockarc.png", await this.picture()), "Picture saved."); },
      savePage() {
        return this.saveWith(async () => {
          const parts = [...this.$el.querySelectorAll(".graph, table.numbers, .safety")].map((e) => e.outerHTML);
          const text = await save.whole(this.shell, document.title, await this.picture(), this.captions, parts);
          const address = URL.createObjectURL(new Blob([text], { type: "text/html" }));
          save.download("lockarc.html", address);
          setTimeout(() => URL.revokeObjectURL(address), 10000);
        }, "Page saved.");
      },
      saveData(kind) { save.download(`lockarc.${kind}`, `${window.location.pathname}data.${kind}`); this.said = `Data asked for as ${kind.toUpperCase()}.`; },
    },
    template: `
      <main v-if="!now" class="plain"><p role="status">Setting up the kart …</p></main>
      <div v-else class="page">
        <header>
          <h1>{{ page.title }}</h1>
          <div class="row" role="group" aria-label="Colours">
            <button v-for="w in ['auto', 'light', 'dark']" type="button" :aria-pressed="wish === w" @click="dressIn(w)">{{ w }}</button>
          </div>
        </header>
        <main>
          <p class="refused" role="alert" v-if="refused">{{ refused }} <button type="button" @click="refused = ''">Dismiss</button></p>
          <section class="stage" aria-label="Kart through lock">
            <div class="pictures" :class="together">
              <div v-for="(v, i) in views" :key="v.name" v-show="v.shown" class="picture" :class="v.name">
                <p class="title"><span>{{ v.title }}</span><span v-if="v.second" class="second">{{ v.second }}</span></p>
                <lockarc-view ref="views" :bodies="v.bodies" :index="index" :labels="v.labels" :paper="paper" :camera="camera" :view="view" :what="v.what" :shown="v.shown" :coarse="coarse"
                  @camera="(s) => linkedLook(i, s)"></lockarc-view>
              </div>
            </div>
            <div class="lock">
              <button type="button" class="play" :aria-pressed="playing" @click="play">{{ playing ? "Pause" : "Play" }}</button>
              <label class="slide">Handwheel <output>{{ lockWords }}</output>
                <input type="range" min="0" :max="page.lock_deg.length - 1" step="1" v-model.number="index" :aria-valuetext="lockWords"
                  aria-label="Handwheel angle, left is positive"></label>
            </div>
            <p v-for="s in stands" class="stands" :class="{ loud: s.tips }" :data-stands="s.name"><b>{{ s.name }}</b> {{ s.text }}</p>
            <p class="scale" :class="{ loud: now.twist !== 1 }" data-twist>{{ now.stated }}</p>
            <p class="key"><span v-for="line in page.legend">{{ line }}</span><span>dashed line: kingpin axis; bar on a bush: its clock</span></p>
            <div class="row wrap">
              <div class="row" role="group" aria-label="Look from">
                <button v-for="(c, name) in now.karts.A.cameras" type="button" :aria-pressed="view === name" @click="look(name)">{{ name.replace("_", " ") }}</button>
              </div>
              <div class="row" role="group" aria-label="A and B">
                <button type="button" :aria-pressed="together === 'over'" @click="together = 'over'">overlaid</button>
                <button type="button" :aria-pressed="together === 'side'" @click="together = 'side'">side by side</button>
              </div>
              <label>Twist and air drawn
                <select :value="now.twist" @change="ask({ kind: 'twist', times: Number($event.target.value) })">
                  <option v-for="t in page.twists" :value="t">×{{ t }}</option></select></label>
            </div>
          </section>
          <section class="fitted" aria-label="What is fitted">
            <label v-for="s in ['A', 'B']">Setting {{ s }}
              <select :value="slots[s].name" @change="setting(s, $event)" :data-slot="s">
                <option v-for="o in page.settings" :value="o.name">{{ o.name }}</option></select>
              <small>{{ slots[s].edited ? "Edited here. " : "" }}{{ notes[slots[s].name] }}</small></label>
            <label>Load case
              <select :value="now.case" @change="ask({ kind: 'case', name: $event.target.value })" data-case>
                <option v-for="c in page.cases" :value="c">{{ c }}</option></select></label>
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
            <div class="row wrap rods">
              <label>Tie rods of {{ slot }}
                <select :value="rods()" @change="setRods">
                  <option value="kept">kept as they were</option><option value="toe">re-set to a toe</option>
                  <option v-if="rods() === 'length'" value="length">a given length</option></select></label>
              <label v-if="rods() === 'toe'">Toe of each wheel, ° (+ in)
                <input type="number" step="any" :value="slots[slot].left.toe_deg" @change="setToe"></label>
            </div>
            <lockarc-changes :slot-name="slot" :slot="slots[slot]" :sides="sides" :page="page" @change="ask"></lockarc-changes>
          </section>
          <section class="graphs" aria-label="Charts against lock">
            <lockarc-chart v-for="c in page.charts" :key="c.key" :chart="c" :drawing="now.charts[c.key]" :lock="page.lock_deg" :index="index"
              :values="values(c)" @seek="seek"></lockarc-chart>
          </section>
          <section class="tables" aria-label="Numbers" tabindex="0">
            <lockarc-table kind="lock" :caption="'At this lock (' + lockWords + '), ' + now.case" :shown="page.through" :a="at.A" :b="at.B"></lockarc-table>
            <lockarc-table kind="headline" caption="Straight ahead, frame held still" :shown="page.headline" :a="now.headline.A" :b="now.headline.B"></lockarc-table>
          </section>
          <section class="notices" v-if="now.notices.length" aria-label="Look at these"><ul><li v-for="n in now.notices">{{ n }}</li></ul></section>
          <section class="saving" aria-label="Save">
            <button type="button" @click="savePicture">Save picture</button>
            <button type="button" @click="savePage">Save page</button>
            <button type="button" @click="saveData('csv')">Save data, CSV</button>
            <button type="button" @click="saveData('json')">Save data, JSON</button>
            <span role="status">{{ said }}</span>
          </section>
        </main>
        <footer class="safety">
          <p v-for="c in page.cautions">{{ c }}</p>
        </footer>
      </div>`,
  };
})();
