// Runs Python (Pyodide and the core) away from the page.
//
// page → worker
//   {start: {pyodide, python}}     once, first: absolute URLs of the folders with Pyodide and with our Python
//   {id, ask}                      a request of the stable door, as an object
//   {id, work}                     the same, as a search: done slice by slice, newer questions first
//   {id, stop: true}               drops the search of that id; nothing more is sent for it
//   {id, pause: true}              tells the best so far of that search in full, as soon as there is one, and waits
//   {id, goOn: true}               goes on with a search that waits
//   {ping: number}                 answered in its turn, between slices and after what was asked before
// worker → page
//   {stage: 'loading' | 'starting' | 'ready' | 'failed', message?}    'failed' is final and has a message
//   {id, answer}                   the core's answer, refusals included (`answer.ok` is false)
//   {pong: number}                 the answer to a ping
//   {id, progress}                 how far a search is, and the best so far
//   {id, error: {code, message}}   Python broke (code 'python_broke'); plain: an Error does not clone everywhere
//
// JSON text crosses the border to Python, never a proxy.

import { shareSmallModules } from "./shared-modules.js";
import { openWheels, startOptions } from "./start-options.js";

shareSmallModules();

let bridge = null;

const actions = { start, ask, work, stop, pause, goOn, ping: ({ ping }) => self.postMessage({ pong: ping }) };

self.addEventListener("message", ({ data }) => {
  const name = Object.keys(actions).find((each) => each in data);
  if (name) actions[name](data);
});

// ---- starting

async function start({ start: folders }) {
  try {
    stage("loading");
    bridge = await startedBridge(folders);
    stage("ready");
  } catch (error) {
    stage("failed", { message: describe(error) });
  }
}

async function startedBridge(folders) {
  tellNothingOfImports();
  // What pyodide.mjs loads next, asked for at once; if it cannot be had, that tells.
  fetchAhead(`${folders.pyodide}pyodide.asm.wasm`, `${folders.python}python_stdlib.zip`);
  import(`${folders.pyodide}pyodide.asm.mjs`).catch(() => {});
  const [{ loadPyodide }, options] = await Promise.all([
    import(`${folders.pyodide}pyodide.mjs`),
    startOptions(folders, fetched),
  ]);
  const interpreter = await new Promise((resolve, reject) => {
    onFailureOfWasm(reject);
    // Called when the interpreter itself is there and only the core is still to be put in.
    const fsInit = (files) => options.fsInit(files).then(() => stage("starting"), reject);
    loadPyodide({ ...options, fsInit }).then(resolve, reject);
  });
  openWheels(interpreter, options);
  return interpreter.pyimport("matside.bridge");
}

// Whoever asks for one of them later gets this very answer: of another the browser would not keep what it compiles.
function fetchAhead(...urls) {
  const { fetch } = self;
  const ahead = new Map(urls.map((url) => [url, fetch(url)]));
  for (const answer of ahead.values()) answer.catch(() => {});
  self.fetch = (url, ...options) => {
    const answer = ahead.get(String(url)) ?? fetch(url, ...options);
    ahead.delete(String(url));
    return answer;
  };
}

// Pyodide tries an import that only a classic worker has, to hear that this is none; the page's policy would complain of it.
function tellNothingOfImports() {
  self.importScripts = () => {
    throw new TypeError("a module has no importScripts");
  };
}

async function fetched(url, sha256) {
  const response = await fetch(url, sha256 && { integrity: `sha256-${inBase64(sha256)}` });
  if (!response.ok) throw new Error(`${response.status} for ${url}`);
  return new Uint8Array(await response.arrayBuffer());
}

function inBase64(hex) {
  return btoa(String.fromCharCode(...hex.match(/../g).map((byte) => parseInt(byte, 16))));
}

// Pyodide only logs that its WebAssembly cannot be had, and waits for ever.
function onFailureOfWasm(reject) {
  const instantiate = WebAssembly.instantiateStreaming;
  WebAssembly.instantiateStreaming = (...sources) => {
    const instance = instantiate.apply(WebAssembly, sources);
    instance.catch(reject);
    return instance;
  };
}

function stage(name, more = {}) {
  self.postMessage({ stage: name, ...more });
}

// ---- questions

function ask({ id, ask: request }) {
  answering(id, () => self.postMessage({ id, answer: JSON.parse(bridge.answer(JSON.stringify(request))) }));
}

function answering(id, action) {
  try {
    action();
  } catch (error) {
    self.postMessage({ id, error: { code: "python_broke", message: describe(error) } });
    // An exception in Python leaves it sound; anything else (no memory, a trap in WebAssembly) does not.
    if (error.name !== "PythonError") stage("failed", { message: describe(error) });
    return false;
  }
  return true;
}

function describe(error) {
  return String(error?.message ?? error);
}

// ---- searches: one slice, then whatever has arrived meanwhile, then the next slice

const searches = new Map(); // id of the message → number that the bridge knows the search by

function work({ id, work: request }) {
  answering(id, () => {
    searches.set(id, bridge.start_search(JSON.stringify(request)));
    soon(id);
  });
}

function stop({ id }) {
  if (searches.has(id)) bridge.stop_search(searches.get(id));
  searches.delete(id);
  pausing.delete(id);
  waiting.delete(id);
}

// Ids of searches that pause after the slice at hand, or as soon as they have something to show.
const pausing = new Set();
const waiting = new Set(); // ids of searches that have paused

function pause({ id }) {
  if (searches.has(id)) pausing.add(id);
}

function goOn({ id }) {
  pausing.delete(id);
  if (waiting.delete(id)) soon(id);
}

function slice(id) {
  let found = next(id);
  // A plan that takes several slices to be told may have come just now.
  if (pausing.has(id) && !found?.progress?.plan) found = next(id, "show");
  if (!searches.has(id)) return;
  if (!found.progress.plan) return soon(id);
  pausing.delete(id);
  waiting.add(id);
}

/** What the search finds next, told to the page; nothing where it is over, or Python broke. */
function next(id, wish) {
  if (!searches.has(id)) return undefined;
  let found;
  const fine = answering(id, () => {
    found = JSON.parse(bridge.next_slice(searches.get(id), wish));
    self.postMessage({ id, ...found });
  });
  if (!fine || found.answer) stop({ id });
  return found;
}

// A message to ourselves queues up behind the messages that the page has sent: those are answered first.
const turns = new MessageChannel();
turns.port1.onmessage = ({ data }) => slice(data);

function soon(id) {
  turns.port2.postMessage(id);
}
