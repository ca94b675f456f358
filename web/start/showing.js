// Which screen stands on the page: the one that the address names, or what is said in its place.

import { route } from "../lib/page/router.js";

const REPAIR = "repair"; // an address of its own: what can be done where something is broken

export class Showing {
  #now = null; // [name, rest] of what the address names
  #release = null;
  #shown = null; // the name of the screen that stands

  /**
   * @param {{page, screens, tabs, words, offline, mended, foot}} parts `tabs` are the names of the screens that have a tab;
   *   `foot(element)` gives what stands below a screen
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.screens.addEventListener("change", ({ detail: name }) => this.#now?.[0] === name && this.#enter());
  }

  /** Shows what the address names, now and at every change. */
  start() {
    route([...this.screens.names, REPAIR], (name, rest) => {
      this.#now = [name, rest];
      this.#enter();
    });
  }

  /** The screen that the address names now. */
  static named(names) {
    const name = location.hash.slice(1).split("/")[0];
    return names.includes(name) ? name : names[0];
  }

  /** Goes to a screen, or shows it anew where it stands already. */
  goTo(name) {
    if (location.hash === `#${name}`) this.#enter();
    else location.hash = name;
  }

  #enter() {
    const [name, rest] = this.#now;
    if (name !== "cut") this.#leaveMat();
    if (this.#shown && this.#shown !== name && this.#shown !== "cut") this.screens.get(this.#shown)?.exit?.();
    this.#shown = name;
    if (name === REPAIR) return this.#say(name, "title", "about");
    if (this.screens.problem(name))
      return this.#say(
        name,
        "part_title",
        this.screens.isFresh(name) ? "part_broken" : "part_missing",
        this.screens.problem(name),
      );
    if (!this.screens.get(name)) {
      this.screens.ready(name);
      return this.#say(name, "part_name", "part_coming");
    }
    try {
      this.#show(name, rest);
    } catch (error) {
      this.#again(name, error);
    }
  }

  /** A mat that cannot even be left must not keep one from the other screens. */
  #leaveMat() {
    try {
      this.screens.get("cut")?.exit();
    } catch (error) {
      this.screens.fail("cut", error);
    }
  }

  #show(name, rest) {
    const screen = this.screens.get(name);
    const atMat = name === "cut" && Boolean(screen.sitting);
    const element = screen.element();
    const foot = !atMat && name !== "terms" && this.foot(element);
    this.page.show(this.#tabOf(name, rest), element, atMat, foot);
    screen.enter(rest);
    this.#hold(atMat || (!this.tabs.includes(name) && rest[0] === "cut"));
  }

  /**
   * A screen that cannot be shown as it was is made without what was kept of it; if that does not help, it is broken.
   */
  async #again(name, error) {
    if (this.screens.isFresh(name)) {
      this.screens.fail(name, error);
      return this.#enter();
    }
    if (await this.screens.anew(name)) this.mended(name);
  }

  #say(name, title, about, error = null) {
    const { words, page } = this;
    const view = document.createElement("repair-view");
    const part = name === REPAIR ? {} : { name: words.say(`repair.screen.${name}`) };
    const { matside } = globalThis;
    view.show({
      title: words.say(`repair.${title}`, part),
      about: words.say(`repair.${about}`),
      report: matside?.report(error?.message) ?? String(error?.message ?? ""),
      canRepair: Boolean(matside),
      words,
    });
    view.addEventListener("repair", () => matside.repair((code) => view.tell(code)));
    page.show(this.#tabOf(name, []), view, false);
    this.#hold(false);
  }

  /** The tab that a screen belongs to. */
  #tabOf(name, [from]) {
    return this.tabs.includes(name) || name === "terms" ? name : from === "cut" ? "cut" : "tools";
  }

  /** No new version takes over while cutting. */
  #hold(cutting) {
    try {
      this.#release?.();
      this.#release = cutting ? this.offline.hold() : null;
    } catch {
      this.#release = null; // a browser without locks holds nothing
    }
  }
}
