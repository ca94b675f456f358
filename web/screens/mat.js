// The guide: shows the sitting at hand and takes what happens at the mat into its log.

import { goOnWith, NotWithThese } from "../lib/mat/another-ruler.js";
import { h, refill } from "../lib/page/dom.js";
import { Hold } from "../lib/mat/hold.js";
import { allowed, tally } from "../lib/mat/fold.js";
import { inHand } from "../lib/mat/in-hand.js";
import { askToKeep } from "../lib/kept/keeping.js";
import { listen } from "../lib/mat/inputs.js";
import { wantsStills } from "../lib/page/playing.js";
import { go } from "../lib/page/router.js";
import { Sitting } from "../lib/mat/sitting.js";
import { why } from "../store/failing.js";
import { AT_HAND, Removed } from "../store/store.js";
import { farInches } from "../lib/words/measure.js";
import { pileText } from "../lib/words/pile-text.js";
import { spoken, told } from "../lib/mat/telling.js";
import { Demonstration } from "./demonstration.js";
import { Replan } from "./replan.js";
import { Room } from "./room.js";
import "../components/mat-view.js";
import "../components/mend-dialog.js";
import "../components/ruler-swap.js";
import "../components/say-dialog.js";
import "../components/where-dialog.js";
import { termList } from "../components/term-list.js";

const TABLE_ACTS = { spoiled: { n: 1 }, spoiled_before: { n: 1 } };
const LULL = 300; // ms after leaving the mat until all is written to the second place
const KNOWN = 6; // taps after which "Tap when done" is known, and makes room where there is little
const ELSEWHERE = ["count", "quilt", "basket", "tools"];

export class MatScreen {
  #stopListening = () => {};
  #fresh = true;
  #problem = null;
  #frame = null;
  #darkUntil = -1; // so many events may be counted while a screen that may go dark is told of
  #cutSince = false; // whether anything was counted since all of the store was put into the second place

  /**
   * @param {{python, store, settings, facts, shelf, glossary, wake, voice, blade, leave, check, again}}
   * parts what the page wires it to
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.sitting = null;
    this.hold = new Hold();
    this.view = document.createElement("mat-view");
    this.mending = document.createElement("mend-dialog");
    this.placing = document.createElement("where-dialog");
    this.saying = document.createElement("say-dialog");
    this.swapping = document.createElement("ruler-swap");
    this.demonstration = new Demonstration({
      settings: this.settings,
      sitting: () => this.sitting,
      drawing: () => this.view.drawing,
    });
    this.room = new Room({ settings: this.settings, leave: () => go("cut") });
    this.replan = new Replan({ python: this.python, settings: this.settings, sitting: () => this.sitting });
    this.#wire();
    this.#watchOthers();
    this.hold.addEventListener("change", () => this.#show());
  }

  /** Takes back the sitting that was cut last, without Python. One that cannot be read here stays in the store. */
  async restore() {
    const id = await this.store.get(AT_HAND);
    if (id) await this.#takeBack(id).catch(() => {});
  }

