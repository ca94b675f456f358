// The basket: cloths on hand, what they are to give, the best plan for them, and the way to the mat.

import { isBroken, troubleOf } from "../lib/asking/asking.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import {
  clothsOf,
  fabricLabels,
  guideRequest,
  isJoined,
  ownFabrics,
  piecesIn,
  piecesOf,
  quiltNeeds,
  startFrom,
  typedNeeds,
  withLengths,
} from "../lib/asking/plan-request.js";
import { inUnits, meantIn } from "../lib/words/in-units.js";
import { plainDigits } from "../lib/words/measure.js";
import { fitted, maybe } from "../lib/kept/kinds.js";
import { usualAs } from "../lib/kept/usual-as.js";
import { putIn } from "../lib/kept/put-in.js";
import { LatestOnly } from "../lib/page/latest-only.js";
import { inOrderOf, packedLayouts, startOf } from "../passing/layouts.js";
import { buyingRequest } from "../lib/quilt/quilt-request.js";
import { TimedSearch } from "../lib/asking/timed-search.js";
import { BestSize } from "./best-size.js";
import { Largest } from "./largest.js";
import { runsOneWay } from "../components/fabric-mark.js";
import "../components/ask-trouble.js";
import "../components/basket-list.js";
import "../components/buying-list.js";
import "../components/need-list.js";
import "../components/plan-view.js";

const KEPT = "basket";
const PLAN = "basket-plan";
const WORK = 1_000_000_000; // steps: a search is ended by hand, or by its proof
const NONE = Object.freeze({});
const CLOTH = Object.freeze({ kind: "", count: "1", length: "", width: "", fabric: "", one_way: false });

/** What is on the screen before anything is typed: what the core says is usual. */
function fresh({ units, typed }, { grains: [grain] }) {
  return { units, from: "quilt", cloths: [], typed: [freshPiece(typed)], left_out: [], grain, skipped: [] };
}

function freshPiece(usual) {
  return { ...usual, length: "", fabric: "" };
}

export class BasketScreen {
  #settling = new LatestOnly(() => this.#settleNow());

  /**
   * @param {{python, store, settings, facts, quilt, settleQuilt, takeSize, paintQuilt, begin}} parts what the page
   *   wires it to; `quilt()` gives {state, answer, waiting}, `settleQuilt()` sees to it that an answer that is waited
   *   for comes, `plan()` what is kept of the plan at hand, {id}, `takeSize(size)` gives the quilt another size and returns the one it had, `paintQuilt(canvas, answer)`
   *   paints one in its fabrics
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.state = this.#fresh(this.#usual);
    this.mine = null;
    this.#wants(null);
    this.planned = null;
    this.toBuy = null;
    this.errors = NONE;
    this.starting = false;
    this.search = new TimedSearch(this.python);
    this.root = h("main", { class: "screen quilt-screen basket-screen" });
    this.bar = h("div", { class: "go basket-bar" });
    this.progress = h("p", { class: "progress", role: "status" });
    for (const name of ["basket-list", "need-list", "plan-view", "buying-list"])
      this[name] = document.createElement(name);
    this.trouble = troubleOf(this.python, this.settings);
    this.largest = new Largest({
      ...parts,
      basket: () => this.state,
      cloths: () => ownFabrics(this.#cloths(), this.#labels()),
      labels: () => this.#labels(),
      refuse: (error) => (error ? this.#refuse(error) : (this.errors = NONE)),
    });
    this.size = new BestSize({
      ...parts,
      asked: () => this.#sizes(),
      use: (size) => this.#useSize(size),
      choices: () => this.#sized().map(([id, label]) => [id, label]),
    });
    this.#listen();
  }

  /** Takes back what was on this screen, so that it is there before Python is. */
  async restore() {
    const kept = (await this.store.get(KEPT)) ?? {};
    const state = this.#fresh(usualAs(kept.state, this.facts.usual, this.#usual, this.facts.usual.in));
    const kind = { ...state, cloths: [CLOTH] };
    const { value, whole } = fitted(kept, { state: kind, mine: maybe(kind) }, { state, mine: null });
    this.state = value.state;
    this.mine = value.mine;
    this.search.drop();
    this.toBuy = null;
    this.errors = NONE;
    const planned = (await this.store.get(PLAN)) ?? null;
    this.given = planned?.given ?? null;
    this.planned = this.given
      ? null
      : fitted(planned, maybe({ plan: {}, request: { pieces: [], cloths: [] } }), null).value;
    this.#wants(this.planned);
    return whole;
  }

