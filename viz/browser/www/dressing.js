// The bodies of A and B as the picture wants them: kept meshes, in the colours of the theme.
(function () {
  "use strict";
  const { markRaw } = window.Vue;
  const { scene } = window.lockarc;
  const LINE = 2;

  window.lockarc.dressing = {
    created() { this.meshes = new Map(); this.last = {}; this.line = {}; },
    methods: {
      /** Take in the meshes of an answer; a fresh one drops all but those of a kart that is hidden just now. */
      keepMeshes(now) {
        if (now.fresh) {
          const worn = new Set(Object.values(this.last).flatMap((k) => [...k.solid, ...k.outline].map((b) => b.mesh)));
          for (const key of this.meshes.keys()) if (!worn.has(key)) this.meshes.delete(key);
        }
        for (const [key, mesh] of Object.entries(now.meshes)) this.meshes.set(key, scene.unpacked(mesh));
      },
      /** Bodies in the present colours: A and B solid, and B as edges to lay over A. */
      dress() {
        const over = this.together === "over";
        if (this.line.theme !== this.theme) {
          const property = { color: scene.rgb(this.page.themes[this.theme].second), lineWidth: 1, lighting: false };
          this.line = markRaw({ theme: this.theme, wide: LINE, mapper: { scalarVisibility: false }, property });
        }
        const solid = (name, kart, visible = true) => this.bodies(name, kart, "solid", (kept, body) => ({ ...kept, ...scene.surface(body), visible, colours: this.colours(kept.mesh) }));
        const { A, B } = this.now.karts, corner = (name, visible) => solid(`${name}-corner`, this.corner?.[name], visible);
        const edges = this.bodies("B", B, "outline", (kept) => ({ ...kept, ...this.line, visible: over }));
        this.karts = {
          A: [...solid("A", A), ...corner("A", true), ...corner("over", over)],
          B: this.split ? [...solid("B", B), ...corner("B", true)] : [],
          edges,
        };
      },
      /** A kart's bodies for the view. One that is not there, or reaches no lock position, keeps its last shape and is hidden. */
      bodies(name, kart, how, dressed) {
        if (kart?.solid.length) this.last[name] = kart;
        const worn = this.last[name], at = kart ? kart.at : worn?.at.map(() => -1);
        return (worn?.[how] || []).map((body) => dressed({ id: `${name}-${how}-${body.name}`, at, ...this.body(body) }, body));
      },
      /** A body's arrays, unpacked. */
      body(body) {
        return {
          mesh: this.meshes.get(body.mesh), moves: scene.array(body.moves, Float32Array), seen: scene.array(body.seen, Uint8Array),
          views: body.views, clear: scene.array(body.clear, Float32Array),
        };
      },
      colours(mesh) {
        if (mesh.theme !== this.theme) { mesh.colours = scene.coloured(mesh, this.page.themes[this.theme].palette); mesh.theme = this.theme; }
        return mesh.colours;
      },
      labels(name) { return this.written(this.now.karts[name]); },
      written(kart) {
        return kart.labels.map((w) => ({ texts: w.texts, role: w.role, shift: w.shift, views: w.views, at: kart.at, points: scene.array(w.points, Float32Array) }));
      },
    },
  };
})();
