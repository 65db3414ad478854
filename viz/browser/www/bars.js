// Readings as bars: how far each misses over its error, and the band of a figure before and after.
(function () {
  "use strict";
  const FAR = 6, LINES = [-2, 0, 2], HALF = 43;  // times the error at which bars end, where lines are drawn, and a bar's most in %

  const share = (value) => 50 + HALF * Math.max(-1, Math.min(1, value / FAR));

  window.lockarc.parts["lockarc-misses"] = {
    props: ["bars"],
    data: () => ({ lines: LINES.map((at) => ({ at, left: `${share(at)}%` })) }),
    methods: {
      bar({ miss }) {
        const [from, to] = [share(0), share(miss)].sort((a, b) => a - b);
        return { left: `${from}%`, width: `${to - from}%` };
      },
      far: ({ miss }) => (miss > FAR ? "▶" : miss < -FAR ? "◀" : ""),
      isOff: ({ miss, why }) => Boolean(why) || Math.abs(miss) > 2,
    },
    template: `
      <table class="bars" data-bars="misses">
        <caption>Readings of your own kart, each one's miss over its error. Lines at −2, 0 and +2: beyond is one in 20 by chance. An arrow: it goes on beyond 6.</caption>
        <thead><tr><th scope="col">Reading</th><th scope="col" class="scaled">Miss</th><th scope="col">× error</th></tr></thead>
        <tbody>
          <tr v-for="b in bars" :key="b.words" :class="{ off: isOff(b) }">
            <th scope="row">{{ b.words }}<small v-if="b.why">{{ b.why }}</small></th>
            <td><div class="track" aria-hidden="true"><i v-for="l in lines" class="line" :class="{ zero: !l.at }" :style="{ left: l.left }"></i>
              <i class="bar" :style="bar(b)"></i><b v-if="far(b)" :class="b.miss > 0 ? 'above' : 'below'">{{ far(b) }}</b></div></td>
            <td>{{ b.said }}</td>
          </tr>
        </tbody>
      </table>`,
  };

  window.lockarc.parts["lockarc-bands"] = {
    props: ["bands"],
    methods: {
      at(value) { const [low, high] = this.bands.ends; return 100 * (value - low) / (high - low); },
      bar(row) { return { left: `${this.at(row.low)}%`, width: `${this.at(row.high) - this.at(row.low)}%` }; },
    },
    template: `
      <table class="bars" data-bars="bands">
        <caption>{{ bands.title }}, {{ bands.unit }}: where it lies, 95 in 100. {{ bands.wide }}.</caption>
        <thead><tr><th scope="col">Readings</th><th scope="col" class="scaled"><span class="marks"><span v-for="m in bands.marks" :style="{ left: at(m.at) + '%' }">{{ m.said }}</span></span></th><th scope="col">{{ bands.unit }}</th></tr></thead>
        <tbody>
          <tr v-for="r in bands.rows" :key="r.name" :data-band="r.name">
            <th scope="row">{{ r.name }}</th>
            <td><div class="track" aria-hidden="true"><i v-for="m in bands.marks" class="line" :style="{ left: at(m.at) + '%' }"></i>
              <i class="bar band" :class="r.name" :style="bar(r)"></i><i class="tip" :style="{ left: at(r.value) + '%' }"></i></div></td>
            <td>{{ r.said }}</td>
          </tr>
        </tbody>
      </table>`,
  };
})();
