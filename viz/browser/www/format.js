// Numbers and words, and the place where the page's components are registered.
(function () {
  "use strict";
  const parts = {};

  /** A number with a true minus sign, "–" where there is none. */
  function number(value, decimals) {
    if (value === null || value === undefined) return "–";
    const text = value.toFixed(decimals);
    return (Number(text) === 0 ? text.replace("-", "") : text).replace("-", "−");
  }

  /** The same with a plus sign in front of what is above zero. */
  function signed(value, decimals) {
    const text = number(value, decimals);
    return value !== null && value !== undefined && value > 0 && /[1-9]/.test(text) ? "+" + text : text;
  }

  /** Where a clock points, in words. */
  function towards(clock) {
    const names = ["forward", "forward and outboard", "outboard", "rearward and outboard",
      "rearward", "rearward and inboard", "inboard", "forward and inboard"];
    return names[Math.round(clock / 45) % 8];
  }

  /** A handwheel angle in words. */
  function lock(degrees) {
    const way = degrees > 0.05 ? "left" : degrees < -0.05 ? "right" : "straight ahead";
    return way === "straight ahead" ? way : number(Math.abs(degrees), 0) + "° " + way;
  }

  /** Whether what is to be seen from some views alone, or not from some, is seen from a view. */
  function seenFrom(views, view) {
    return (!views.only.length || views.only.includes(view)) && !views.never.includes(view);
  }

  window.lockarc = {
    parts,
    format: { number, signed, towards, lock, seenFrom },
    install(app) {
      for (const [name, part] of Object.entries(parts)) app.component(name, part);
    },
  };
})();
