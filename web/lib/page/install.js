// Whether the page can be put on the home screen here, and how.

/**
 * `how` is "done" where it is there already, "button" where the browser has offered one, "ios", "firefox" or "mac" where
 * it is done by hand in the browser's own menus, or null where nothing is known of it. Events: `change`.
 */
export class Install extends EventTarget {
  #offer = null;

  constructor() {
    super();
    globalThis.addEventListener?.("beforeinstallprompt", (event) => {
      event.preventDefault(); // it is offered when there is something to keep
      this.#set(event);
    });
    globalThis.addEventListener?.("appinstalled", () => this.#set(null));
  }

  get how() {
    if (standsAlone()) return "done";
    return this.#offer ? "button" : byHand();
  }

  /** Opens the browser's own question; whether it was answered with yes. */
  async ask() {
    const offer = this.#offer;
    if (!offer) return false;
    await offer.prompt();
    const { outcome } = await offer.userChoice;
    this.#set(null);
    return outcome === "accepted";
  }

  #set(offer) {
    this.#offer = offer;
    this.dispatchEvent(new Event("change"));
  }
}

function standsAlone() {
  return Boolean(navigator.standalone || globalThis.matchMedia?.("(display-mode: standalone)").matches);
}

/** Engines that give no button: told apart by what only they have, and by their names where there is nothing else. */
function byHand() {
  const { userAgent = "", standalone, vendor = "" } = navigator;
  if (standalone === false) return "ios";
  if (/Android/.test(userAgent) && /Firefox/.test(userAgent)) return "firefox";
  return /Apple/.test(vendor) && /Macintosh/.test(userAgent) ? "mac" : null;
}