  /** A basket that was passed on, with the layouts of its plan, if it had one; they are laid out as soon as they are seen. */
  async takeOver(state, layouts) {
    await this.store.put(KEPT, { state, mine: null });
    await this.store.put(PLAN, layouts ? { given: layouts } : null);
    this.largest.forget();
    return this.restore();
  }

  /** What is cut from which cloth, as it is passed on; null where there is no plan. One that came is laid out later. */
  get layouts() {
    return this.given ?? (this.planned?.plan.layouts ? packedLayouts(this.planned.plan, this.planned.request) : null);
  }

  element() {
    return this.root;
  }

  enter() {
    const { units } = this.settings.words;
    this.state = inUnits(this.state, units, (state, meant) =>
      withLengths(state, { kinds: this.facts.kinds, units }, meant),
    );
    this.settleQuilt();
    this.#show();
    this.#settling.run();
  }

  /** What the quilt needs may be something else now. */
  quiltAnswered() {
    if (this.root.isConnected) this.#settling.run();
  }

  /** An example's cloths take the place of the user's own, which come back with null. */
  take(cloths) {
    if (cloths) this.mine ??= this.state;
    this.state = cloths ? { ...this.#fresh(this.#usual), ...cloths } : (this.mine ?? this.state);
    if (!cloths) this.mine = null;
    this.#wants(null);
    this.#forgetPlan();
    this.largest.forget();
    this.#keep();
  }

  /** What is usual in the units of now. */
  get #usual() {
    return this.facts.usual[this.settings.words.units];
  }

