// The kart in 3D: vtk.js draws it here in the browser; between lock positions only matrices change.
(function () {
  "use strict";
  const { inject, markRaw } = window.Vue;
  const { eye: { hands }, format: { seenFrom }, shots, words } = window.lockarc;
  const NARROW = 1.5, NARROW_FLAT = 2;  // width over height below which a view is seen from further off
  const NEAR = 0.8;  // views in perspective are seen from so much nearer than the presets say
  const STILL_AFTER = 450, FINE = 2;  // ms without a move until the picture is drawn finer, and how much finer

  const ANGLE = 28;  // degrees that a view in perspective is high

  const ROOM = 0.4;  // what may come nearer or go farther through lock, as a share of what is seen from near to far

  // Without anti-aliasing a move is drawn three times as fast by a processor alone; stills are drawn finer instead.
  const getContext = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, options) {
    return getContext.call(this, kind, kind.startsWith("webgl") ? { ...options, antialias: false } : options);
  };

  /** Whether pictures are drawn by a processor alone, without a graphics chip. */
  function isSoftware(gl) {
    const known = gl.getExtension("WEBGL_debug_renderer_info");
    return known !== null && /swiftshader|llvmpipe|software|basic render/i.test(gl.getParameter(known.UNMASKED_RENDERER_WEBGL));
  }

  /** Bytes as an array of its own, whatever their place in the message they came in. */
  function array(bytes, Kind) {
    return new Kind(bytes.slice().buffer);
  }

  /** What vtk.js needs of a mesh, unpacked once. */
  function unpacked(mesh) {
    const made = { points: array(mesh.points, Float32Array), roles: array(mesh.roles, Uint8Array) };
    if (mesh.normals) made.normals = array(mesh.normals, Float32Array);
    if (mesh.polys) made.polys = array(mesh.polys, Uint32Array);
    if (mesh.lines) made.lines = array(mesh.lines, Uint32Array);
    return markRaw(made);
  }

  /** Three bytes of colour for each vertex, from its role. */
  function coloured(mesh, palette) {
    const out = new Uint8Array(3 * mesh.roles.length);
    for (let i = 0; i < mesh.roles.length; i++) {
      const from = 3 * mesh.roles[i];
      out[3 * i] = palette[from]; out[3 * i + 1] = palette[from + 1]; out[3 * i + 2] = palette[from + 2];
    }
    return markRaw(out);
  }

  const SOLID = markRaw({
    mapper: { scalarVisibility: true, interpolateScalarsBeforeMapping: false },
    property: { ambient: 0.12, diffuse: 0.85, specular: 0.04, specularPower: 20 },
  });
  const FLAT = markRaw({ mapper: SOLID.mapper, property: { lighting: false } });
  const PALE = new Map();

  /** How a body takes the light: the road keeps its own colour, what lies on it is see-through. */
  function surface(body) {
    if (body.opacity === 1) return body.name === "road" ? FLAT : SOLID;
    if (!PALE.has(body.opacity)) PALE.set(body.opacity, markRaw({ mapper: SOLID.mapper, property: { lighting: false, opacity: body.opacity } }));
    return PALE.get(body.opacity);
  }

  /** A #rrggbb colour as three numbers from 0 to 1. */
  function rgb(text) {
    return [1, 3, 5].map((i) => parseInt(text.slice(i, i + 2), 16) / 255);
  }

  /** Hands out vtk.js's own objects from inside the view. */
  window.lockarc.parts["lockarc-inside"] = {
    emits: ["view"],
    setup(props, { emit }) { emit("view", inject("view")); return {}; },
    template: "<i hidden></i>",
  };

  window.lockarc.parts["lockarc-view"] = {
    props: ["bodies", "index", "labels", "paper", "inks", "camera", "view", "what", "shown", "coarse"],
    mixins: [hands, shots, words],
    emits: ["camera", "turned"],
    created() { this.inner = null; this.actors = new Map(); },
    mounted() {
      this.$nextTick(() => {
        clearTimeout(this.inner.resetCameraTimeout);  // the view would fit its own camera 100 ms after it was made
        this.eye = this.inner.renderer.getActiveCamera();
        this.watching = this.eye.onModified(() => this.told());
        this.fitted = new ResizeObserver(() => setTimeout(() => this.place(), 30));
        this.fitted.observe(this.$el);
        this.software = isSoftware(this.inner.openglRenderWindow.getContext());
        this.inner.renderer.setClippingRangeExpansion(ROOM);
        this.paint();
        this.look(this.camera);
        this.place();
      });
    },
    beforeUnmount() { this.watching?.unsubscribe(); this.fitted?.disconnect(); clearTimeout(this.still); },
    watch: {
      index() { this.place(); },
      bodies(now, before) {
        const same = now.length === before.length && now.every((body, i) => ["mesh", "colours", "property"].every((k) => body[k] === before[i][k]));
        this.$nextTick(() => (same ? this.place() : this.settle()));
      },
      paper() { this.paint(); this.draw(); },
    },
    methods: {
      keep(view) { this.inner = markRaw(view); },
      paint() { this.inner.renderer.setBackground(...rgb(this.paper)); },
      state() { return this.eye.get("position", "focalPoint", "viewUp", "parallelProjection", "parallelScale", "viewAngle"); },
      /** Tell where the eye stands now, once for each place. */
      told() {
        const state = this.state(), text = JSON.stringify(state);
        if (this.silent || text === this.last) return;
        this.last = text;
        this.$emit("camera", state);
      },
      /** Stand where a preset says, or where another view stands; further off when the view is narrow. */
      look(camera, exact) {
        if (!camera || !this.eye) return;
        if (!exact) this.set();
        const size = this.inner.openglRenderWindow.getSize();
        const wide = Math.min(1, size[0] / size[1] / (camera.parallelProjection ? NARROW_FLAT : NARROW));
        const back = exact ? 1 : (camera.parallelProjection ? 1 : NEAR) / wide, focal = camera.focalPoint;
        this.silent = true;
        this.eye.set({
          focalPoint: focal, viewUp: camera.viewUp, viewAngle: camera.viewAngle,
          position: camera.position.map((p, i) => focal[i] + back * (p - focal[i])),
          parallelProjection: camera.parallelProjection, parallelScale: back * camera.parallelScale,
        });
        this.silent = false;
        if (exact) this.last = JSON.stringify(this.state()); else this.told();
        this.inner.style.setCenterOfRotation?.(focal);
        this.draw();
      },
      place() {
        this.set();
        this.draw(true);
      },
      /** New meshes: vtk.js takes them in and draws of its own accord 2 ms from now, the matrices must be there. */
      settle() {
        this.finer(1);
        this.set();
        setTimeout(() => { this.write(); this.later(); }, 12);
      },
      /** Every actor to its matrix at the present lock position. */
      set() {
        if (!this.inner) return;
        if (this.actors.size !== this.bodies.length || this.known !== this.bodies) {
          this.actors = new Map(this.inner.renderer.getActors().map((a) => [a.get("representationId").representationId, a]));
          this.known = this.bodies;
        }
        for (const body of this.bodies) {
          const actor = this.actors.get(body.id), at = body.at[this.index];
          if (!actor) continue;
          const seen = at >= 0 && body.visible && body.seen[at] > 0 && seenFrom(body.views, this.view);
          actor.setVisibility(seen);
          if (seen) actor.setUserMatrix(body.moves.subarray(16 * at, 16 * at + 16));
        }
      },
      draw(seenFromHere) {
        if (!this.inner?.container || this.shown === false) return;
        this.finer(1);
        this.render(seenFromHere);
        this.later();
      },
      /** Draw the picture finer when nothing has moved for a while. */
      later() {
        clearTimeout(this.still);
        this.still = setTimeout(() => { if (this.finer(FINE)) this.render(); }, STILL_AFTER);
      },
      /** So many pixels for one on the page each way, 1 standing for as many as a move can do; whether that is a change. */
      finer(times) {
        if (!this.inner?.container || this.shown === false) return false;
        const box = this.inner.container.getBoundingClientRect(), gl = this.inner.openglRenderWindow;
        const moving = this.software ? this.coarse : Math.min(window.devicePixelRatio || 1, 2);
        const ratio = times > 1 ? times : moving;
        const size = [box.width, box.height].map((n) => Math.max(10, Math.floor(n * ratio)));
        const now = gl.getSize();
        if (size[0] === now[0] && size[1] === now[1]) return false;
        gl.setSize(...size);
        this.bodies.forEach((body) => { if (body.wide) this.actors.get(body.id)?.getProperty().setLineWidth(times > 1 ? body.wide * times : 1); });
        return true;
      },
      /** seenFromHere: the eye has not moved, and what is near and far for it need not be found again. */
      render(seenFromHere) {
        if (!seenFromHere) this.inner.renderer.resetCameraClippingRange();
        this.inner.renderWindow.render();
        this.write();
      },
      /** The canvas with the picture drawn fine; what is on it is gone with the next frame. */
      fine() {
        this.finer(FINE);
        this.render();
        return this.inner.openglRenderWindow.getCanvas();
      },
      begun() { clearTimeout(this.still); },
      /** The eye to another place, drawn with the next frame. */
      turn(change) {
        this.silent = true;
        this.eye.set(change(this.state()));
        this.silent = false;
        this.told();
        this.$emit("turned", this.state());
        clearTimeout(this.still);
        this.frame ||= requestAnimationFrame(() => { this.frame = 0; this.finer(1); this.render(); });
      },
      done() { this.later(); },
    },
    template: `
      <div class="canvas" ref="box" role="application" aria-roledescription="picture to turn" tabindex="0" :aria-label="what"
        @pointerdown.capture.stop="press" @pointermove.capture.stop="drag" @pointerup.capture.stop="release" @pointercancel.capture.stop="release"
        @wheel.capture.stop.prevent="wheel" @contextmenu.prevent @keydown="key">
        <vtk-view ref="view">
          <lockarc-inside @view="keep"></lockarc-inside>
          <vtk-geometry-representation v-for="body in bodies" :key="body.id" :id="body.id" :property="body.property" :mapper="body.mapper">
            <vtk-polydata :points="body.mesh.points" :polys="body.mesh.polys" :lines="body.mesh.lines">
              <vtk-point-data>
                <vtk-data-array v-if="body.colours" registration="setScalars" name="colour" type="Uint8Array" :number-of-components="3" :values="body.colours"></vtk-data-array>
                <vtk-data-array v-if="body.mesh.normals" registration="setNormals" name="normals" :number-of-components="3" :values="body.mesh.normals"></vtk-data-array>
              </vtk-point-data>
            </vtk-polydata>
          </vtk-geometry-representation>
        </vtk-view>
        <svg class="leads" ref="leads" aria-hidden="true"><line v-for="label in labels" :stroke="inks[label.role][0]" visibility="hidden" /></svg>
        <div class="words" ref="words" aria-hidden="true"><span v-for="label in labels" :class="label.role" :style="{ color: inks[label.role][0], background: inks[label.role][1] }"></span></div>
      </div>`,
  };

  /** A camera as vtk.js has it. */
  function camera(kept) {
    return kept && {
      position: kept.position, focalPoint: kept.focus, viewUp: kept.up, viewAngle: ANGLE,
      parallelProjection: kept.parallel > 0, parallelScale: kept.parallel || 1,
    };
  }

  window.lockarc.scene = { unpacked, coloured, surface, rgb, array, camera };
})();
