// Which screen is shown, by the part of the address behind "#". Works from any folder and offline.

/** Calls `show(name, rest)` now and at every change; an unknown or empty name becomes the first of `names`. */
export function route(names, show) {
  const now = () => {
    const [name, ...rest] = location.hash.slice(1).split("/");
    show(names.includes(name) ? name : names[0], rest);
  };
  addEventListener("hashchange", now);
  now();
}

/** Goes to a screen. */
export function go(name) {
  location.hash = name;
}
