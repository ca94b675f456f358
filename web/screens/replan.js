// The rest of a plan, planned anew while its guide runs: after pieces were lost, or for a cloth that is smaller than planned.

import { typedLength } from "../lib/measure.js";
import { changes, isPlanned, isWhole, lost, restOf, restRequest } from "../lib/replanning.js";
import "../components/replan-dialog.js";

const PAUSES = ["swap", "done"]; // steps at which one plan can follow another

export class Replan {
  #declined = 0;
  #agreed = null;

  /** @param {{python, settings, sitting: () => Sitting}} parts */
  constructor(parts) {
    Object.assign(this, parts);
    this.dialog = document.createElement("replan-dialog");
    this.dialog.addEventListener("replan-yes", () => this.#yes());
    this.dialog.addEventListener("replan-no", () => this.#no());
    this.dialog.addEventListener("smaller-sides", ({ detail }) => this.#smaller(detail));
  }

  #say(code, values) {
    return this.settings.words.say(`basket_screen.replan.${code}`, values);
  }

  /** What the dialog "What happened?" offers: [type, title, hint]. */
  offers() {
    const sitting = this.sitting();
    if (!isPlanned(sitting)) return [];
    return [
      lost(sitting) > 0 && ["replan", this.#say("open"), this.#say("open_hint", { n: lost(sitting) })],
      !sitting.done && isWhole(sitting) && ["smaller", this.#say("smaller"), this.#say("smaller_hint")],
    ].filter(Boolean);
  }

  /** After anything at the mat: where the next cloth is to be taken, and pieces were lost, the rest is planned anew. */
  offer() {
    const sitting = this.sitting();
    if (!isPlanned(sitting) || !PAUSES.includes(sitting.step.do)) return;
    if (lost(sitting) === 0) this.#declined = 0;
    if (lost(sitting) > this.#declined) this.ask();
  }

  /** Plans the rest anew and shows what that changes. */
  async ask(smaller = null) {
    const { words } = this.settings;
    const sitting = this.sitting();
    this.dialog.open({ words, title: this.#say(smaller ? "smaller" : "title"), waiting: true });
    const rest = restOf(sitting, smaller);
    const plan = await this.python.search({ ask: "plan", pieces: rest.pieces, cloths: rest.cloths });
    if (!plan?.ok) return this.dialog.tell({ waiting: false, problem: words.refusal(plan.error) });
    this.#agreed = { sitting, rest, plan, now: Boolean(smaller) || PAUSES.includes(sitting.step.do) };
    this.dialog.tell({ waiting: false, facts: this.#told(rest, plan), yes: this.#yesCode(plan) });
  }

  askSmaller() {
    const { script, step } = this.sitting();
    const { length, width } = script.cloths[step.cloth];
    const { words } = this.settings;
    this.dialog.open({ words, title: this.#say("smaller"), sides: { length: words.bare(length), width: words.bare(width) } });
  }

  #smaller({ length, width }) {
    const { script, step } = this.sitting();
    const { units, locale } = this.settings.words;
    const name = script.cloths[step.cloth].id;
    const known = script.request.cloths.map(({ id }) => id);
    let id = this.#say("smaller_name", { name });
    for (let number = 2; known.includes(id); number += 1) id = this.#say("smaller_name", { name: `${name} ${number}` });
    return this.ask({ id, length: typedLength(length, units, locale), width: typedLength(width, units, locale) });
  }

  #yesCode(plan) {
    if (!plan.layouts.length && !this.#agreed.rest.planned.length) return null;
    return this.#say(this.#agreed.now ? "yes" : "yes_later");
  }

  #told(rest, plan) {
    const { more, fewer, missing, next } = changes(rest, plan);
    const lacking = Object.values(missing).reduce((sum, n) => sum + n, 0);
    return [
      more.length > 0 && this.#say("more", { n: more.length, names: [...new Set(more)].join("; ") }),
      fewer.length > 0 && this.#say("fewer", { n: fewer.length, names: [...new Set(fewer)].join("; ") }),
      !more.length && !fewer.length && this.#say("same"),
      lacking ? this.#say("missing", { n: lacking }) : this.#say("nothing_missing"),
      next && this.#say("next", { name: next.cloth, length: next.length, width: next.width }),
    ].filter(Boolean);
  }

  /** Goes on with the new plan; in the middle of a cloth, once that is cut. */
  async #yes() {
    const { sitting, rest, plan, now } = this.#agreed;
    this.#declined = 0;
    if (!now) return this.dialog.close();
    this.dialog.tell({ waiting: true });
    if (!plan.layouts.length) return this.#nothingLeft();
    const request = restRequest(sitting, rest, plan);
    const answer = await this.python.ask(request);
    if (!answer.ok) return this.dialog.tell({ waiting: false, problem: this.settings.words.refusal(answer.error) });
    try {
      await sitting.add("switch", { script: sitting.scripts.length, step: 0 }, { ...answer.script, request });
      this.dialog.close();
    } catch (error) {
      this.dialog.tell({ waiting: false, problem: this.settings.words.say("mat.stored_failed", { reason: error.message }) });
    }
  }

  /** A new plan that cuts nothing more: the guide goes to its end. */
  async #nothingLeft() {
    const { sitting } = this.#agreed;
    await sitting.add("switch", { script: sitting.state.script, step: sitting.script.steps.length - 1, keep: true });
    this.dialog.close();
  }

  #no() {
    this.#declined = lost(this.sitting());
    this.dialog.close();
  }
}
