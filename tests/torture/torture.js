// The hand at the mat in a browser that is killed again and again. Runs before the page's own modules.
//
// It tells the host by synchronous requests what it is about to do and what the page has shown, so that the host knows both at
// the very moment of a kill: POST __torture/<name> with JSON. The host answers when it lets the page go on, or never.

const tell = (name, content = {}) => {
  const asked = new XMLHttpRequest();
  asked.open("POST", `__torture/${name}`, false);
  asked.send(JSON.stringify(content));
  return asked.responseText ? JSON.parse(asked.responseText) : null;
};

// A second cut within half a second would be a bump: the page's clock goes on by leaps.
let leapt = 0;
const real = performance.now.bind(performance);
performance.now = () => real() + leapt;

const how = tell("how");
if (how.watched) watchWrites();

addEventListener("load", () => run().catch((error) => tell("broke", { message: `${error?.stack ?? error}, at ${location.hash}` })));

async function run() {
  const app = document.querySelector('script[src$="main.js"]').src.replace("main.js", "");
  await shown("[data-start=shown] :is(main h1, .mat-sentence)"); // not the screen as it is built
  tell("found", { sittings: await all(), second: await inSecondPlace(app), notice: document.querySelector("notice-bar:not([hidden]) .notice-full")?.textContent ?? "" });
  await atMat(app);
  for (const [act, n] of tell("acts").acts) if (act === "leave" || !isDone()) await doing(act, n, app);
  tell("over");
}

/** Whether all is cut: another cut would leave the mat and count nothing. */
function isDone() {
  return Boolean(document.querySelector(".mat-end:not([hidden])"));
}

/** Every sitting's log, as the database has it. */
function all() {
  return new Promise((done, failed) => {
    const opening = indexedDB.open("matside");
    opening.onerror = failed;
    opening.onsuccess = () => {
      const reading = opening.result.transaction(["sittings", "log"]);
      const [sittings, log] = ["sittings", "log"].map((name) => reading.objectStore(name).getAll());
      reading.oncomplete = () => {
        opening.result.close();
        done(sittings.result.map(({ id }) => ({ id, events: log.result.filter(({ sitting }) => sitting === id).map(({ sequence, event, mark }) => ({ sequence, event, mark })) })));
      };
    };
  });
}

/** How many events of each sitting stand in the second place, as the page itself reads it. */
async function inSecondPlace(app) {
  const { readAll } = await import(`${app}store/spare-files.js`);
  const { sittings, whole } = await readAll();
  const found = new Map(whole?.lengths);
  for (const { id, events } of sittings) found.set(id, Math.max(events.length, found.get(id) ?? 0));
  return Object.fromEntries(found);
}

/** At a guide that is not done: the one at hand, or a new one. Where writes are counted it is a new one at every start of the browser. */
async function atMat(app) {
  const old = how.watched && window.name !== "begun";
  if (document.querySelector(".mat-sentence") && !isDone() && !old) return;
  window.name = "begun"; // outlives the reload
  const { Store } = await import(`${app}store/store.js`);
  const store = new Store();
  const id = crypto.randomUUID();
  tell("begin", { id });
  await store.newSitting({ id, title: {}, started: Date.now(), scripts: [how.script] });
  tell("begun", { id });
  await store.atHand(id);
  location.hash = "#cut";
  location.reload();
  await new Promise(() => {});
}

async function doing(act, n, app) {
  const before = standing();
  leapt += 600;
  tell("attempt", { act });
  if (act === "cut" || act === "undo") document.querySelector("mat-view").dispatchEvent(new CustomEvent("act", { detail: act }));
  else if (act === "leave") document.querySelector("mat-view .mat-top button").click();
  else document.querySelector("mend-dialog").dispatchEvent(new CustomEvent("mended", { detail: { event: act, n } }));
  if (act === "leave") await everythingWritten(app);
  else if (!(await changed(before))) return tell("refused", { act });
  tell("shown", { act });
}

/** Leaving the mat writes everything to the second place; waits until all that is counted stands there and is closed. */
async function everythingWritten(app) {
  const { readAll } = await import(`${app}store/spare-files.js`);
  const written = async () => {
    const { whole } = await readAll();
    return (await all()).every(({ id, events }) => whole?.lengths.get(id) === events.length);
  };
  const late = real() + 20_000;
  while (!(await navigator.locks.request("matside-spare", written))) { // between two writes
    if (real() > late) throw new Error("not everything was written to the second place");
    await new Promise((on) => setTimeout(on, 20));
  }
}

/** What is counted and said at the mat, and the marks of the tally. */
function standing() {
  return [...document.querySelectorAll(".mat-total, .mat-count, .mat-where, .mat-sentence, .mat-undo")].map((part) => part.textContent).join("|");
}

async function changed(before) {
  for (let i = 0; i < 1000; i += 1) {
    if (standing() !== before) return true;
    await new Promise((on) => setTimeout(on, 1));
  }
  return false;
}

async function shown(selector) {
  while (!document.querySelector(selector)) await new Promise((on) => setTimeout(on, 2));
}

/** Says every write before it is done: the host may end the browser there. */
function watchWrites() {
  const before = (prototype, names) => names.forEach((name) => {
    const work = prototype[name];
    prototype[name] = function (...values) {
      tell("write", { what: `${prototype.constructor.name}.${name}` });
      return work.apply(this, values);
    };
  });
  before(IDBObjectStore.prototype, ["add", "put", "delete"]);
  before(Storage.prototype, ["setItem", "removeItem"]);
}
