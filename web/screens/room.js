// The big-screen view, for a leader who shows a room how it is done: it walks over the steps, and nothing is counted.

import { Looking } from "../lib/mat/looking.js";
import { told } from "../lib/mat/telling.js";
import { Demonstration } from "./demonstration.js";
import "../components/room-view.js";

/** px: a narrower screen has no room for letters of this size. */
export const ROOM_WIDE = 1200;
// What a presenter's remote sends, and what is near at hand on a keyboard.
const KEYS = {
  ArrowRight: "next",
  PageDown: "next",
  " ": "next",
  ArrowLeft: "back",
  PageUp: "back",
  Escape: "leave",
};

export class Room {
  #looking = null;

  /** @param {{settings, leave}} parts */
  constructor({ settings, leave }) {
    Object.assign(this, { settings, leave });
    this.view = document.createElement("room-view");
    this.demonstration = new Demonstration({
      settings,
      sitting: () => this.#looking,
      drawing: () => this.view.drawing,
    });
    this.view.append(this.demonstration.dialog); // it is read from as far
    for (const act of ["next", "back", "leave", "show-me"]) this.view.addEventListener(act, () => this.#act(act));
  }

  /** Whether this screen is wide enough. */
  static get fits() {
    return innerWidth >= ROOM_WIDE;
  }

  /** Begins where a sitting stands; gives the function that ends it. */
  enter(sitting) {
    this.#looking = new Looking(sitting);
    const heard = (event) => this.#heard(event);
    addEventListener("keydown", heard);
    this.#draw();
    this.view.sentence.focus({ preventScroll: true });
    return () => {
      removeEventListener("keydown", heard);
      this.demonstration.dialog.dialog?.close();
    };
  }

  #heard(event) {
    const { key, ctrlKey, altKey, metaKey, target } = event;
    const act = KEYS[key];
    if (!act || ctrlKey || altKey || metaKey || target.closest?.("dialog")) return;
    // A button that was reached by keyboard is pressed by Space, as any button.
    if (key === " " && target.closest?.("button:focus-visible")) return;
    event.preventDefault();
    this.#act(act);
  }

  #act(act) {
    this.view.drawing.rest();
    if (act === "leave") return this.leave();
    if (act === "show-me") return this.demonstration.show();
    if (this.#looking[act]()) this.#draw();
  }

  #draw() {
    const { words, values } = this.settings;
    this.view.show({
      ...told(this.#looking, this.settings),
      words,
      hand: values.hand,
      canBack: !this.#looking.isFirst,
      canNext: !this.#looking.done,
      canShow: this.demonstration.offered,
    });
  }
}
