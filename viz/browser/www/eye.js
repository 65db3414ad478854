// Where the picture is seen from: turned with a level horizon, moved and zoomed, by mouse, fingers and keys.
(function () {
  "use strict";
  const TURN = Math.PI / 500;  // rad a pixel
  const STEEPEST = 1.55;  // rad: the horizon stays level, so nobody looks past straight down
  const KEY_PX = 30, KEY_ZOOM = 1.15, WHEEL = 0.0012;
  const LEVEL = [0, 0, 1];

  const minus = (a, b) => a.map((n, i) => n - b[i]);
  const plus = (a, b, times = 1) => a.map((n, i) => n + times * b[i]);
  const cross = ([a, b, c], [x, y, z]) => [b * z - c * y, c * x - a * z, a * y - b * x];
  const unit = (a) => { const long = Math.hypot(...a); return a.map((n) => n / long); };

  /** Turned about what is looked at, by so many pixels to the right and down. */
  function turned(eye, right, down) {
    const arm = minus(eye.position, eye.focalPoint), far = Math.hypot(...arm);
    const flat = Math.hypot(arm[0], arm[1]);
    const way = flat > 1e-3 * far ? [arm[0], arm[1]] : [-eye.viewUp[0], -eye.viewUp[1]];  // from straight above: what is up lies ahead
    const about = Math.atan2(way[1], way[0]) - TURN * right;
    const above = Math.max(-STEEPEST, Math.min(STEEPEST, Math.atan2(arm[2], flat) + TURN * down));
    const out = [Math.cos(above) * Math.cos(about), Math.cos(above) * Math.sin(about), Math.sin(above)];
    return { ...eye, position: plus(eye.focalPoint, out, far), viewUp: LEVEL };
  }

  /** Moved sideways, so that the picture follows a finger by so many pixels of so many that it is high. */
  function moved(eye, right, down, high) {
    const arm = minus(eye.focalPoint, eye.position), ahead = unit(arm);
    const half = eye.parallelProjection ? eye.parallelScale : Math.hypot(...arm) * Math.tan(eye.viewAngle * Math.PI / 360);
    const across = unit(cross(ahead, eye.viewUp)), up = cross(across, ahead), px = 2 * half / high;
    const by = plus(across.map((n) => -n * right * px), up, down * px);
    return { ...eye, position: plus(eye.position, by), focalPoint: plus(eye.focalPoint, by) };
  }

  /** So many times nearer. */
  function zoomed(eye, times) {
    const arm = minus(eye.position, eye.focalPoint);
    return { ...eye, position: plus(eye.focalPoint, arm, 1 / times), parallelScale: eye.parallelScale / times };
  }

  /** As numbers for an address: where from, where to, and the scale of a view without perspective. */
  function numbers(eye) {
    return [...eye.position, ...eye.focalPoint, eye.parallelProjection ? eye.parallelScale : 0].map((n) => Number(n.toFixed(1)));
  }

  /** The eye of such numbers; how it is held is as in the preset, where that looks straight down. */
  function from(at, preset) {
    const eye = { ...preset, position: at.slice(0, 3), focalPoint: at.slice(3, 6), parallelScale: at[6] || preset.parallelScale };
    const ahead = unit(minus(eye.focalPoint, eye.position));
    return { ...eye, viewUp: Math.abs(ahead[2]) > 0.9998 ? preset.viewUp : LEVEL };
  }

  /** Fingers, mouse and keys on the picture; `turn` of the view does what they ask. */
  const hands = {
    created() { this.down = new Map(); },
    methods: {
      press(event) {
        this.$refs.box.setPointerCapture?.(event.pointerId);
        this.down.set(event.pointerId, event);
        this.begun();
      },
      drag(event) {
        const before = this.down.get(event.pointerId);
        if (!before) return;
        const high = this.$refs.box.clientHeight, other = [...this.down].find(([id]) => id !== event.pointerId)?.[1];
        const right = event.clientX - before.clientX, down = event.clientY - before.clientY;
        this.down.set(event.pointerId, event);
        if (other) {
          const apart = (one) => Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY) || 1;
          this.turn((eye) => zoomed(moved(eye, right / 2, down / 2, high), apart(event) / apart(before)));
        } else if (event.shiftKey || event.buttons > 1) {
          this.turn((eye) => moved(eye, right, down, high));
        } else {
          this.turn((eye) => turned(eye, right, down));
        }
      },
      release(event) {
        if (this.down.delete(event.pointerId) && !this.down.size) this.done();
      },
      wheel(event) { this.turn((eye) => zoomed(eye, Math.exp(-WHEEL * event.deltaY))); this.done(); },
      key(event) {
        const [right, down] = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] || [0, 0];
        const times = { "+": KEY_ZOOM, "=": KEY_ZOOM, "-": 1 / KEY_ZOOM }[event.key];
        if (event.ctrlKey || event.metaKey || event.altKey || (!times && !right && !down)) return;
        event.preventDefault();
        const high = this.$refs.box.clientHeight;
        if (times) this.turn((eye) => zoomed(eye, times));
        else this.turn((eye) => (event.shiftKey ? moved(eye, KEY_PX * right, KEY_PX * down, high) : turned(eye, KEY_PX * right, KEY_PX * down)));
        this.done();
      },
    },
  };

  window.lockarc.eye = { turned, moved, zoomed, numbers, from, hands };
})();