  #fresh(usual) {
    return fresh(usual, this.facts.choices);
  }

  #say(code, values) {
    return this.settings.words.say(`basket_screen.${code}`, values);
  }

  #listen() {
    const { root } = this;
    const on = (type, take) => root.addEventListener(type, ({ detail }) => take(detail));
    on("put", ({ path, value }) => path[0] !== "fabrics" && this.#change(putIn(this.state, path, value)));
    on("add-cloth", (kind) =>
      this.#change({
        ...this.state,
        cloths: [...this.state.cloths, { ...CLOTH, kind, fabric: this.#fabrics()[0]?.[0] ?? "" }],
      }),
    );
    on("remove-cloth", (place) =>
      this.#takeOut(this.settings.words.say(`cloth.${this.state.cloths[place].kind}.name`), {
        ...this.state,
        cloths: this.state.cloths.filter((_, i) => i !== place),
      }),
    );
    on("add-piece", () =>
      this.#change({
        ...this.state,
        typed: [...this.state.typed, { ...(this.state.typed.at(-1) ?? freshPiece(this.#usual.typed)) }],
      }),
    );
    on("remove-piece", (place) =>
      this.#takeOut(this.#say(`shapes.${this.state.typed[place].shape.replace("-", "_")}`), {
        ...this.state,
        typed: this.state.typed.filter((_, i) => i !== place),
      }),
    );
    on("leave-out", ({ id, on: taken }) =>
      this.#change({
        ...this.state,
        left_out: taken ? this.state.left_out.filter((one) => one !== id) : [...this.state.left_out, id],
      }),
    );
    on("here", ({ place, on: here }) => this.#skip(place, here));
    this.search.addEventListener("change", () => this.#searched());
    this.python.addEventListener("again", () => this.#again());
    this.python.addEventListener("change", () => root.isConnected && this.#show());
  }

  /** Takes something out, and offers to put it back as it was. */
  #takeOut(what, without) {
    const before = this.state;
    this.#change(without);
    this.takeBack(what, () => this.#change(before));
  }

  #change(state) {
    this.takeBack(null);
    this.state = state;
    this.#show();
    this.#keep();
    this.#settling.run();
  }

  #skip(place, here) {
    const skipped = this.state.skipped.filter((one) => one !== place);
    this.state = { ...this.state, skipped: here ? skipped : [...skipped, place] };
    this.#show();
    this.#keep();
  }

  #keep() {
    return this.store.put(KEPT, { state: this.state, mine: this.mine });
  }

  // What is needed, and from what.

  #labels() {
    return fabricLabels(this.quilt(), this.settings.words);
  }

  /** The quilt's fabrics as they are chosen here: [id, label, colour, whether the print runs one way]. */
  #fabrics() {
    const { state, answer } = this.quilt();
    const labels = this.#labels();
    const wanted = new Set(answer?.cut.map(({ fabric }) => fabric) ?? []);
    const binding = answer?.binding?.fabric;
    return Object.keys(labels)
      .filter((id) => state.fabrics.some((one) => one.id === id) || wanted.has(id) || id === binding)
      .map((id) => [id, labels[id], state.fabrics.find((one) => one.id === id) ?? {}])
      .map(([id, label, { colour, one_way: oneWay }]) => [id, label, colour, Boolean(oneWay)]);
  }

  #cloths() {
    const { fabrics } = this.quilt().state;
    const cloths = this.state.cloths.map((cloth) => ({
      ...cloth,
      one_way: cloth.one_way || runsOneWay(cloth.fabric, fabrics),
    }));
    return clothsOf(cloths, this.#labels(), { kinds: this.facts.kinds, words: this.settings.words });
  }

  /**
   * What is needed, as the core takes it, how many pieces that comes to, and what of the quilt is not cut from here.
   */
  #wants(found) {
    this.needs = found?.needs ?? null;
    this.counts = found?.counts ?? null;
    this.notCut = found?.not_cut ?? [];
  }

  async #settleNow() {
    const { words } = this.settings;
    const quilt = this.quilt();
    if (this.state.from === "typed")
      this.#wants({ needs: typedNeeds(this.state.typed, this.#labels(), { ...this.facts.choices, words }) });
    else if (!quilt.answer) this.#wants(null);
    else if (!quilt.waiting) {
      const found = await quiltNeeds(quilt, { cloths: this.#cloths(), grain: this.state.grain }, this.#labels(), {
        python: this.python,
        words,
      });
      if (found.error) this.#unsettle(found.error);
      else this.#settled(found);
    }
    this.#layOut();
    this.#show();
  }

  #unsettle(error) {
    this.unsettled = true;
    this.#refuse(error);
  }

  #settled(found) {
    if (this.unsettled) this.errors = NONE;
    this.unsettled = false;
    this.#wants(found);
  }

  /** Lays out a plan that was passed on just as it came, so that all who have it cut the same. */
  #layOut() {
    if (!this.given || !this.needs || !this.state.cloths.length) return;
    const given = this.given;
    this.given = null;
    this.#plan({ start: startOf(given, this.#request()), given });
  }

  #pieces() {
    return (this.needs ?? []).filter(({ id }) => this.state.from === "typed" || !this.state.left_out.includes(id));
  }

  #request() {
    return { ask: "plan", pieces: this.#pieces(), cloths: this.#cloths(), grain: this.state.grain };
  }

  // Which size.

  /**
   * The pieces whose size may be another, as [id, what they are called, the need]: those that are typed, or the
   * quilt's diamonds by fabric.
   */
  #sized() {
    const { words } = this.settings;
    const diamonds = (need) =>
      this.state.from === "typed" || (need.shape === "diamond" && need.id.startsWith("diamond/") && !need.mirrored);
    const name = (need) =>
      this.state.from === "typed"
        ? words.say("basket_screen.piece_number", { number: need.id.replace("piece ", "") })
        : need.fabric;
    return (this.needs ?? []).filter(diamonds).map((need) => [need.id, name(need), need]);
  }

  #sizes() {
    const sized = this.#sized();
    const [, , piece] = sized.find(([id]) => id === this.size.chosen) ?? sized[0] ?? [];
    if (!piece || !this.state.cloths.length) return null;
    const { need, ...asked } = piece;
    return { piece: asked, cloths: this.#cloths(), grain: this.state.grain };
  }

  /** Takes a size over, into the list or into the quilt; gives what takes it back. */
  #useSize(size) {
    const text = this.settings.words.bare(size);
    const { units } = this.settings.words;
    const meant = (before) => meantIn(before, units, this.settings.words.units);
    if (this.state.from === "quilt") {
      const asked = { ...this.quilt().state.piece, measure: "size", text, inches: size };
      const { piece } = this.takeSize({ piece: asked });
      return () => this.takeSize({ piece: { ...piece, text: meant(piece.text), seam: meant(piece.seam) } });
    }
    const place = Math.max(
      0,
      this.#sized().findIndex(([id]) => id === this.size.chosen),
    );
    const { size: before } = this.state.typed[place];
    this.#change(putIn(this.state, ["typed", place, "size"], text));
    return () => this.#change(putIn(this.state, ["typed", place, "size"], meant(before)));
  }

  // The plan.

  /** Asks again what could not be computed: what is needed, or the plan. */
  #again() {
    if (this.unplanned) this.#plan();
    else this.#settling.run();
  }

  async #plan({ start = startFrom(this.planned?.plan), given = null } = {}) {
    this.unplanned = false;
    this.errors = NONE;
    this.#forgetPlan();
    const request = this.#request();
    this.asked = { needs: this.needs, counts: this.counts, not_cut: this.notCut, request };
    this.inOrder = (plan) => (given ? inOrderOf(given, plan, request) : plan);
    const answer = await this.search.begin({ ...request, work: WORK, start, as_given: Boolean(given) });
    this.unplanned = isBroken(answer);
    if (answer && !answer.ok) this.#refuse(answer.error);
  }

  #forgetPlan() {
    this.search.drop();
    this.planned = this.toBuy = null;
    this.state = { ...this.state, skipped: [] };
    this.store.put(PLAN, null);
  }

  #refuse(error) {
    if (error.code === "python_broke") return this.#show(); // said where it can be asked again
    this.errors = { [error.field.replace(/^quilt\./, "")]: this.settings.words.refusal(error) };
    this.#show();
  }

  #searched() {
    if (["paused", "done"].includes(this.search.stage) && this.search.plan !== this.shownPlan) {
      this.planned = { ...this.asked, plan: this.inOrder(this.search.plan) };
      this.shownPlan = this.search.plan;
      this.state = { ...this.state, skipped: [] };
      this.store.put(PLAN, this.planned);
      this.#buy();
    }
    if (!this.root.isConnected) return;
    if (this.search.stage === "searching" && this.progress.isConnected) this.#tellProgress();
    else this.#show();
  }

  /** While it goes on only the line changes: a button that is made anew under the finger would miss its tap. */
  #tellProgress() {
    const { progress } = this.search;
    const text = progress ? this.#soFar(progress) : this.#say("searching");
    if (this.progress.textContent !== text) this.progress.textContent = text;
  }

  /** What is missing as a line to buy. */
  async #buy() {
    const { plan, request } = this.planned;
    const { state } = this.quilt();
    const missing = request.pieces
      .filter(({ id }) => plan.missing[id] > 0)
      .map((piece) => ({ ...piece, need: plan.missing[piece.id], fabric: piece.fabric ?? "cloth" }));
    const {
      usable_width: width,
      straighten,
      shrink,
      round_to: round,
      fat_quarter: quarter,
      square,
    } = buyingRequest(state, this.settings.words);
    const answer = missing.length
      ? await this.python.ask({
          ask: "buying",
          pieces: missing,
          usable_width: width,
          straighten,
          shrink,
          round_to: round,
          fat_quarter: quarter,
          square,
        })
      : null;
    this.toBuy = answer?.ok ? answer : null;
    if (this.root.isConnected) this.#show();
  }

  #isStale() {
    const [planned, now] = [this.planned?.request, this.#request()].map((one) =>
      plainDigits(JSON.stringify(one) ?? ""),
    );
    return planned !== now;
  }

  /** The request of the guide for the plan that stands here; null where there is none, or it is of another basket. */
  guide() {
    const { request, plan } = this.planned ?? {};
    return plan?.layouts.length && !this.#isStale() ? guideRequest(request, plan, this.state.skipped) : null;
  }

  async #cut() {
    this.starting = true;
    this.#show();
    try {
      const { request, plan } = this.planned;
      const { id } = await this.plan();
      await this.begin({ ...guideRequest(request, plan, this.state.skipped), plan: { id } });
    } finally {
      this.starting = false;
      this.#show();
    }
  }

  // Showing.

  #show() {
    keepFocus(this.root, () => this.#fill());
  }

  #fill() {
    const { words } = this.settings;
    const { state, errors } = this;
    const shown = { state, errors, words, fabrics: this.#fabrics() };
    this["basket-list"].show({ ...shown, cloths: state.cloths, kinds: this.facts.kinds });
    const { choices } = this.facts;
    this["need-list"].show({ ...shown, choices, needs: this.needs, counts: this.counts, not_cut: this.notCut });
    const stale = Boolean(this.planned) && this.#isStale();
    if (this.planned)
      this["plan-view"].show({
        plan: this.planned.plan,
        ...this.planned.request,
        counts: this.planned.counts,
        skipped: state.skipped,
        stale,
        colours: this.#colours(),
        words,
      });
    if (this.toBuy) this.#showToBuy(words);
    // What has the focus is put into new surroundings before they stand.
    keepFocus(this.root, () =>
      refill(
        this.root,
        h(
          "div",
          { class: "basket-side" },
          h("h1", {}, this.#say("title")),
          h("section", { class: "section" }, h("h2", {}, this.#say("cloths")), this["basket-list"]),
          h("section", { class: "section" }, h("h2", {}, this.#say("wanted")), this["need-list"]),
        ),
        h(
          "div",
          { class: "basket-main" },
          this.planned &&
            h(
              "section",
              { class: "section" },
              h("h2", {}, this.#say("plan")),
              this["plan-view"],
              !stale && h("a", { class: "button link", href: "#group", "data-key": "group" }, words.say("group.title")),
            ),
          this.planned &&
            this.toBuy &&
            h("section", { class: "section" }, h("h2", {}, this.#say("to_buy")), this["buying-list"]),
          h("section", { class: "section" }, this.size.root),
          state.from === "quilt" &&
            h("section", { class: "section" }, h("h2", {}, words.say("largest.title")), this.largest.root),
          this.bar,
        ),
      ),
    );
    this.size.changed();
    if (state.from === "quilt") this.largest.show();
    this.#showBar(stale);
  }

  /** Colours of the quilt's fabrics by their labels. */
  #colours() {
    return Object.fromEntries(this.#fabrics().map(([, label, colour]) => [label, colour]));
  }

  /** The buying list knows fabrics by id; here they go by their labels. */
  #showToBuy(words) {
    const { state } = this.quilt();
    const colours = this.#colours();
    this["buying-list"].show({
      answer: this.toBuy,
      state: { ...state, fabrics: [], own: {} },
      errors: NONE,
      settled: true,
      colourOf: (id) => colours[id] ?? "#999999",
      words,
    });
  }

  /** The button that was pressed may be gone: the focus goes to the one that stands in its place. */
  #showBar(stale) {
    const held = this.bar.contains(document.activeElement);
    this.#fillBar(stale);
    if (held && !this.bar.contains(document.activeElement))
      this.bar.querySelector("button:last-of-type")?.focus({ preventScroll: true });
  }

  #fillBar(stale) {
    const { stage } = this.search;
    const act = (key, code, run, main) =>
      h(
        "button",
        {
          type: "button",
          class: main ? "button main" : "button",
          "data-key": key,
          disabled: this.starting,
          onclick: run,
        },
        this.#say(code),
      );
    const error = Object.values(this.errors)[0];
    this.bar.classList.toggle("broken", Boolean(this.python.trouble));
    if (this.python.trouble) return refill(this.bar, this.trouble);
    if (stage === "searching") {
      this.#tellProgress();
      return refill(
        this.bar,
        this.progress,
        act("stop", "stop", () => this.search.pause()),
      );
    }
    if (error)
      return refill(
        this.bar,
        h("p", { class: "error", role: "alert" }, error),
        act("plan", "find", () => this.#plan()),
      );
    if (this.planned && !stale) {
      const cuts = this.planned.plan.layouts.some((_, place) => !this.state.skipped.includes(place));
      return refill(
        this.bar,
        h("p", { class: "quilt-figure", role: "status" }, this.#figure()),
        stage === "paused" && act("go-on", "go_on", () => this.search.goOn()),
        cuts && act("cut", this.starting ? "starting" : "cut_plan", () => this.#cut(), true),
      );
    }
    const ready = this.state.cloths.length > 0 && this.#pieces().length > 0;
    refill(
      this.bar,
      h("p", { class: "soft", role: "status" }, this.#say(stale ? "stale" : ready ? "ready" : "unready")),
      ready && act("plan", "find", () => this.#plan(), true),
    );
  }

  #figure() {
    const {
      plan: { made, missing },
      request: { pieces },
      counts,
    } = this.planned;
    const lacks = (piece) =>
      isJoined(piece, counts)
        ? missing[piece.id]
        : piecesOf(piece.need, piece, counts) - piecesOf(made[piece.id], piece, counts);
    const lacking = pieces.reduce((sum, piece) => sum + lacks(piece), 0);
    return [
      h("b", {}, this.#say("figure", { n: piecesIn(made, pieces, counts) })),
      h("span", {}, lacking ? this.#say("figure_missing", { n: lacking }) : this.#say("figure_all")),
    ];
  }

  #soFar({ best, bound }) {
    const part = best.missing_area > 0 ? "missing_area" : "area_opened";
    const share = best[part] > 0 ? 1 - bound[part] / best[part] : 0;
    return this.#say(`so_far_${part === "missing_area" ? "missing" : "opened"}`, {
      share: Math.ceil(share * 100) / 100,
    }); // "up to" holds when rounded up
  }
}
