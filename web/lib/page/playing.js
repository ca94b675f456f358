// What moves on the screen: drawn frame by frame, once.

/** Calls `draw(ms)` with every frame for so long, then `ended()`; gives what stops it at once, after which nothing is called. */
export function play(lasts, draw, ended) {
  let began = null;
  let frame = requestAnimationFrame(next);
  function next(now) {
    began ??= now;
    const ms = now - began;
    frame = ms < lasts ? requestAnimationFrame(next) : null;
    if (ms < lasts) draw(ms);
    else ended();
  }
  return () => cancelAnimationFrame(frame);
}

/** Whether whoever looks wants no movement: by the device's setting, or by the page's own. */
export function wantsStills({ motion }) {
  return motion === "none" || Boolean(globalThis.matchMedia?.("(prefers-reduced-motion: reduce)").matches);
}
