// A lesson played on the page: a step at a time, turned through its lock, with its words as text and a question.
(function () {
  "use strict";
  const { format, scene } = window.lockarc;
  const TURN_MS = 2600;

  /** What the page keeps of a lesson that is played: asks for its steps and dresses their bodies. */
  window.lockarc.teaching = {
    created() { this.worn = new Map(); },  // bodies of earlier steps stay, hidden: vtk.js complains when one is taken away
    computed: {
      lessonBodies() {
        const kart = this.lastLesson.kart;
        const shown = kart.solid.map((body) => {
          const kept = this.body(body);
          return { id: `lesson-${body.name}`, at: kart.at, ...kept, visible: true, colours: this.colours(kept.mesh), ...scene.surface(body) };
        });
        const now = new Set(shown.map((body) => body.id));
        const before = [...this.worn.values()].filter((body) => !now.has(body.id)).map((body) => ({ ...body, visible: false }));
        for (const body of shown) this.worn.set(body.id, body);
        return [...shown, ...before];
      },
      lessonLabels() { return this.written(this.lastLesson.kart); },
    },
    methods: {
      /** To a step of a lesson, counted from 0; without a name it is left. */
      teach(name, step) {
        if (name) this.ask({ kind: "lesson", name, step });
        else this.lesson = null;
      },
      takeLesson(lesson) {
        this.keepMeshes(lesson);
        this.lesson = this.lastLesson = lesson;  // what is left stays, hidden, as its bodies do
      },
    },
  };

  window.lockarc.parts["lockarc-lesson"] = {
    props: ["lesson", "playing", "bodies", "labels", "paper", "inks"],
    emits: ["go", "leave"],
    data: () => ({ index: 0, asked: false, picked: null }),
    mounted() { this.arrive(); },
    beforeUnmount() { cancelAnimationFrame(this.frame); },
    watch: { lesson() { this.arrive(); } },
    computed: {
      last() { return this.lesson.lock_deg.length - 1; },
      camera() { return scene.camera(this.lesson.kart.cameras[this.lesson.view]); },
      lockWords() { return format.lock(this.lesson.lock_deg[this.index]); },
      what() { return `${this.lesson.heading}: ${this.lesson.shown}, handwheel ${this.lockWords}`; },
      ends() { return this.lesson.step + 1 === this.lesson.steps; },
      right() { return this.picked === this.lesson.question.right; },
    },
    methods: {
      arrive() {
        if (this.$el.getBoundingClientRect().top < 0) this.$el.scrollIntoView();
        this.asked = false;
        this.picked = null;
        this.index = 0;
        this.$nextTick(() => this.$nextTick(() => this.$refs.view?.look(this.camera)));
        this.turn();
      },
      /** Through the step's lock once; who wants less motion sees where it ends. */
      turn() {
        cancelAnimationFrame(this.frame);
        if (matchMedia("(prefers-reduced-motion: reduce)").matches) { this.index = this.last; return; }
        const began = performance.now();
        const on = (now) => {
          const share = Math.min(1, Math.max(0, (now - began - 500) / TURN_MS));
          this.index = Math.round(share * this.last);
          if (share < 1) this.frame = requestAnimationFrame(on);
        };
        this.frame = requestAnimationFrame(on);
      },
      seek(event) { cancelAnimationFrame(this.frame); this.index = Number(event.target.value); },
      go(way) {
        if (this.asked) { this.asked = false; if (way < 0) return; }
        if (way > 0 && this.ends) { this.asked = Boolean(this.lesson.question); return; }
        this.$emit("go", this.lesson.step + way);
      },
      key(event) {
        if (event.target.matches("input, select, [role=application]")) return;
        const way = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 }[event.key];
        if (way) { event.preventDefault(); this.go(way); }
        if (event.key === "Escape") this.$emit("leave");
      },
    },
    template: `
      <section class="lesson" :aria-label="'Lesson: ' + lesson.title" @keydown="key">
        <p class="key">{{ lesson.title }} · {{ lesson.of }}</p>
        <div v-show="!asked" class="shown">
          <div class="picture">
            <p class="title">{{ lesson.shown }}</p>
            <lockarc-view ref="view" :bodies="bodies" :index="index" :labels="labels" :paper="paper" :inks="inks" :camera="camera" :view="lesson.view" :what="what" :shown="playing && !asked" :coarse="1"></lockarc-view>
          </div>
          <div v-if="last" class="lock">
            <button type="button" class="play" @click="turn">Again</button>
            <label class="slide">Handwheel <output>{{ lockWords }}</output>
              <input type="range" min="0" :max="last" step="1" :value="index" @input="seek" :aria-valuetext="lockWords" aria-label="Handwheel in this step"></label>
          </div>
        </div>
        <div class="words-of-it">
          <div aria-live="polite">
            <template v-if="!asked"><h2>{{ lesson.step + 1 }} of {{ lesson.steps }}: {{ lesson.heading }}</h2><p class="caption">{{ lesson.said }}</p></template>
            <h2 v-else>A question: {{ lesson.question.ask }}</h2>
          </div>
          <div v-if="asked" class="answers">
            <button v-for="(answer, i) in lesson.question.answers" :key="i" type="button" :aria-pressed="picked === i" @click="picked = i">{{ answer }}</button>
            <p role="status"><template v-if="picked !== null"><b>{{ right ? "Right." : "Not that one: " + lesson.question.answers[lesson.question.right] + "." }}</b> {{ lesson.question.because }}</template></p>
          </div>
          <div class="row" role="group" aria-label="Steps">
            <button type="button" :disabled="lesson.step === 0 && !asked" @click="go(-1)">◀ Back</button>
            <button type="button" :disabled="asked || (ends && !lesson.question)" @click="go(1)">{{ ends && lesson.question ? "The question ▶" : "Next ▶" }}</button>
            <button type="button" @click="$emit('leave')">Leave the lesson</button>
          </div>
        </div>
      </section>`,
  };
})();
