// The plan at hand: what it is called, how it is passed on, and what came in its place. Nothing is dropped by a plan that
// is taken over: the one before it is kept beside.

import { likenessOfCut } from "./layouts.js";
import { likeness, NAMELESS, planOf, pointed } from "./plan.js";
import { fitted, listOf, maybe, such } from "../lib/kept/kinds.js";
import { newId } from "../lib/kept/ids.js";

const HAND = "plan-in-hand";
const BESIDE = "plans";
const GIVEN = "plan-given";
/** So many plans are kept beside the one at hand; the oldest goes. */
export const MOST_BESIDE = 20;

const PLAN = such((value) => typeof value?.id === "string" && Boolean(value.quilt && value.basket && value.count));
const FRESH = Object.freeze({ id: "", of: "", ...NAMELESS, shares: null });

/** Events: `change` whenever what is kept of it is another. */
export class Plans extends EventTarget {
  hand = FRESH;
  beside = []; // {at, plan}, the newest first
  given = null; // a plan that came and was not taken over yet

  /**
   * @param {{store, settings, shelf, screens}} parts `screens` gives `states()`, what the screens hold, and `take(plan)`,
   *   which puts a plan in place of that
   */
  constructor(parts) {
    super();
    Object.assign(this, parts);
  }

  /** Takes back what is kept; gives whether nothing of it had to be replaced. */
  async restore() {
    const [hand, beside, given] = await Promise.all([HAND, BESIDE, GIVEN].map((name) => this.store.get(name)));
    const found = {
      hand: fitted(hand, { id: "", of: "", title: "", date: "", by: "", shares: null }, FRESH),
      beside: fitted(beside, listOf({ at: 0, plan: PLAN }), []),
      given: fitted(given, maybe(PLAN), null),
    };
    for (const [name, { value }] of Object.entries(found)) this[name] = value;
    return Object.values(found).every(({ whole }) => whole);
  }

  /**
   * The plan as it is now, to be passed on with what is wanted of it: {rulers, names, layouts}, the last whether what is cut
   * from which cloth goes along.
   */
  async now({ rulers = false, names = false, layouts = true } = {}) {
    const states = await this.screens.states();
    await this.#named(likeOf(states));
    const { id, title, date, by, shares } = this.hand;
    const plan = planOf(layouts ? states : { ...states, layouts: null }, {
      id,
      units: this.settings.values.units,
      said: { title, date, by },
      rulers: rulers ? this.shelf.owned() : null,
      withNames: names,
      shares,
    });
    return pointed(plan, this.settings.words.locale);
  }

  /** Says what the plan is called, when it is for, and who passes it on. */
  say(change) {
    return this.#setHand({ ...this.hand, ...change });
  }

  /** A plan came: it is shown, and changes nothing until it is taken over. Null leaves it. */
  async give(plan) {
    this.given = plan;
    await this.store.put(GIVEN, plan);
    this.#changed();
  }

  /** Takes over what came; what was here is kept beside it. Gives what brings it back. */
  async take(plan = this.given) {
    const before = await this.now({ rulers: false, names: true });
    await this.#keepBeside(before, plan);
    await this.#putInPlace(plan);
    if (this.given === plan) await this.give(null);
    return () => this.#putInPlace(before);
  }

  /** Takes one that is kept beside. */
  use(place) {
    return this.take(this.beside[place].plan);
  }

  /** Takes one that is kept beside out of what is kept; gives what puts it back. */
  async remove(place) {
    const before = this.beside;
    await this.#setBeside(before.filter((_, i) => i !== place));
    return () => this.#setBeside(before);
  }

  /** Whether a plan is the one at hand. */
  async isHere(plan) {
    return likeness(plan) === likeness(await this.now({ names: true }));
  }

  /** Takes in what a copy kept of others; gives how many were new. */
  async takeIn(plans) {
    const here = new Set(this.beside.map(({ plan }) => likeness(plan)));
    const others = plans.filter(({ plan }) => !here.has(likeness(plan)));
    await this.#setBeside([...this.beside, ...others]);
    return others.length;
  }

  /** Another plan has another name of its own, so that counts of two plans are never taken for those of one. */
  async #named(of) {
    if (this.hand.id && this.hand.of === of) return;
    await this.#setHand({ ...this.hand, id: newId().replaceAll("-", "").slice(0, 10), of, shares: null });
  }

  async #keepBeside(before, next) {
    const like = likeness(before);
    if (like === likeness(next) || !(await this.screens.wasChanged())) return;
    const others = this.beside.filter(({ plan }) => ![like, likeness(next)].includes(likeness(plan)));
    await this.#setBeside([{ at: Date.now(), plan: before }, ...others]);
  }

  async #putInPlace(plan) {
    await this.screens.take(plan);
    const { id, title = "", date = "", by = "", shares = null } = plan;
    await this.#setHand({ id, of: likeOf(await this.screens.states()), title, date, by, shares });
    if (plan.rulers) await this.#takeRulers(plan.rulers);
  }

  /** Rulers that came are known from then on; which of them are here, their owner says. */
  async #takeRulers(rulers) {
    const known = new Set(this.shelf.entries().map(({ ruler }) => ruler.name));
    for (const ruler of rulers.filter(({ name }) => !known.has(name))) await this.shelf.add(ruler);
  }

  async #setHand(hand) {
    this.hand = hand;
    await this.store.put(HAND, hand);
    this.#changed();
  }

  async #setBeside(beside) {
    this.beside = beside.slice(0, MOST_BESIDE);
    await this.store.put(BESIDE, this.beside);
    this.#changed();
  }

  #changed() {
    this.dispatchEvent(new Event("change"));
  }
}

/**
 * What makes what the screens hold the same plan: what is cut, once that is laid out. Whatever else is changed meanwhile,
 * its people go on counting for it.
 */
function likeOf(states) {
  const plan = planOf(states, { id: "", units: "", said: NAMELESS, rulers: null, withNames: false, shares: null });
  return plan.layouts?.cut.length ? likenessOfCut(plan.layouts) : likeness(plan);
}
