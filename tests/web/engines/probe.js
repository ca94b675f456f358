// What the browser has for this page, by name. Nothing is believed that can be tried without asking the user.
async () => {
  const tried = async (trying) => {
    try {
      return Boolean(await trying());
    } catch {
      return false;
    }
  };
  /** A worker writes a file of the page's own and flushes it, as the second place does. */
  const ownFile = () => new Promise((done, failed) => {
    const worker = new Worker("probe-worker.js");
    worker.onmessage = ({ data }) => done(data);
    worker.onerror = failed;
  });
  const heard = () => new Promise((done) => {
    const [one, other] = [new BroadcastChannel("probe"), new BroadcastChannel("probe")];
    other.onmessage = () => done(true);
    one.postMessage("heard");
  });
  const probes = {
    "service worker": () => navigator.serviceWorker.register("probe-service-worker.js"),
    "own files": ownFile,
    locks: () => navigator.locks.request("probe", () => true),
    "other windows": heard,
    "awake screen": async () => (await window.awake).type === "screen", // asked for by the tap
    vibration: () => navigator.vibrate,
    "codes in pictures": () => window.BarcodeDetector,
    "kept for good": () => navigator.storage.persist,
    "room told": async () => (await navigator.storage.estimate()).quota > 0,
    sharing: () => navigator.share,
    clipboard: () => navigator.clipboard.writeText,
    "random names": () => crypto.randomUUID(),
    voice: () => window.speechSynthesis,
    database: () => new Promise((done, failed) => Object.assign(indexedDB.open("probe"), { onsuccess: done, onerror: failed, onblocked: failed })),
    "trusted types": () => window.trustedTypes,
  };
  return Object.fromEntries(await Promise.all(Object.entries(probes).map(async ([name, probe]) => [name, await tried(probe)])));
}
