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
          const worn = new Set(Object.values(this.last).flat().flatMap((k) => [...k.solid, ...k.outline].map((b) => b.mesh)));
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
      labels(name) { return this.written(this.now.karts[name]); },
      written(kart) {
        return kart.labels.map((w) => ({ texts: w.texts, role: w.role, shift: w.shift, views: w.views, at: kart.at, points: scene.array(w.points, Float32Array) }));
      },
    },
  };
})();
