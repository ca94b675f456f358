// Why a version could not be kept, as a kind that the catalogue has words for under "updates".

// The build puts the hash of all before it last in the service worker's script: one that is cut, altered,
// empty or another's has not.
const END = / \/\/ matside ([0-9a-f]{64})\s*$/;

/** Whether the service worker's script is on the host as it was built; null without a network. */
export async function isSound(url) {
  try {
    const response = await fetch(url, { cache: "no-store" });
    return (
      response.ok &&
      /\bjavascript\b/.test(response.headers.get("Content-Type")) &&
      (await isAsBuilt(await response.text()))
    );
  } catch {
    return null;
  }
}

async function isAsBuilt(text) {
  const end = END.exec(text);
  if (!end) return false;
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text.slice(0, end.index)));
  return end[1] === [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

const TOLD = ["storage", "network", "host"];

/** A fault as a service worker told it; one of a kind that only another version knows is one that was not said. */
export function faultOf({ kind, detail }) {
  return { kind: TOLD.includes(kind) ? kind : "unsaid", detail: String(detail) };
}

/** Why a script could not be registered: {kind, detail}. The browser's own words go into a report only. */
export async function whyNotRegistered(url, error) {
  const sound = await isSound(url);
  const kind =
    sound === null
      ? "network"
      : !sound
        ? "host"
        : (await isFull()) || error.name === "QuotaExceededError"
          ? "storage"
          : "refused";
  return { kind, detail: String(error) };
}

/** Why an installation ended that did not say why: {kind, detail}. */
export async function guess() {
  const kind = (await isFull()) ? "storage" : navigator.onLine === false ? "network" : "unsaid";
  return { kind, detail: "" };
}

async function isFull() {
  const { quota = 0, usage = 0 } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {};
  return quota > 0 && quota - usage < 30e6;
}
