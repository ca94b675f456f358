// The rest planned anew while its guide runs: after pieces were lost, or for a cloth that is not the one that was told.

import { othersThere, planWith, requestWith, restWith, switchTo } from "../lib/another-cloth.js";
import { typedLength } from "../lib/measure.js";
import { changes, isPlanned, isWhole, lost, restOf, restRequest } from "../lib/replanning.js";
import "../components/replan-dialog.js";

const PAUSES = ["swap", "done"]; // steps at which one plan can follow another
const FROM_START = { step: 0 };

export class Replan {
  #declined = 0;
  #agreed = null;

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

  /** What the dialog "What happened?" offers: [type, title, hint, detail]. */
  offers() {
    const sitting = this.sitting();
    if (!isPlanned(sitting)) return this.#offersForOne(sitting);
    const others = sitting.done ? [] : othersThere(sitting);
    return [
      lost(sitting) > 0 && ["replan", this.#say("open"), this.#say("open_hint", { n: lost(sitting) })],
      !sitting.done && isWhole(sitting) && ["other-sides", this.#say("smaller"), this.#say("smaller_hint")],
      ...others.map((cloth) => ["another-cloth", this.#sayCloth("is", { name: cloth.id }), this.#sayCloth("is_hint", cloth), cloth.id]),
    ].filter(Boolean);
  }

  /** A guide for one cloth: any other takes its place by its sides. */
  #offersForOne(sitting) {
    const fits = sitting.script.request?.cloth && !sitting.done && isWhole(sitting);
    return fits ? [["other-sides", this.#sayCloth("any"), this.#sayCloth("any_hint")]] : [];
  }

  /** After anything at the mat: where the next cloth is to be taken, and pieces were lost, the rest is planned anew. */
  offer() {
    const sitting = this.sitting();
    if (!isPlanned(sitting) || !PAUSES.includes(sitting.step.do)) return;
    if (lost(sitting) === 0) this.#declined = 0;
    if (lost(sitting) > this.#declined) this.ask();
  }

  /** Plans the rest anew and shows what that changes. */
  ask() {
    const sitting = this.sitting();
    const rest = restOf(sitting);
    this.dialog.open({ words: this.settings.words, title: this.#say("title"), waiting: true });
    return this.#planned(rest, (plan) => restRequest(sitting, rest, plan), { now: PAUSES.includes(sitting.step.do) });
  }

  /** Asks for the sides of the cloth that lies there. */
  askSides() {
    const sitting = this.sitting();
    const { length, width } = sitting.script.cloths[sitting.step.cloth];
    const { words } = this.settings;
    const title = isPlanned(sitting) ? this.#say("smaller") : this.#sayCloth("any");
    this.dialog.open({ words, title, sides: { length: words.bare(length), width: words.bare(width) } });
  }

  /** The cloth of the basket with this id lies there instead of the one that was told. */
  askOther(id) {
    const sitting = this.sitting();
    const rest = restWith(id, sitting);
    this.dialog.open({ words: this.settings.words, title: this.#sayCloth("is", { name: id }), waiting: true });
    const counted = rest.begun && this.#sayCloth("counts", { name: id });
    return this.#planned(rest, (plan) => requestWith(rest, sitting, plan), { counted, goOn: (script) => switchTo(script, rest, sitting) });
  }

  #typed({ length, width }) {
    const { units, locale } = this.settings.words;
    const sides = { length: typedLength(length, units, locale), width: typedLength(width, units, locale) };
    this.dialog.tell({ waiting: true });
    return isPlanned(this.sitting()) ? this.#smaller(sides) : this.#oneCloth(sides);
  }

  #smaller(sides) {
    const sitting = this.sitting();
    const name = sitting.script.cloths[sitting.step.cloth].id;
    const known = sitting.script.request.cloths.map(({ id }) => id);
    let id = this.#say("smaller_name", { name });
    for (let number = 2; known.includes(id); number += 1) id = this.#say("smaller_name", { name: `${name} ${number}` });
    const rest = restOf(sitting, { smaller: { id, ...sides } });
    return this.#planned(rest, (plan) => restRequest(sitting, rest, plan));
  }

  /** Finds a plan for the rest and tells what it changes; `requestOf(plan)` is the guide's request for it. */
  async #planned(rest, requestOf, { now = true, counted = null, goOn = null } = {}) {
    const sitting = this.sitting();
    const { grain } = sitting.script.request;
    const { question } = this.dialog;
    const plan = await planWith(rest, (pieces, cloths) => this.python.search({ ask: "plan", pieces, cloths, grain }));
    if (this.dialog.question !== question) return;
    if (!plan?.ok) return this.#refused(plan.error);
    if (rest.here && !plan.layouts.length) return this.dialog.tell({ waiting: false, facts: [this.#sayCloth("useless")] });
    this.#agreed = { sitting, now, goOn, request: plan.layouts.length || rest.cut ? requestOf(plan) : null };
    this.dialog.tell({ waiting: false, sides: null, facts: [counted, ...this.#told(rest, plan)].filter(Boolean), yes: this.#yesCode(rest, plan) });
  }

  /** One cloth, no plan: the guide for it anew, the way that gives the most. */
  async #oneCloth(sides) {
    const sitting = this.sitting();
    const { request } = sitting.script;
    const left = (request.cloth.count ?? 1) - sitting.step.cloth; // this one and those that follow it
    const cloth = { ...request.cloth, ...sides, count: left };
    const { question } = this.dialog;
    const counted = await this.python.ask({ ask: "cloth", piece: request.piece, cloth });
    if (this.dialog.question !== question) return;
    if (!counted.ok) return this.#refused(counted.error);
    const anew = { ...request, cloth, way: counted.best.way };
    const answer = await this.python.ask(anew);
    if (this.dialog.question !== question) return;
    if (!answer.ok) return this.#refused(answer.error);
    this.#agreed = { sitting, now: true, goOn: null, request: anew };
    const facts = [this.#makes(sitting.counts().total + left * counted.best.pieces)];
    this.dialog.tell({ waiting: false, sides: null, facts, yes: this.#say("yes") });
  }

  #refused(error) {
    const side = error.field.split(".").at(-1);
    const text = this.settings.words.refusal(error);
    const told = ["length", "width"].includes(side) && this.dialog.view.sides ? { errors: { [side]: text } } : { problem: text };
    this.dialog.tell({ waiting: false, ...told });
  }

  #yesCode(rest, plan) {
    if (!plan.layouts.length && !rest.planned.length) return null;
    return this.#say(this.#agreed.now ? "yes" : "yes_later");
  }

  #makes(all) {
    return this.#sayCloth("makes", { all, before: this.sitting().expected() });
  }

  #told(rest, plan) {
    const { more, fewer, missing, next } = changes(rest, plan);
    const sum = (counts) => Object.values(counts).reduce((total, n) => total + n, 0);
    const lacking = sum(missing);
    return [
      more.length > 0 && this.#say("more", { n: more.length, names: [...new Set(more)].join("; ") }),
      fewer.length > 0 && this.#say("fewer", { n: fewer.length, names: [...new Set(fewer)].join("; ") }),
      !more.length && !fewer.length && this.#say("same"),
      this.#makes(sum(rest.before) + sum(plan.made)),
      lacking ? this.#say("missing", { n: lacking }) : this.#say("nothing_missing"),
      next && this.#say("next", { name: next.cloth, length: next.length, width: next.width }),
    ].filter(Boolean);
  }

  /** Goes on with the new plan; in the middle of a cloth, once that is cut. */
  async #yes() {
    const { now, request } = this.#agreed;
    this.#declined = 0;
    if (!now) return this.dialog.close();
    this.dialog.tell({ waiting: true });
    const { question } = this.dialog;
    const answer = request && (await this.python.ask(request));
    if (this.dialog.question !== question) return;
    if (answer && !answer.ok) return this.#refused(answer.error);
    try {
      await this.#switch(answer?.script);
      this.dialog.close();
    } catch (error) {
      this.dialog.tell({ waiting: false, problem: this.settings.words.say("mat.stored_failed", { reason: error.message }) });
    }
  }

  /** Takes the change into the log; a new plan that cuts nothing more leads to the guide's end. */
  #switch(written) {
    const { sitting, request, goOn } = this.#agreed;
    if (!written) return sitting.add("switch", { script: sitting.state.script, step: sitting.script.steps.length - 1, keep: true });
    const script = { ...written, request };
    return sitting.add("switch", goOn ? goOn(script) : { script: sitting.scripts.length, ...FROM_START }, script);
  }

  #no() {
    if (isPlanned(this.sitting())) this.#declined = lost(this.sitting());
    this.dialog.close();
  }
}
