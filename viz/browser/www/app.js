// The page: what is fitted, the lock, the picture, charts and tables, and the talk with the program.
(function () {
  "use strict";
  const { inject, shallowRef } = window.Vue;
  const { address, cornered, dressing, eye, fitting, format, save, scene, teaching } = window.lockarc;
  const STEP_MS = 60, SHADE_MS = 400;
  const COARSE = { over: 1, side: 0.6 };  // pixels drawn for one on the page, each way, while a processor alone moves the kart

  window.lockarc.parts["lockarc-page"] = {
    mixins: [dressing, cornered, fitting, teaching],
    setup() {
      return { trame: inject("trame"), fit: shallowRef(null), page: shallowRef(null), now: shallowRef(null), shaded: shallowRef(null), corner: shallowRef(null), lesson: shallowRef(null), lastLesson: shallowRef(null), karts: shallowRef({ A: [], B: [], edges: [] }) };
    },
    data: () => ({
      refused: "", refusedOf: "", index: 0, shown: [], shades: false,  playing: false, busy: false, together: "over", split: false,
      wish: "auto", prefersDark: matchMedia("(prefers-color-scheme: dark)").matches, view: "overview", eye: null, said: "",
    }),
    created() { this.queue = []; this.timer = 0; },
    async mounted() {
      try { this.wish = localStorage.getItem("lockarc-theme") || "auto"; } catch { /* storage may be switched off */ }
      matchMedia("(prefers-color-scheme: dark)").addEventListener("change", (e) => { this.prefersDark = e.matches; });
      const first = await this.trame.trigger("hello");
      this.page = first.page;
      this.shell = first.saved;
      this.refused = first.refused;
      this.stand(first.looks);
      this.take(first.now);
      if (first.looks.lesson) this.teach(first.looks.lesson, first.looks.step || 0);
      if (first.looks.eye) this.$nextTick(() => this.$nextTick(() => this.turnTo(first.looks.eye)));
      this.$nextTick(() => setTimeout(() => document.documentElement.setAttribute("data-ready", "yes"), 150));
    },
    beforeUnmount() { clearInterval(this.timer); },
    watch: {
      theme: { immediate: true, handler(name) { document.documentElement.dataset.theme = name; if (this.now) this.dress(); } },
      together(how) { this.split = this.split || how === "side"; this.dress(); },
      query(text) { address.keep(text); },
      shades(on) { if (on) this.shade(); else this.shaded = null; },
    },
    computed: {
      theme() { return this.wish === "auto" ? (this.prefersDark ? "dark" : "light") : this.wish; },
      paper() { return this.page.themes[this.theme].paper; },
      lock() { return this.page.lock_deg[this.index]; },
      lockWords() { return format.lock(this.lock); },
      slots() { return this.now.slots; },
      stated() { return this.isCorner ? this.page.held_still : this.now.stated; },
      /** All that the address holds. */
      query() {
        if (!this.now) return "";
        const first = (value, usual) => (value === usual ? null : value);
        return this.now.address + address.looks({
          lock: Number(this.lock.toFixed(3)), view: first(this.view, "overview"), together: first(this.together, "over"),
          theme: first(this.wish, "auto"), eye: this.eye && eye.numbers(this.eye).join(","), charts: first(this.shown.join(","), this.page.charts_first.join(",")), shades: this.shades ? "yes" : null,
          lesson: this.lesson && this.lesson.name, step: this.lesson && this.lesson.step + 1,
        });
      },
      plainViews() { return Object.keys({ ...this.now.karts.A.cameras, ...this.now.karts.B.cameras }).filter((name) => !this.page.telling.includes(name)); },
      charts() { return this.page.charts.filter((c) => this.shown.includes(c.key)); },
      at() {
        const row = (table) => Object.fromEntries(Object.entries(table).map(([name, values]) => [name, values[this.index]]));
        return { A: row(this.now.through.A), B: row(this.now.through.B) };
      },
      camera() {
        const { A, B } = this.isCorner && this.corner ? this.corner : this.now.karts;
        return scene.camera(A.cameras[this.view] || B.cameras[this.view]);
      },
      /** What is drawn at every lock position: the same arrays from one to the next, or each step would be drawn twice. */
      drawn() {
        return {
          A: {
            bodies: [...this.karts.A, ...this.karts.edges],
            labels: [...this.labels("A"), ...this.worstRead, ...this.cornerLabels.A, ...(this.together === "over" ? this.cornerLabels.over : [])],
          },
          B: { bodies: this.karts.B, labels: [...this.labels("B"), ...this.cornerLabels.B] },
        };
      },
      /** The second view stays once it has been asked for. */
      views() {
        const label = (name) => `Kart with setting ${name}, ${this.slots[name].title}, handwheel ${this.lockWords}, ${this.now.case}`;
        const side = this.together === "side", { A, B } = this.slots;
        const first = side ? { title: "A · " + A.title, what: label("A") }
          : { title: `A solid · ${A.title}`, second: `B outlined · ${B.title}`, what: `${label("A")}; over it in outline B, ${B.title}` };
        const views = [{ name: "A", shown: true, ...first, ...this.drawn.A }];
        if (this.split) views.push({ name: "B", shown: side, title: "B · " + B.title, what: label("B"), ...this.drawn.B });
        return views;
      },
      /** How A and B stand at this lock position, in a line each. */
      stands() {
        if (this.isCorner && this.corner) return this.toldOfCorner;
        return ["A", "B"].map((name) => {
          const kart = this.now.karts[name], at = kart.at[this.index];
          return { name, text: at < 0 ? (kart.notes.length ? "a tie rod binds here" : "not drawn") : kart.notes[at], tips: at >= 0 && kart.tips[this.index] };
        });
      },
      coarse() { return COARSE[this.together]; },
      captions() {
        return [
          `A${this.together === "over" ? ", solid" : ""}: ${this.slots.A.title}; B${this.together === "over" ? ", outlined" : ""}: ${this.slots.B.title}`,
          `Handwheel ${this.lockWords}; ${this.isCorner ? "" : `load case ${this.now.case}; `}${this.stated}`,
          ...this.stands.map((s) => `${s.name}: ${s.text}`),
        ];
      },
    },
    methods: {
      format: () => format,
      /** Look as the address asks, else as the page opens. */
      stand({ lock = 0, view = "overview", together = "over", theme = this.wish, charts = this.page.charts_first, shades = false }) {
        this.index = this.page.lock_deg.reduce((best, d, i, all) => (Math.abs(d - lock) < Math.abs(all[best] - lock) ? i : best), 0);
        Object.assign(this, { view, together, split: together === "side", wish: theme, shown: charts, shades });
      },
      /** One change at a time; of what waits only the newest of a kind is kept. */
      async ask(change) {
        const same = (c) => c.kind === change.kind && c.slot === change.slot && c.seat === change.seat && c.key === change.key && String(c.sides) === String(change.sides);
        this.queue = [...this.queue.filter((c) => !same(c)), change];
        if (this.busy) return;
        this.busy = true;
        try {
          while (this.queue.length) {
            const next = this.queue.shift(), answer = await this.trame.trigger("change", [{ ...next, view: this.view }]);
            this.refused = answer.refused;
            this.refusedOf = next.kind;
            if (answer.now) this.take(answer.now);
            else if (answer.lesson) this.takeLesson(answer.lesson);
            else if (answer.corner) this.bring(answer);
            else if (answer.fit) this.takeFit(answer.fit);
            else if (answer.charts) this.shaded = answer.charts;
            else this.now = { ...this.now };
          }
        } catch (error) {
          this.queue = [];
          this.refused = "The program could not do that; nothing was changed.";
        } finally {
          this.busy = false;
        }
      },
      /** The charts with their shades, once nothing has been asked for a while: they take longer than a change. */
      shade() {
        clearTimeout(this.waiting);
        if (this.shades) this.waiting = setTimeout(() => this.ask({ kind: "shades" }), SHADE_MS);
      },
      take(now) {
        this.keepMeshes(now);
        this.shaded = null;
        this.shade();
        this.refit(now);
        this.now = now;
        this.takeCorner(now);
        this.dress();
        document.documentElement.dataset.answers = String(Number(document.documentElement.dataset.answers || 0) + 1);
      },
      /** What is told of the corner, for settings that stay as they are. */
      bring(answer) { this.keepMeshes(answer); this.takeCorner(answer); this.dress(); },
      seek(index) { this.index = index; },
      toggle(key) { this.shown = this.page.charts.map((c) => c.key).filter((k) => (k === key) !== this.shown.includes(k)); },
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
      look(name) {
        if (!this.ready(name)) return;
        this.view = name; this.eye = null; this.$nextTick(() => this.$refs.views[0].look(this.camera));
      },
      /** Stand where an address says. */
      turnTo(at) {
        this.eye = eye.from(at, this.camera);
        this.$refs.views.forEach((view) => view.look(this.eye, true));
      },
      /** What one view sees the other sees too. */
      linkedLook(from, state) {
        const views = this.$refs.views || [];
        views.forEach((view, i) => { if (i !== from && view.shown) view.look(state, true); });
      },
      dressIn(wish) { this.wish = wish; try { localStorage.setItem("lockarc-theme", wish); } catch { /* as above */ } },
      picture() {
        return save.picture(this.$refs.views.filter((view) => view.shown), [...this.captions, ...this.page.legend], this.paper, getComputedStyle(document.body).color);
      },
      async saveWith(doing, done) {
        try { await doing(); this.said = done; } catch (error) { this.refused = `It could not be saved: ${error.message}.`; }
      },
      savePicture() { return this.saveWith(async () => save.download("lockarc.png", await this.picture()), "Picture saved."); },
      savePage() {
        return this.saveWith(async () => {
          const parts = [...this.$el.querySelectorAll(".graph, table.numbers, .fit, .safety")].map((e) => e.outerHTML);
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
          <label class="inline">Lesson <select data-lesson :value="lesson ? lesson.name : ''" @change="teach($event.target.value, 0)">
            <option value="">none</option><option v-for="l in page.lessons" :key="l.name" :value="l.name">{{ l.title }}</option></select></label>
          <div class="row" role="group" aria-label="Colours">
            <button v-for="w in ['auto', 'light', 'dark']" type="button" :aria-pressed="wish === w" @click="dressIn(w)">{{ w }}</button>
          </div>
        </header>
        <main :class="{ taught: lesson }">
          <lockarc-lesson v-if="lastLesson" v-show="lesson" :lesson="lastLesson" :playing="Boolean(lesson)" :bodies="lessonBodies" :labels="lessonLabels" :paper="paper" :inks="page.themes[theme].words"
            @go="(step) => teach(lesson.name, step)" @leave="teach('')"></lockarc-lesson>
          <p class="refused" role="alert" v-if="refused && !isOfReadings">{{ refused }} <button type="button" @click="refused = ''">Dismiss</button></p>
          <section class="stage" aria-label="Kart through lock">
            <div class="pictures" :class="together">
              <div v-for="(v, i) in views" :key="v.name" v-show="v.shown" class="picture" :class="v.name">
                <p class="title"><span>{{ v.title }}</span><span v-if="v.second" class="second">{{ v.second }}</span></p>
                <lockarc-view ref="views" :bodies="v.bodies" :index="index" :labels="v.labels" :paper="paper" :inks="page.themes[theme].words" :camera="camera" :view="view" :what="v.what" :shown="v.shown && !lesson" :coarse="coarse"
                  @camera="(s) => linkedLook(i, s)" @turned="(s) => { eye = s; }"></lockarc-view>
              </div>
            </div>
            <div class="lock">
              <button type="button" class="play" :aria-pressed="playing" @click="play">{{ playing ? "Pause" : "Play" }}</button>
              <label class="slide">Handwheel <output>{{ lockWords }}</output>
                <input type="range" min="0" :max="page.lock_deg.length - 1" step="1" v-model.number="index" :aria-valuetext="lockWords"
                  aria-label="Handwheel angle, left is positive"></label>
            </div>
            <p v-for="s in stands" class="stands" :class="{ loud: s.tips }" :data-stands="s.name"><b>{{ s.name }}</b> {{ s.text }}</p>
            <p class="scale" :class="{ loud: now.twist !== 1 && !isCorner }" data-twist>{{ stated }}</p>
            <div class="row wrap">
              <div class="row" role="group" aria-label="Look from">
                <button v-for="name in plainViews" type="button" :aria-pressed="view === name" @click="look(name)">{{ name.replace("_", " ") }}</button>
              </div>
              <div class="row" role="group" aria-label="See why">
                <button v-for="name in page.telling" type="button" :aria-pressed="view === name" @click="look(name)">{{ name.replace("_", " ") }}</button>
              </div>
              <div class="row" role="group" aria-label="A and B">
                <button type="button" :aria-pressed="together === 'over'" @click="together = 'over'">overlaid</button>
                <button type="button" :aria-pressed="together === 'side'" @click="together = 'side'">side by side</button>
              </div>
              <label class="inline">Twist and air drawn
                <select :value="now.twist" @change="ask({ kind: 'twist', times: Number($event.target.value) })">
                  <option v-for="t in page.twists" :value="t">×{{ t }}</option></select></label>
            </div>
            <details class="more"><summary>What is drawn</summary>
              <p class="key"><span v-for="line in page.legend">{{ line }}</span><span>dashed line: kingpin axis; bar on a bush: its clock</span></p>
            </details>
          </section>
          <section class="notices" role="status" v-if="now.notices.length" aria-label="Look at these"><ul><li v-for="n in now.notices">{{ n }}</li></ul></section>
          <lockarc-fitted :page="page" :now="now" @ask="ask"></lockarc-fitted>
          <section class="graphs" aria-label="Charts against lock">
            <details class="more"><summary>Charts shown: {{ charts.length }} of {{ page.charts.length }}</summary>
              <div class="row wrap" role="group" aria-label="Charts shown">
                <button v-for="c in page.charts" :key="c.key" type="button" :aria-pressed="shown.includes(c.key)" @click="toggle(c.key)">{{ c.title }}</button>
                <button type="button" :aria-pressed="shades" @click="shades = !shades">how sure: shade {{ page.shade }}</button>
              </div></details>
            <lockarc-chart v-for="c in charts" :key="c.key" :chart="c" :drawing="(shaded || now.charts)[c.key]" :lock="page.lock_deg" :index="index"
              :through="now.through" :quantities="page.through" :shaded="shaded && page.shade" @seek="seek"></lockarc-chart>
          </section>
          <lockarc-readings :page="page" :now="now" :fit="fit" :busy="isFitting" :forgiving="forgiving" @forgive="forgive" :refused="isOfReadings ? refused : ''" @ask="askOfReadings" @save="saveReadings"></lockarc-readings>
          <section class="tables" aria-label="Numbers" tabindex="0">
            <lockarc-table kind="lock" :caption="'At this lock (' + lockWords + '), ' + now.case" :shown="page.through" :a="at.A" :b="at.B"></lockarc-table>
            <lockarc-table kind="headline" caption="Straight ahead, frame held still" :shown="page.headline" :a="now.headline.A" :b="now.headline.B"></lockarc-table>
          </section>
          <section class="saving" aria-label="Save">
            <button type="button" @click="savePicture">Save picture</button>
            <button type="button" @click="savePage">Save page</button>
            <button type="button" @click="saveData('csv')">Save data, CSV</button>
            <button type="button" @click="saveData('json')">Save data, JSON</button>
            <span role="status">{{ said }}</span>
          </section>
          <footer class="safety">
            <p v-for="c in page.cautions">{{ c }}</p>
          </footer>
        </main>
      </div>`,
  };
})();
