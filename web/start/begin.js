// From an answer to the mat: what is said and settled before a guide begins.

import { pickedFor } from "../lib/kept/picked.js";
import { why } from "../store/failing.js";

export class Beginning {
  #under = null;

  /**
   * @param {{python, words, settings, shelf, screens, asking, say, goTo, tidy}} parts `asking` is the dialog about what
   *   is under way, `say(text)` tells at the top of the page, `goTo(name)` goes to a screen
   */
  constructor(parts) {
    Object.assign(this, parts);
  }

  /** Begins the guide for a request; a second tap while one is on its way begins nothing. */
  begin(request) {
    this.#under ??= this.#begin(request).finally(() => (this.#under = null));
    return this.#under;
  }

  async #begin(request) {
    const mat = await this.screens.ready("cut");
    if (!mat) return this.goTo("cut"); // which says why it is not there
    if (!(await this.#may(mat))) return;
    const full = await this.withHabits(request);
    const answer = full && (await this.python.ask(full));
    if (!answer) return;
    if (!answer.ok) return this.say(this.words.refusal(answer.error));
    try {
      await mat.begin({ ...answer.script, request: full }, request);
    } catch (error) {
      return this.say(this.words.say(`mat.stored_failed.${why(error)}`));
    }
    this.tidy();
    this.goTo("cut");
  }

  /** Where something is half done, what becomes of it is said before anything else is begun. */
  async #may(mat) {
    if (!mat.halfDone) return true;
    this.asking.open(mat.halfDone, this.words);
    const choice = await new Promise((chosen) =>
      this.asking.addEventListener("chosen", ({ detail }) => chosen(detail), { once: true }),
    );
    if (choice === "go_on") this.goTo("cut");
    return choice === "begin";
  }

  /** A request for a guide with everything that the user has settled once for all; null where that was given up. */
  async withHabits(request) {
    const { hand, lay, layers, mat: side, placing, tolerance, across, chosen } = this.settings.values;
    const owned = this.shelf.owned();
    const piece = chosen && request.piece && (await this.python.ask({ ask: "piece", piece: request.piece }));
    const picked = piece?.ok ? pickedFor(this.settings.values, piece, owned) : null;
    return {
      ...request,
      hand,
      lay,
      layers,
      mat: side,
      rulers: owned,
      placing,
      tolerance,
      across,
      chosen: picked ?? null,
    };
  }
}
