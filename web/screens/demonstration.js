// "Show me": a step's moves in the mat's own drawing, the first times that they are met and whenever they are asked
// for; as pictures that stand still where no movement is wanted.

import { isNew, kindsOf, movesOf, seenOnceMore } from "../lib/mat/moves.js";
import { filmOf } from "../lib/mat/poses.js";
import { stillText } from "../lib/mat/still-words.js";
import { wantsStills } from "../lib/page/playing.js";
import "../components/show-me.js";

export class Demonstration {
  #met = null; // the step that was met last
  #practised = new Set(); // kinds that were shown in the practice at hand

  /** @param {{settings, sitting, drawing}} parts `sitting` and `drawing` give what is shown now */
  constructor({ settings, sitting, drawing }) {
    Object.assign(this, { settings, sitting, drawing });
    this.dialog = document.createElement("show-me");
    this.dialog.addEventListener("moving", () => this.#play());
  }

  /** Whether the step at hand has anything to show. */
  get offered() {
    const { script, state } = this.sitting();
    return movesOf(script, state.step).length > 0;
  }

  /** A step stands there: where it has a kind of move that is new, its moves are shown. */
  met() {
    const { id, step, script, state } = this.sitting();
    if (this.#met?.step === step) return;
    if (this.#met?.id !== id) this.#practised.clear();
    this.#met = { id, step };
    const kinds = kindsOf(script, state.step);
    if (!kinds.length || wantsStills(this.settings.values) || !this.#isNew(kinds, script)) return;
    kinds.forEach((kind) => this.#practised.add(kind));
    this.#play();
    this.settings.set({ shown: seenOnceMore(kinds, this.settings.values.shown) }).catch(() => {});
  }

  /** Practice shows each kind of move, however often it was seen before. */
  #isNew(kinds, { request }) {
    if (request?.practice) return kinds.some((kind) => !this.#practised.has(kind));
    return isNew(kinds, this.settings.values.shown);
  }

  /** Asked for: moving, or as pictures. */
  show() {
    if (wantsStills(this.settings.values)) this.stills();
    else this.#play();
  }

  #play() {
    const film = this.#film();
    if (film) this.drawing().play(film);
  }

  #film() {
    const { script, state } = this.sitting();
    return filmOf(script, state.step);
  }

  /** The moves as pictures, each with its line. */
  stills() {
    const { script, step } = this.sitting();
    const { words } = this.settings;
    this.drawing().rest();
    this.dialog.open({
      stills: this.#film()
        .stills()
        .map(({ move, pose }) => ({ text: stillText({ move, step, words }), pose })),
      scene: { scene: script.scenes[step.scene], over: step.over, at: step.at, next: step.next },
      words,
      moving: !wantsStills(this.settings.values),
    });
  }
}
