// Views of a front corner whose frame is held still: asked for when one is looked at, and kept while it holds.
(function () {
  "use strict";
  window.lockarc.cornered = {
    computed: {
      /** Whether the picture shows the front end alone. */
      isCorner() { return this.page.of_a_corner.includes(this.view); },
      /** What is told in the present view of A and of B, and whose word it is. */
      toldOfCorner() {
        return ["A", "B"].map((name) => {
          const { at, told } = this.corner[name], place = at[this.index];
          return { name, text: place < 0 ? "a tie rod binds here" : told[this.view][place], tips: false };
        });
      },
      cornerLabels() {
        const of = (name) => (this.corner?.[name] ? this.written(this.corner[name]) : []);
        return { A: of("A"), B: of("B"), over: of("over") };
      },
    },
    methods: {
      /** Take in what an answer brings of the corner; what was there of older settings is gone. */
      takeCorner(answer) {
        this.corner = answer.corner || null;
        if (this.corner && this.wanted) this.look(this.wanted);
        this.wanted = "";
      },
      /** Whether a view can be looked at; one of the corner is asked for first. */
      ready(view) {
        if (!this.page.of_a_corner.includes(view) || this.corner) return true;
        this.wanted = view;
        this.ask({ kind: "front" });
        return false;
      },
    },
  };
})();
