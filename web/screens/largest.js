// "How large a quilt does this basket give?": asked from the basket, answered with the quilt drawn in that size,
// and taken over in one tap.

import { isBroken } from "../lib/asking/asking.js";
import { h, refill } from "../lib/page/dom.js";
import { buyingRequest, quiltRequest } from "../lib/quilt/quilt-request.js";
import { TimedSearch } from "../lib/asking/timed-search.js";
import "../components/largest-view.js";

const MOST_WORK = 20_000_000; // steps: minutes; one may stop it at any time

export class Largest {
  /**
   * @param {{python, settings, quilt, cloths, basket, labels, takeSize, paintQuilt, refuse}} parts `cloths()` gives the
   *   basket's cloths with the quilt's own fabrics, `basket()` the basket's state, `labels()` the fabrics' names;
   *   `takeSize(size)` gives the quilt another size and returns the one that it had; `refuse(error)` says what is wrong
   *   at its field, null that nothing is
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.found = null;
    this.before = null;
    this.search = new TimedSearch(this.python);
    this.root = h("div", { class: "section" });
    this.view = document.createElement("largest-view");
    this.picture = h("canvas", { class: "largest-picture", role: "img" });
    this.progress = h("p", { class: "progress", role: "status" });
    this.search.addEventListener("change", () => this.#searched());
    this.view.addEventListener("use-size", ({ detail }) => this.#use(detail));
    this.view.addEventListener("size-back", () => this.#back());
  }

  #say(code, values) {
    return this.settings.words.say(`largest.${code}`, values);
  }

  /** What is found belongs to a quilt and a basket that are others now. */
  forget() {
    this.search.drop();
    [this.found, this.before] = [null, null];
  }

  #request() {
    const { quilt, usable_width, straighten, shrink, round_to, fat_quarter, square } = buyingRequest(
      this.quilt().state,
      this.settings.words,
    );
    const { grain, left_out } = this.basket();
    return {
      ask: "largest",
      quilt,
      cloths: this.cloths(),
      grain,
      left_out,
      usable_width,
      straighten,
      shrink,
      round_to,
      fat_quarter,
      square,
    };
  }

  /** The same quilt in any of its sizes makes the same question, as long as it keeps its proportion. */
  #key() {
    return JSON.stringify(this.#request());
  }

  async #find() {
    this.forget();
    this.refuse(null);
    this.asked = this.#key();
    const answer = await this.search.begin({ ...JSON.parse(this.asked), work: MOST_WORK });
    if (answer && !answer.ok && !isBroken(answer)) this.refuse(answer.error);
    this.show();
  }

  async #searched() {
    const { stage, plan } = this.search;
    if (["paused", "done"].includes(stage) && plan && plan !== this.found) {
      this.found = plan;
      await this.#draw(plan.sure);
    }
    if (stage === "searching" && this.progress.isConnected) this.#tellProgress();
    else this.show();
  }

  /** The quilt in that size, in its fabrics. */
  async #draw(sure) {
    this.picture.hidden = true;
    if (!sure) return;
    const { words } = this.settings;
    const answer = await this.python.ask({ ask: "quilt", ...quiltRequest(sized(this.quilt().state, sure), words) });
    if (!answer.ok || !answer.drawing) return;
    this.picture.hidden = false;
    this.picture.setAttribute("aria-label", this.#say("drawn", { ...sure.finished, n: sure.pieces }));
    this.paintQuilt(this.picture, answer);
  }

  #use({ columns, rows }) {
    this.before = this.takeSize({ by: "steps", steps: { columns: String(columns), rows: String(rows) } });
    this.asked = this.#key();
    this.show();
  }

  #back() {
    this.takeSize(this.before);
    this.before = null;
    this.asked = this.#key();
    this.show();
  }

  // Showing.

  #tellProgress() {
    const { progress } = this.search;
    const { columns, rows } = progress?.best ?? {};
    const text = columns ? this.#say(progress.buying ? "buying" : "so_far", { columns, rows }) : this.#say("searching");
    if (this.progress.textContent !== text) this.progress.textContent = text;
  }

  show() {
    const { words } = this.settings;
    const { stage } = this.search;
    const quilt = this.quilt();
    const ready = Boolean(quilt.answer) && this.basket().cloths.length > 0;
    const stale = Boolean(this.found) && this.#key() !== this.asked;
    if (this.found)
      this.view.show({
        found: this.found,
        picture: this.picture,
        used: Boolean(this.before),
        stale,
        roundTo: quilt.state.buying.round_to,
        fabricOf: (id) => this.labels()[id] ?? id,
        words,
      });
    const button = (key, code, act) =>
      h("button", { type: "button", class: "button", "data-key": key, onclick: act }, this.#say(code));
    const searching = stage === "searching";
    if (searching) this.#tellProgress();
    refill(
      this.root,
      !this.found && !searching && h("p", { class: "soft" }, this.#say(ready ? "hint" : "unready")),
      this.found && this.view,
      stale && !searching && h("p", { class: "soft", role: "status" }, this.#say("stale")),
      searching && this.progress,
      searching && button("largest-stop", "stop", () => this.search.pause()),
      stage === "paused" && !stale && this.#mayFindMore() && button("largest-on", "go_on", () => this.search.goOn()),
      ready &&
        !searching &&
        (!this.found || stale) &&
        button("largest-find", this.found ? "find_again" : "find", () => this.#find()),
    );
  }

  /** Whether looking longer can change more than which cloths stay over. */
  #mayFindMore() {
    return this.found && !(this.found.last || (this.found.larger_ruled_out && this.found.next));
  }
}

/** A quilt's state in a size by columns and rows. */
function sized(state, { columns, rows }) {
  return { ...state, by: "steps", steps: { columns: String(columns), rows: String(rows) } };
}
