// Questions to a service worker, bounded in time: one that answers nothing is told from one that answers.

import { faultOf } from "./faults.js";
import { ownName } from "./own-name.js";

const CHECK = 5000; // ms: a worker reads the list of what it keeps, and may have to start first
const REPAIR = 300_000; // ms: it fetches what is lacking
const TAKES_OVER = 15_000; // ms

/**
 * What a worker says of its version, {version, missing, fault?}, after what was lacking has been fetched; null when it
 * says nothing of the kind in time.
 * @param {ServiceWorker} worker
 */
export async function asked(worker) {
  const language = document.documentElement.lang; // which the page speaks, and is to speak without a network
  const found = await tell(worker, { check: ownName(), language }, CHECK);
  if (!found?.missing.length) return found;
  return (await tell(worker, { repair: true, language }, REPAIR)) ?? found;
}

/** As `asked`, and once more when nothing was said: a phone that is short of memory starts a worker slowly. */
export async function checked(worker) {
  return (await asked(worker)) ?? asked(worker);
}

/** Whether what a worker said is that it has all of its version and answers with its own page. */
export function isWhole(found) {
  return found?.missing.length === 0;
}

/** Puts a waiting worker in place; whether it came in. */
export function takenOver(waiting) {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, TAKES_OVER, false);
    navigator.serviceWorker.addEventListener(
      "controllerchange",
      () => {
        clearTimeout(timer);
        resolve(true);
      },
      { once: true },
    );
    waiting.postMessage({ takeOver: true });
  });
}

function tell(worker, message, within) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    const done = (answer) => {
      clearTimeout(timer);
      port1.close();
      resolve(answer);
    };
    const timer = setTimeout(done, within, null);
    port1.onmessage = ({ data }) => done(isAnswer(data) ? { ...data, fault: data.fault && faultOf(data.fault) } : null);
    try {
      worker.postMessage(message, [port2]);
    } catch {
      done(null);
    }
  });
}

function isAnswer(data) {
  return typeof data?.version === "string" && Array.isArray(data.missing);
}
