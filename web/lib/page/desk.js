// Whether the page is as wide as a desk's screen: then a form stands beside its picture, and the tabs stand on top.

const query = globalThis.matchMedia?.("(width >= 900px)");

/** Whether it is so now. */
export function atDesk() {
  return Boolean(query?.matches);
}

/** Calls `act` whenever that changes. */
export function whenDeskChanges(act) {
  query?.addEventListener?.("change", act);
}
