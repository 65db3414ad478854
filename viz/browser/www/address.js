// The page's address holds what is fitted and how it is looked at: a bookmark or a message opens it again.
(function () {
  "use strict";
  const REST_MS = 320;  // browsers refuse a page that writes its address without pause

  let timer = 0, wanted = "", written = -REST_MS;

  function put() {
    clearTimeout(timer);
    written = performance.now();
    const now = window.location.pathname + wanted;
    if (wanted && now !== window.location.pathname + window.location.search) window.history.replaceState(null, "", now);
  }

  /** Write the query behind the page's path: at once, or when the last time is long enough ago. */
  function keep(query) {
    if (!query) return;
    wanted = "?" + query;
    clearTimeout(timer);
    timer = setTimeout(put, Math.max(0, written + REST_MS - performance.now()));
  }

  /** Looks as a query: the angle of lock, and of all else what is not as the page opens. */
  function looks(shown) {
    const pairs = Object.entries(shown).filter(([, value]) => value !== null);
    return pairs.map(([key, value]) => `&${key}=${encodeURIComponent(value).replace(/%2C/g, ",")}`).join("");
  }

  window.lockarc.address = { keep, looks };
})();
