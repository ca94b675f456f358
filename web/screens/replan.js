// The rest planned anew while its guide runs: after pieces were lost, when no more strips come of the cloth
// at hand, or for a cloth that is not the one that was told. What that changes is the core's to say; here it
// is asked, shown, and taken.

import { sameStep } from "../lib/mat/another-ruler.js";
import { typedLength } from "../lib/words/measure.js";
import { isPlanned, isWhole, lost, othersRequest, replanRequest, stripsToCome } from "../lib/mat/replan-request.js";
import "../components/replan-dialog.js";
import { why } from "../store/failing.js";

const SIDES = ["length", "width"];

export class Replan {
  #declined = 0;
  #agreed = null;
  #shown = null; // the cloth whose sides are asked for, and these as they stood there

  /** @param {{python, settings, sitting: () => Sitting}} parts */
  constructor(parts) {
    Object.assign(this, parts);
    this.dialog = document.createElement("replan-dialog");
    this.dialog.addEventListener("replan-yes", () => this.#yes());
    this.dialog.addEventListener("replan-no", () => this.#no());
    this.dialog.addEventListener("other-sides", ({ detail }) => this.#typed(detail));
  }

  #say(code, values) {
    return this.settings.words.say(`basket_screen.replan.${code}`, values);
  }

  #sayCloth(code, values) {
    return this.settings.words.say(`mat.another_cloth.${code}`, values);
  }

  /** What the dialog "What happened?" offers at once: [type, title, hint, detail]. */
  offers() {
    const sitting = this.sitting();
    if (!sitting.script.request) return [];
    const planned = isPlanned(sitting);
    const here = !sitting.done;
    const sides = planned
      ? [this.#say("smaller"), this.#say("smaller_hint")]
      : [this.#sayCloth("any"), this.#sayCloth("any_hint")];
    return [
      planned && lost(sitting) > 0 && ["replan", this.#say("open"), this.#say("open_hint", { n: lost(sitting) })],
      here && stripsToCome(sitting) && ["no-more-strips", this.#say("no_more"), this.#say("no_more_hint")],
      here && isWhole(sitting) && ["other-sides", ...sides],
    ].filter(Boolean);
  }

  /** The cloths of the basket that may lie there instead, as soon as the core says which. */
  async offersLater() {
    const sitting = this.sitting();
    if (!isPlanned(sitting) || sitting.done) return [];
    const answer = await this.python.askQuietly(othersRequest(sitting));
    const cloths = answer.ok ? answer.cloths : [];
    return cloths.map((cloth) => [
      "another-cloth",
      this.#sayCloth("is", { name: cloth.id }),
      this.#sayCloth("is_hint", cloth),
      cloth.id,
    ]);
  }

  /** After anything at the mat: where the next cloth is to be taken, and pieces were lost, the rest is planned anew. */
  offer() {
    const sitting = this.sitting();
    if (!isPlanned(sitting) || !sitting.step.pause) return;
    if (lost(sitting) === 0) this.#declined = 0;
    if (lost(sitting) > this.#declined) this.ask();
  }

  /** Plans the rest anew and shows what that changes. */
  ask() {
    return this.#begin(this.#say("title"), { what: "lost" });
  }

  /** No more strips are cut off the cloth at hand. */
  askNoMore() {
    return this.#begin(this.#say("no_more"), { what: "no_more_strips" });
  }

  /** The cloth of the basket with this id lies there instead of the one that was told. */
  askOther(id) {
    const counted = isWhole(this.sitting()) ? null : this.#sayCloth("counts", { name: id });
    return this.#begin(this.#sayCloth("is", { name: id }), { what: "another", cloth: id }, counted);
  }

  /** Asks for the sides of the cloth that lies there. */
  askSides() {
    const { words } = this.settings;
    const sitting = this.sitting();
    const cloth = this.#clothAtHand();
    const title = isPlanned(sitting) ? this.#say("smaller") : this.#sayCloth("any");
    const both = (text) => Object.fromEntries(SIDES.map((side) => [side, text(side)]));
    this.#shown = { cloth, sides: both((side) => words.bare(cloth[side])) };
    this.dialog.open({
      words,
      title,
      sides: { ...this.#shown.sides }, // what is typed is put into it
      labels: both((side) => this.#label(side, cloth)),
    });
  }

  /** The cloth at hand with what is known of its selvage; scripts of before leave that to their request. */
  #clothAtHand() {
    const { script, step } = this.sitting();
    const cloth = script.cloths[step.cloth];
    return { selvage: script.request.cloths?.find(({ id }) => id === cloth.id)?.selvage, ...cloth };
  }

  /** Which side it is, and how it lies to the selvage where that is known. */
  #label(side, { selvage }) {
    const lie = !SIDES.includes(selvage) ? "plain" : side === selvage ? "along" : "away";
    return this.#say(`sides.${side}.${lie}`);
  }

  #typed(sides) {
    const { units, locale } = this.settings.words;
    // What is shown is rounded; a side that nobody changed is as long as it was told.
    const { cloth, sides: shown } = this.#shown;
    const [length, width] = SIDES.map((side) =>
      sides[side] === shown[side] ? cloth[side] : typedLength(sides[side], units, locale),
    );
    const what = isPlanned(this.sitting()) ? "smaller" : "another_size";
    this.dialog.tell({ waiting: true });
    return this.#asked({ what, length, width, id: this.#newName() });
  }

  /** A name for the cloth at hand with its new sides, unlike those of the other cloths. */
  #newName() {
    const { script, step } = this.sitting();
    const name = script.cloths[step.cloth].id;
    const known = (script.request.cloths ?? []).map(({ id }) => id);
    let id = this.#say("smaller_name", { name });
    for (let number = 2; known.includes(id); number += 1) id = this.#say("smaller_name", { name: `${name} ${number}` });
    return id;
  }

  #begin(title, change, counted = null) {
    this.dialog.open({ words: this.settings.words, title, waiting: true });
    return this.#asked(change, counted);
  }

  /** Asks what a change makes of the rest, and tells it. */
  async #asked(change, counted = null) {
    const sitting = this.sitting();
    const { state } = sitting;
    const { question } = this.dialog;
    const answer = await this.python.search(replanRequest(sitting, change));
    if (this.dialog.question !== question) return;
    if (!answer?.ok) return this.#refused(answer.error);
    if (answer.useless) return this.dialog.tell({ waiting: false, facts: [this.#sayCloth("useless")] });
    this.#agreed = { sitting, state, answer };
    const facts = [counted, ...this.#told(answer.change, isPlanned(sitting))].filter(Boolean);
    this.dialog.tell({ waiting: false, sides: null, facts, yes: answer.idle ? null : this.#say("yes") });
  }

  #refused(error) {
    const side = error.field.split(".").at(-1);
    const text = this.settings.words.refusal(error);
    const told = SIDES.includes(side) && this.dialog.view.sides ? { errors: { [side]: text } } : { problem: text };
    this.dialog.tell({ waiting: false, ...told });
  }

  /** What a new plan changes, in sentences; where there is no plan, only how many pieces that makes. */
  #told({ more, fewer, all, before, lacking, next }, planned) {
    const makes = this.#sayCloth("makes", { all, before });
    if (!planned) return [makes];
    const cloths = (code, counts) => {
      const n = Object.values(counts).reduce((sum, one) => sum + one, 0);
      return n > 0 && this.#say(code, { n, names: this.settings.words.list(Object.keys(counts), "names") });
    };
    const [opened, spared] = [cloths("more", more), cloths("fewer", fewer)];
    return [
      opened,
      spared,
      !opened && !spared && this.#say("same"),
      makes,
      lacking ? this.#say("missing", { n: lacking }) : this.#say("nothing_missing"),
      next && this.#say("next", { name: next.cloth, length: next.length, width: next.width }),
    ].filter(Boolean);
  }

  /** Goes on with what was agreed, unless something was counted since. */
  async #yes() {
    const { sitting, state, answer } = this.#agreed;
    const { words } = this.settings;
    if (sitting.state !== state) return this.dialog.tell({ yes: null, problem: words.say("mat.counted_elsewhere") });
    this.#declined = 0;
    this.dialog.tell({ waiting: true });
    const { question } = this.dialog;
    const written = answer.guide && (await this.python.ask(answer.guide));
    if (this.dialog.question !== question) return;
    if (written && !written.ok) return this.#refused(written.error);
    try {
      await this.#switch(written?.script);
      this.dialog.close();
    } catch (error) {
      this.dialog.tell({ waiting: false, problem: words.say(`mat.stored_failed.${why(error)}`) });
    }
  }

  /** Takes the change into the log; where nothing is left to cut it leads to the guide's end. */
  #switch(written) {
    const { sitting, state, answer } = this.#agreed;
    const { steps } = sitting.script;
    if (!written) return sitting.add("switch", { script: state.script, step: steps.length - 1, keep: true });
    const { keep, step } = answer.event;
    const at = keep ? { keep, step: sameStep(steps, state.step, written.steps) } : { step };
    return sitting.add("switch", { script: sitting.scripts.length, ...at }, { ...written, request: answer.guide });
  }

  #no() {
    if (isPlanned(this.sitting())) this.#declined = lost(this.sitting());
    this.dialog.close();
  }
}
