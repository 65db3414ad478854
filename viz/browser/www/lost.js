// What is shown when the program behind the page has gone.
(function () {
  "use strict";

  window.lockarc.parts["lockarc-lost"] = {
    methods: { again() { window.location.assign("/"); } },
    template: `
      <main class="plain"><h1>The connection is lost</h1>
        <p role="alert">The program that serves this page does not answer: it has ended, or the network is gone.</p>
        <p><button type="button" @click="again">Open the page anew</button></p></main>`,
  };
})();
