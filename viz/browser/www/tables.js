// The numbers of A, of B, and their difference, with units.
(function () {
  "use strict";
  const { format } = window.lockarc;

  window.lockarc.parts["lockarc-table"] = {
    props: ["caption", "shown", "a", "b", "kind"],
    methods: {
      difference(name) {
        const a = this.a[name], b = this.b[name];
        return a === null || b === null || a === undefined || b === undefined ? null : b - a;
      },
      format: () => format,
    },
    template: `
      <table class="numbers" :data-table="kind">
        <caption>{{ caption }}</caption>
        <thead><tr><th scope="col">Quantity</th><th scope="col">A</th><th scope="col">B</th><th scope="col">B − A</th><th scope="col">Unit</th></tr></thead>
        <tbody>
          <tr v-for="s in shown" :key="s.name" :data-name="s.name">
            <th scope="row">{{ s.label }}</th>
            <td data-of="A">{{ format().number(a[s.name], s.decimals) }}</td>
            <td data-of="B">{{ format().number(b[s.name], s.decimals) }}</td>
            <td data-of="difference">{{ format().signed(difference(s.name), s.decimals) }}</td>
            <td>{{ s.unit }}</td>
          </tr>
        </tbody>
      </table>`,
  };
})();
