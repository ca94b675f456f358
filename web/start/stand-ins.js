// Functions that a browser may lack, or refuse to a page: what takes their place does less, and the
// page goes on. Loaded first.

/** Puts something in the place of a global that is not there, or that fails when it is tried. */
function standIn(name, instead, tried = () => globalThis[name]) {
  try {
    if (tried()) return;
  } catch {
    // Refused: as if it were not there.
  }
  Object.defineProperty(globalThis, name, { value: instead, configurable: true, writable: true });
}

standIn(
  "structuredClone",
  (value) => JSON.parse(JSON.stringify(value)),
  () => structuredClone({}),
);

/** Other windows are not heard of; they are looked at when this one is seen again. */
class NoChannel extends EventTarget {
  postMessage() {}
  close() {}
}
standIn("BroadcastChannel", NoChannel, () => {
  new BroadcastChannel("matside-tried").close();
  return true;
});

/** Looks when it begins and when the window changes. */
class WindowObserver {
  #told;
  #look = () => this.#told([]);

  constructor(told) {
    this.#told = told;
  }

  observe() {
    setTimeout(this.#look);
    addEventListener("resize", this.#look);
  }

  disconnect() {
    removeEventListener("resize", this.#look);
  }
}
standIn("ResizeObserver", WindowObserver, () => {
  const tried = new ResizeObserver(() => {});
  tried.observe(document.documentElement);
  tried.disconnect();
  return true;
});

/** A worker that could not be started, as the page hears of it. */
class NoWorker extends EventTarget {
  constructor() {
    super();
    setTimeout(() =>
      this.dispatchEvent(
        Object.assign(new Event("error", { cancelable: true }), { message: "this browser starts no worker" }),
      ),
    );
  }

  postMessage() {}
  terminate() {}
}
standIn("Worker", NoWorker);
globalThis.Worker = new Proxy(globalThis.Worker, {
  construct(Real, values) {
    try {
      return new Real(...values);
    } catch {
      return new NoWorker();
    }
  },
});

// A frame that never comes would leave the mat as it was: where none has come for a second in a page
// that is seen, a timer does.
const drawSoon = (draw) => setTimeout(() => draw(performance.now()), 16);
let framed = false;
standIn("requestAnimationFrame", drawSoon, () => requestAnimationFrame(() => (framed = true)));
setTimeout(() => framed || document.hidden || Object.assign(globalThis, { requestAnimationFrame: drawSoon }), 1000);

standIn("CSS", { escape: (text) => String(text).replace(/[^\w-]/g, "\\$&") }, () => CSS.escape("a"));

/** Without a clock that only goes on, the one on the wall has to do. */
standIn("performance", { now: () => Date.now() }, () => performance.now() >= 0);

// Numbers and plurals as English has them.
class PlainNumber {
  constructor(_, { minimumFractionDigits: least = 0, maximumFractionDigits: most = 3 } = {}) {
    Object.assign(this, { least, most: Math.max(least, most) });
  }

  static supportedLocalesOf() {
    return [];
  }

  resolvedOptions() {
    return { numberingSystem: "latn" };
  }

  format(number) {
    const [whole, part = ""] = number.toFixed(this.most).split(".");
    const kept = part.replace(/0+$/, "").padEnd(this.least, "0");
    return kept ? `${whole}.${kept}` : whole;
  }

  formatToParts(number) {
    return this.format(number)
      .split(/(\.)/)
      .map((value) => ({ type: value === "." ? "decimal" : "integer", value }));
  }
}

class PlainPlural {
  select(number) {
    return number === 1 ? "one" : "other";
  }
}

standIn("Intl", {});
for (const [name, instead, tried] of [
  ["NumberFormat", PlainNumber, () => new Intl.NumberFormat("en").formatToParts(1.5)],
  ["PluralRules", PlainPlural, () => new Intl.PluralRules("en").select(1)],
]) {
  try {
    tried();
  } catch {
    Object.defineProperty(Intl, name, { value: instead, configurable: true, writable: true });
  }
}

// A dialog that cannot be put above the page still opens in it.
try {
  HTMLDialogElement.prototype.showModal ??= function () {
    this.setAttribute("open", "");
  };
  HTMLDialogElement.prototype.close ??= function (value = this.returnValue) {
    this.returnValue = value;
    this.removeAttribute("open");
    this.dispatchEvent(new Event("close"));
  };
} catch {
  // There are no dialogs at all.
}
