// What the page tells of itself: notices that have to be read, how it stands with Python and the network,
// faults nobody waited for.

import { notices } from "../lib/page/notices.js";

const FAULTS = [TypeError, ReferenceError, SyntaxError, RangeError];

/** What has to be read stands above every screen until it is. */
export function showNotices(bar, words) {
  const show = () => bar.show(notices.first, words);
  notices.addEventListener("change", show);
  bar.addEventListener("notice-read", () => notices.read());
  show();
}

/** How the page stands with Python and the network, at its top. */
export function tellStanding(page, { python, offline, words, underWay }) {
  const tell = () => page.standing({ python, offline, underWay: underWay() });
  const start = () => offline.start().catch(() => {}); // without it the page goes on
  python.addEventListener("stage", () => {
    tell();
    if (["ready", "failed"].includes(python.stage)) start();
  });
  python.addEventListener("late", tell);
  offline.addEventListener("state", tell);
  page.addEventListener(
    "update",
    async () => (await offline.applyUpdate()) || offline.state !== "update" || page.say(words.say("updates.held")),
  );
  page.addEventListener("retry", () => (python.stage === "failed" ? python.retry() : start()));
  tell();
}

/** A fault of the page itself that nothing has caught is said; what a browser refuses is told where it was tried. */
export function tellFaults() {
  const tell = (error) => FAULTS.some((kind) => error instanceof kind) && notices.tell("fault");
  addEventListener("error", ({ error }) => tell(error));
  addEventListener("unhandledrejection", ({ reason }) => tell(reason));
}

/** Where the address came without a secure connection, what cannot be done there is said once. */
export async function tellInsecure(settings) {
  if (globalThis.isSecureContext !== false || settings.values.insecureRead) return;
  notices.tell("insecure", {}, () => settings.set({ insecureRead: true }).catch(() => {}));
}
