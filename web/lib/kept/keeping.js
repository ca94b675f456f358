// Whether the browser will keep what the page has stored, and how much that is.

const DAY_LIMITED = "Apple"; // the maker whose browsers clear pages unused for 7 days, but not those on the home screen

let asked = false;

/** Asks the browser, once, not to clear what is kept. Best after some work: then it is granted more readily. */
export async function askToKeep() {
  if (asked) return;
  asked = true;
  await persist();
}

/** Asks again, when the user wants it; whether it is promised now. */
export async function persist() {
  return (await navigator.storage?.persist?.().catch(() => false)) ?? false;
}

/**
 * {promised: true, false or null where it is not told, cleared: whether unused pages are cleared,
 * used, room: bytes or null}
 */
export async function keeping() {
  const [promised, { usage = null, quota = null }] = await Promise.all([
    navigator.storage?.persisted?.().catch(() => null) ?? null,
    navigator.storage?.estimate?.().catch(() => ({})) ?? {},
  ]);
  return { promised, cleared: isCleared(), used: usage, room: quota };
}

function isCleared() {
  const installed = globalThis.matchMedia?.("(display-mode: standalone)").matches || navigator.standalone === true;
  return !installed && (navigator.vendor ?? "").startsWith(DAY_LIMITED);
}
