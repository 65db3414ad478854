// Undo and redo: two buttons, and the keys that people try.
(function () {
  "use strict";

  window.lockarc.parts["lockarc-undo"] = {
    props: ["history"],
    emits: ["ask"],
    data: () => ({ ways: { undo: "Undo", redo: "Redo" } }),
    created() { this.typing = null; },
    mounted() {
      this.listeners = { keydown: this.key, input: (e) => { this.typing = e.target; }, change: () => { this.typing = null; } };
      for (const [kind, heard] of Object.entries(this.listeners)) document.addEventListener(kind, heard);
    },
    beforeUnmount() { for (const [kind, heard] of Object.entries(this.listeners)) document.removeEventListener(kind, heard); },
    methods: {
      /** Ctrl or Command with Z, and Shift or Y for the way back; half-typed numbers are the browser's own. */
      key(event) {
        const letter = event.key.toLowerCase(), half = this.typing === event.target && event.target.type === "number";
        if (!(event.ctrlKey || event.metaKey) || event.altKey || !["z", "y"].includes(letter) || half) return;
        event.preventDefault();
        this.go(letter === "y" || event.shiftKey ? "redo" : "undo");
      },
      go(way) { if (this.history[way] !== null) this.$emit("ask", { kind: way }); },
    },
    template: `
      <div class="row" role="group" aria-label="Changes of A and B">
        <button v-for="(word, way) in ways" :key="way" type="button" :aria-disabled="history[way] === null" @click="go(way)"
          :aria-label="history[way] === null ? word + ': nothing to ' + way : word + ': ' + history[way]" :title="history[way] || ''">{{ word }}</button>
      </div>`,
  };
})();