  async #takeBack(id) {
    const record = await this.store.sitting(id);
    if (record) this.#take(new Sitting(record, this.#parts()));
    return Boolean(record);
  }

  /** Makes a sitting of before the one at hand; whether it is still there. */
  async takeUp(id) {
    this.#fresh = true;
    if (!(await this.#takeBack(id))) return false;
    await this.store.atHand(id).catch(() => {}); // what is counted is stored all the same
    return true;
  }

  /** A sitting is no more: it is not at hand any longer either. */
  async drop(id) {
    if (this.sitting?.id !== id) return;
    this.sitting = null;
    await this.store.atHand(null);
  }

  /**
   * Begins a guide and makes it the one at hand; one that is half cut stays among the earlier
   * ones, which was said before.
   */
  async begin(script, title) {
    this.#fresh = false;
    this.#take(await Sitting.begin(script, title, this.#parts()));
    await this.store.atHand(this.sitting.id);
  }

  /** Whether there is a guide that is not cut to its end. */
  get underWay() {
    return Boolean(this.sitting) && !this.sitting.done;
  }

  /** What would be left half done if another guide were begun: its counts; null where nothing has been done in it. */
  get halfDone() {
    return this.underWay && this.sitting.events.length ? this.sitting.counts() : null;
  }

  element() {
    if (!this.sitting) return this.#nothing();
    this.main = h(
      "main",
      { class: "mat", "aria-label": this.settings.words.say("mat.resume_title") },
      this.view,
      ...this.#dialogs(),
    );
    return this.main;
  }

  /** With nothing begun: that it is so, and from where to begin. */
  #nothing() {
    const say = (code) => this.settings.words.say(`mat.nothing.${code}`);
    return h(
      "main",
      { class: "screen" },
      h("h1", {}, say("title")),
      h("p", {}, say("hint")),
      h(
        "nav",
        { class: "list", "aria-label": say("title") },
        ELSEWHERE.map((name, i) =>
          h("a", { class: i ? "button link" : "button main link", href: `#${name}` }, say(name)),
        ),
      ),
    );
  }

  #dialogs() {
    const { mending, placing, saying, swapping, demonstration, replan } = this;
    return [mending, placing, saying, swapping, demonstration.dialog, replan.dialog];
  }

  /** At the mat, or before a room where the address says so and the screen is wide enough. */
  enter([view] = []) {
    this.#stopListening();
    if (!this.sitting) return;
    if (view === "room") return this.#enterRoom();
    this.#stopListening = listen(
      () => this.settings.values,
      (act) => this.act(act),
    );
    this.wake.hold();
    this.hold.hold(this.sitting.id);
    this.#problem = null;
    this.#draw(); // at once: what stood here may be another sitting's
  }

  /** Shows only: nothing is counted, and another window may count meanwhile. */
  #enterRoom() {
    if (!Room.fits) return location.replace("#cut");
    this.hold.letGo();
    this.wake.hold();
    refill(this.main, this.room.view);
    this.#stopListening = this.room.enter(this.sitting);
  }

  /** The screen is left: nothing listens and nothing keeps awake any more. */
  exit() {
    this.#dialogs().forEach((part) => part.querySelector("dialog")?.close());
    this.#stopListening();
    this.wake.release();
    this.hold.letGo();
    this.voice.hush();
    this.#keepWhole();
  }

  /** At the end of cutting everything goes to the second place as well, once the page has nothing else to do. */
  #keepWhole() {
    if (!this.#cutSince) return;
    this.#cutSince = false;
    setTimeout(() => this.store.keepWhole().catch(() => {}), LULL);
  }

  #parts() {
    return { store: this.store, table: this.facts.table };
  }

  #take(sitting) {
    this.sitting = sitting;
    this.#problem = null;
    sitting.addEventListener("change", () => this.#show());
    sitting.addEventListener("added", () => this.others?.postMessage(sitting.id));
    sitting.addEventListener("overtaken", () => this.#tell(this.settings.words.say("mat.counted_elsewhere")));
  }

  /**
   * Several windows may show the same sitting: each hears of what the others count, and looks
   * anew when it is seen again.
   */
  #watchOthers() {
    this.others = globalThis.BroadcastChannel ? new BroadcastChannel("matside-sitting") : null;
    this.others?.addEventListener("message", ({ data }) => data === this.sitting?.id && this.sitting.refresh());
    document.addEventListener("visibilitychange", () => document.hidden || this.sitting?.refresh());
  }

  /** Sittings of these ids have changed in the store: the one at hand, here and in other windows, looks anew. */
  changedElsewhere(ids) {
    if (ids.includes(this.sitting?.id)) this.sitting.refresh();
    ids.forEach((id) => this.others?.postMessage(id));
  }

  #wire() {
    this.view.addEventListener("act", ({ detail }) => this.#tapped(detail));
    this.view.addEventListener("leave", () => this.leave());
    this.view.addEventListener("mend", () => this.#mend());
    this.view.addEventListener("where", () => this.#where());
    this.view.addEventListener("why", () => this.#why());
    this.view.addEventListener("show-me", () => this.demonstration.show());
    this.view.addEventListener("room", () => go("cut/room"));
    this.view.addEventListener("check", () => this.check());
    this.view.addEventListener("take-over", () => this.#takeOver());
    this.view.addEventListener("again", () => this.again(this.sitting.title));
    this.mending.addEventListener("check-angle", () => this.check());
    this.mending.addEventListener("another-ruler", () => this.#askRulers());
    this.mending.addEventListener("replan", () => this.replan.ask());
    this.mending.addEventListener("no-more-strips", () => this.replan.askNoMore());
    this.mending.addEventListener("other-sides", () => this.replan.askSides());
    this.mending.addEventListener("another-cloth", ({ detail }) => this.replan.askOther(detail));
    this.swapping.addEventListener("swap", ({ detail }) => this.#swap(detail));
    this.mending.addEventListener("mended", ({ detail }) => this.act(detail.event, { n: detail.n }));
    this.placing.addEventListener("undo-to", ({ detail }) => this.act("undo", { n: detail }));
    this.wake.addEventListener("change", () => this.#woken());
  }

  /** This window counts from now on, from where the log stands. */
  async #takeOver() {
    await this.sitting.refresh().catch(() => {});
    await this.hold.takeOver();
  }

  /** A tap in the zone, or on "Undo". How often the hint was followed matters only until it is known. */
  async #tapped(name) {
    const { tapped } = this.settings.values;
    if ((await this.act(name)) === true && name === "cut" && tapped < KNOWN)
      this.settings.set({ tapped: tapped + 1 }).catch(() => {});
  }

  /** Everything that happens at the mat comes through here: taps, keys, pedals, knocks, and mending. */
  async act(name, more = TABLE_ACTS[name] ?? {}) {
    this.view.rest(); // a hand is at work: nothing moves but what it does
    // At a check it is the piece counted last.
    if (name === "spoiled" && !this.#limits("spoiled")) return this.act("spoiled_before");
    this.voice.prime();
    if (name === "repeat") return this.#repeat();
    if (name === "closer") return this.view.closeUp();
    if (this.hold.state === "following") return this.voice.tick("refused");
    if (name === "cut" && this.sitting.done) return !this.sitting.bumped && this.leave();
    const { step } = this.sitting;
    try {
      const taken = await this.sitting.add(name, more);
      if (taken) this.#followed(name, step);
      return taken;
    } catch (error) {
      const { words } = this.settings;
      this.#tell(error instanceof Removed ? words.say("mat.removed") : words.say(`mat.stored_failed.${why(error)}`));
      this.voice.tick("refused");
      return false;
    }
  }

  /** After an act was stored: the blade has cut, the ear is told, and a fresh sitting is fresh no more. */
  #followed(name, step) {
    this.#fresh = false;
    this.#problem = null;
    this.#cutSince = true;
    askToKeep();
    if (this.sitting.done) this.#keepWhole();
    // The cut itself is stored: it is no reason to stop.
    if (["cut", "spoiled"].includes(name) && step.cut) this.blade.add(step.cut).catch(() => {});
    if (this.settings.values.ticks)
      this.voice.tick(this.sitting.step.do === "strip_done" || this.sitting.done ? "strip" : "cut");
    this.#speak();
    this.#show();
    this.view.isConnected && this.replan.offer();
  }

  #speak() {
    const text = spoken(this.sitting, this.#aloud);
    if (text) this.voice.say(text);
    else this.voice.remember(told(this.sitting, this.#aloud).sentence);
  }

  #repeat() {
    this.voice.say(spoken(this.sitting, this.#aloud) || told(this.sitting, this.#aloud).sentence);
  }

  /** The settings with their words as they are spoken. */
  get #aloud() {
    const { words, values } = this.settings;
    return { words: words.aloud, values };
  }

  /** The step in full, what is to be minded at it, and why it is done. */
  #why() {
    const { words, values } = this.settings;
    const full = told(this.sitting, { words, values: { ...values, depth: "long" } });
    this.saying.open(
      full.sentence,
      words,
      this.#showMe(),
      full.cautions.map((text) => h("p", {}, text)),
      full.more && h("p", {}, full.more),
      full.why && [h("h2", {}, words.say("mat.why")), h("p", {}, full.why)],
      termList(this.settings.words.sentences(full.sentence, full.more, full.why), this.glossary),
      h("button", { type: "button", "data-key": "terms", onclick: () => go("terms/cut") }, words.say("glossary.all")),
    );
  }

  /** The buttons that show how a step is done; none where there is nothing to see. */
  #showMe() {
    const { demonstration, saying } = this;
    if (!demonstration.offered) return null;
    const button = (code, act) =>
      h(
        "button",
        { type: "button", "data-key": code, onclick: () => (saying.dialog.close(), act()) },
        this.settings.words.say(`show_me.${code}`),
      );
    const stills = !wantsStills(this.settings.values) && button("stills", () => demonstration.stills());
    return [button("open", () => demonstration.show()), stills];
  }

  /** What an event may carry now; undefined where it has no place. */
  #limits(event) {
    const { table, scripts, state } = this.sitting;
    return allowed(table, scripts, state, event);
  }

  #mend() {
    const { sitting } = this;
    const would = (event, n) => sitting.would(event, n);
    this.mending.open({
      limits: (event) => this.#limits(event),
      would,
      counts: sitting.counts(),
      gives: sitting.step.gives,
      others: this.#others(),
      later: this.replan.offersLater(),
      words: this.settings.words,
    });
  }

  /** What can be done besides putting the count right. */
  #others() {
    const { words } = this.settings;
    return [
      ...this.replan.offers(),
      inHand(this.sitting) && ["check-angle", words.say("drift_screen.open"), words.say("drift_screen.open_hint")],
      this.sitting.script.request &&
        !this.sitting.done && [
          "another-ruler",
          words.say("rulers_screen.swap.open"),
          words.say("rulers_screen.swap.open_hint"),
        ],
    ].filter(Boolean);
  }

  #askRulers() {
    const names = this.shelf.entries().map(({ ruler }) => ruler.name);
    const taken = this.sitting.script.request.rulers.map(({ name }) => name).filter((name) => names.includes(name));
    this.swapping.open({ names, taken, words: this.settings.words });
  }

  /** Goes on with the rulers of these names; the dialog stays with the reason when that cannot be. */
  async #swap(names) {
    this.swapping.tell({ waiting: true });
    const { question } = this.swapping;
    const wanted = () => this.swapping.question === question;
    try {
      const rulers = this.shelf
        .entries()
        .map(({ ruler }) => ruler)
        .filter(({ name }) => names.includes(name));
      await goOnWith(rulers, { python: this.python, sitting: this.sitting, words: this.settings.words, wanted });
      if (wanted()) this.swapping.close();
    } catch (error) {
      if (!wanted()) return;
      const { words } = this.settings;
      this.swapping.tell({
        problem: error instanceof NotWithThese ? error.message : words.say(`mat.stored_failed.${why(error)}`),
      });
    }
  }

  #where() {
    const { sitting } = this;
    const [piles, words] = [this.#piles(), this.settings.words];
    this.placing.open({
      counts: sitting.counts(),
      history: sitting.history(),
      piles,
      cloth: this.#clothCounts(),
      colour: this.#colourCounts(piles),
      words,
    });
  }

  /** The piles with the words that name them. */
  #piles() {
    const { words } = this.settings;
    return this.sitting.piles().map((pile) => ({ ...pile, text: pileText(pile, words) }));
  }

  /** Pieces of the fabric in hand, over all kinds; null where fabrics have no names. */
  #colourCounts(piles) {
    const { script, step } = this.sitting;
    const inHand = script.pieces.find(({ id }) => id === script.strips[step.strip]?.piece);
    if (!inHand?.fabric) return null;
    const same = piles.filter(({ piece, counted }) => counted && piece.fabric === inHand.fabric);
    const sum = (count) => same.reduce((total, pile) => total + count(pile), 0);
    return { name: inHand.fabric, made: sum(({ made }) => made), of: sum(({ of }) => of) };
  }

  #clothCounts() {
    const { script, step, state } = this.sitting;
    const { words } = this.settings;
    const { id } = script.cloths[step.cloth];
    const strips = [...script.strips.keys()].filter((i) => script.strips[i].cloth === step.cloth);
    const sum = (count) => strips.reduce((all, strip) => all + count(strip), 0);
    const counted = (strip) => script.pieces.find(({ id }) => id === script.strips[strip].piece)?.counted !== false;
    const made = Math.max(
      0,
      sum((strip) => tally(state, strip).made),
    ); // a count put right may take back more than this cloth gave
    const name = words.has(`cloth.${id}.name`) ? words.say(`cloth.${id}.name`) : id;
    return { name, made, of: made + sum((strip) => (counted(strip) ? this.sitting.ahead(strip) : 0)) };
  }

  /** Says what went wrong, until something is counted again. */
  #tell(problem) {
    this.#problem = problem;
    this.#show();
  }

  /**
   * Shows how it stands now, with the next frame: a cut makes several changes, and laying the page out for
   * each would double the wait.
   */
  #show() {
    this.#frame ??= requestAnimationFrame(() => this.#draw());
  }

  #draw() {
    this.#frame = null;
    if (!this.sitting || !this.view.isConnected) return;
    const { words, values } = this.settings;
    const view = told(this.sitting, this.settings);
    const canCheck = this.sitting.step.do === "recheck" && Boolean(inHand(this.sitting));
    const known = values.tapped >= KNOWN;
    this.view.show({
      ...view,
      words,
      hand: values.hand,
      known,
      problem: this.#problem ?? this.#warning(),
      following: this.hold.state === "following",
      canUndo: this.sitting.trail.length > 1,
      canCheck,
      canShow: this.demonstration.offered,
      end: this.#end(),
    });
    if (this.hold.state !== "following" && !this.view.close && !this.#isAsking()) this.demonstration.met();
  }

  #isAsking() {
    return this.#dialogs().some((part) => part.querySelector("dialog")?.open);
  }

  /** Once all is cut: the piles, and what can come next. */
  #end() {
    const { sitting } = this;
    if (!sitting.done) return null;
    const piles = this.#piles().map(({ text, piece }) => ({ text, outline: piece.outline, high: piece.size }));
    return {
      piles,
      again: Boolean(sitting.title?.cloth) && !sitting.title.practice,
      check: sitting.script.pieces.some(({ check, shape }) => check || shape === "Diamond"),
    };
  }

  /** What is to be minded besides the step: a resumed sitting's first cut, a dull blade, a screen that may go dark. */
  #warning() {
    const { words, values } = this.settings;
    if (this.#fresh && this.sitting.step.cut) return [words.say("mat.sitting_caution"), words.say("mat.sitting_brief")];
    if (this.sitting.step.cut && this.blade.inches > values.bladeAfter * farInches(words.units))
      return words.say("mat.blade_dull", { cut: this.blade.inches });
    const told = this.#fresh || this.sitting.events.length <= this.#darkUntil;
    return told && words.has(`mat.wake.${this.wake.state}`) ? words.say(`mat.wake.${this.wake.state}`) : null;
  }

  /**
   * A screen that was refused in the middle of cutting is told of as well, until the next count: by the tap
   * that asked, one more comes.
   */
  #woken() {
    this.#darkUntil = (this.sitting?.events.length ?? 0) + 1;
    this.#show();
  }
}
