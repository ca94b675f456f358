// A plan's people, as the leader sees them: who has what, what is cut, what is missing, and what people show of theirs.

import { h, keepFocus, refill } from "../lib/page/dom.js";
import { guideRequest } from "../lib/asking/plan-request.js";
import { fitted, listOf, oneOf, such } from "../lib/kept/kinds.js";
import { LatestOnly } from "../lib/page/latest-only.js";
import { FRESH, isAlike, overview, without, withReport } from "../joining/group.js";
import { sequencesOf } from "../joining/logs.js";
import { MOST_TEXT, NotTaken, readReport, readText, reportOf } from "../joining/reports.js";
import { textIn } from "../passing/address.js";
import { givenOut } from "../passing/given-out.js";
import { packed, unpacked } from "../passing/packed.js";
import { copied, download } from "../lib/page/sharing.js";
import { cutHere, keptShares, readShares, sharedOut, stripGuide, WAYS } from "../joining/shares.js";
import { chips } from "../components/chips.js";
import { plainField } from "../components/length-field.js";
import "../components/group-list.js";
import "../components/group-passing.js";

const KEPT = "group";
const PLAN = "basket-plan";
const MOST_KITS = 1000;
const LONGEST_NAME = 80;
const KIND = {
  ...FRESH,
  people: listOf(such((name) => typeof name === "string" && name.trim() !== "")),
  way: oneOf(WAYS),
  reports: listOf(such((report) => isReport(report))),
};

/** What was taken in was read whole then; another program may have kept something else there. */
function isReport(report) {
  try {
    return Boolean(readReport(report, report.plan)) && Number.isFinite(report.taken);
  } catch {
    return false;
  }
}

/** Events on its element: `group-taken` with the name of whose count was taken in. */
export class GroupScreen {
  #looking = new LatestOnly(() => this.#look());

  /**
   * @param {{store, settings, facts, begin, takeBack, plan, share}} parts what the page wires it to; `begin(request)` starts
   *   a guide, `plan()` gives what is kept of the plan at hand, {id, shares}, `share(shares)` keeps who has what of it
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.group = FRESH;
    this.planned = this.inHand = null;
    this.own = { device: "", sequences: [] };
    this.adding = "";
    this.state = {};
    this.root = h("main", { class: "screen group-screen" });
    for (const name of ["group-list", "group-passing"]) this[name] = document.createElement(name);
    this.#listen();
  }

  /** Takes back the people and what was taken in; gives whether nothing of it had to be replaced. */
  async restore() {
    const { value, whole } = fitted(await this.store.get(KEPT), KIND, FRESH);
    this.group = value;
    return whole;
  }

  element() {
    return this.root;
  }

  /** Shows how it stands; `#group/taken` brings what was just taken in into sight. */
  async enter([what] = []) {
    this.out = null; // what was counted since is not in it
    this.#show();
    await this.#looking.run();
    if (what === "taken") this.#reveal();
  }

  /**
   * Takes a report in, wherever it comes from: a picture, a file, a text. Whether it was taken; what was wrong is said.
   * @param {object} report as it was read, not checked yet
   */
  async take(report) {
    await this.#look();
    try {
      if (!this.planned) throw new NotTaken("no_plan");
      const whole = readReport(report, this.inHand.id);
      await this.#keep(withReport(this.group, whole, Date.now()));
      this.#tell({ said: this.#saidOf(whole) });
      this.root.dispatchEvent(new CustomEvent("group-taken", { detail: whole.who, bubbles: true }));
      return true;
    } catch (error) {
      if (!(error instanceof NotTaken)) throw error;
      this.#tell({ refused: this.#say(`refused.${error.code}`) });
      return false;
    }
  }

  /** What this device passes on of the plan in hand; null where there is no plan. */
  async report() {
    await this.#look();
    if (!this.planned) return null;
    return reportOf({ plan: this.inHand.id, who: this.group.me, ...this.own });
  }

  #say(code, values) {
    return this.settings.words.say(`group.${code}`, values);
  }

  #saidOf({ who, sequences }) {
    const made = sequences
      .flatMap(({ counts }) => Object.values(counts))
      .reduce((sum, each) => sum + (each.made ?? 0), 0);
    const n = Math.max(0, made);
    return who ? this.#say("taken", { who, n }) : this.#say("taken_nameless", { n });
  }

  #listen() {
    const on = (type, take) => this.root.addEventListener(type, ({ detail }) => take(detail));
    on("typed", ({ name, text }) => this.#typed(name, text));
    on("way", (way) => this.#change({ way }));
    on("take-text", (text) => this.#takeText(text));
    on("take-file", (file) => this.#takeFile(file));
    on("show-report", (wanted) => this.#showCode(wanted));
    on("copy-report", () => this.#copy());
    on("save-report", () => this.#save());
    on("cut-share", () => this.#cut());
    on("share-claim", (place) => this.#claim(place));
    on("report-remove", (report) =>
      this.#remove(this.#say("taken_out", { who: report.who }), without(this.group, report)),
    );
    on("person-remove", (name) =>
      this.#remove(name, { ...this.group, people: this.group.people.filter((each) => each !== name) }),
    );
  }

  // What there is.

  /** The plan in hand, and what this device has counted of it. */
  async #look() {
    const planned = await this.store.get(PLAN);
    this.planned = planned?.plan?.layouts && planned.request?.pieces ? planned : null; // one that came lies there yet
    this.inHand = this.planned && (await this.plan());
    if (this.planned) this.own = { device: await this.store.device(), sequences: await this.#counted() };
    if (this.root.isConnected) this.#show();
  }

  async #counted() {
    const [records, device] = await Promise.all([this.store.exported(), this.store.device()]);
    return records
      .filter(({ title }) => title?.plan?.id === this.inHand.id)
      .flatMap((record) => {
        try {
          return sequencesOf(record, this.facts.table, device);
        } catch {
          return []; // a log that cannot be read here
        }
      });
  }

  // What changes.

  #typed(name, text) {
    if (name === "group.name") this.adding = text;
    else if (name === "group.me") this.#change({ me: text.slice(0, LONGEST_NAME) });
    else if (name === "group.kits") this.#change({ kits: text });
  }

  #change(change) {
    return this.#keep({ ...this.group, ...change });
  }

  async #keep(group) {
    this.takeBack(null);
    this.group = group;
    this.#show();
    await this.store.put(KEPT, group);
  }

  /** Takes something out, and offers to put it back. */
  async #remove(what, group) {
    const before = this.group;
    await this.#keep(group);
    this.takeBack(what, () => this.#keep(before));
    if (!this.root.contains(document.activeElement)) this.root.querySelector("[data-key='group.name']")?.focus();
  }

  #add() {
    const name = this.adding.trim().slice(0, LONGEST_NAME);
    this.adding = "";
    const there = [this.group.me, ...this.group.people].some((each) => isAlike(each, name));
    this.#change(name && !there ? { people: [...this.group.people, name] } : {});
  }

  /** Everybody who can have a share. */
  #names() {
    return [this.group.me.trim(), ...this.group.people].filter(Boolean);
  }

  /** How many kits, undefined where nothing was typed; null where it is no such number. */
  #kits() {
    const text = this.group.kits.trim();
    if (!text) return undefined;
    return /^\d{1,4}$/.test(text) && Number(text) >= 1 && Number(text) <= MOST_KITS ? Number(text) : null;
  }

  async #share() {
    const { way } = this.group;
    const kits = this.#kits();
    if (way === "kit" && kits === null) return this.#show();
    const { plan, request } = this.planned;
    const whole = request.pieces.filter(({ joined }) => joined).map(({ id }) => id);
    await this.#shared(sharedOut(plan.layouts, this.#names(), { way, kits, whole }), way);
  }

  /** A share came without a name, or by another one, and is one's own. */
  #claim(place) {
    const { shares } = this.inHand;
    const named = readShares(shares).map((each, i) => (i === place ? { ...each, who: this.group.me.trim() } : each));
    return this.#shared(named, shares.by);
  }

  async #shared(shares, way) {
    const kept = keptShares(shares, way);
    this.inHand = { ...this.inHand, shares: kept };
    this.#show();
    await this.share(kept);
  }

  /** Begins to cut one's own share; the cloths of the others are cut elsewhere. */
  #cut() {
    const { request, plan } = this.planned;
    const share = readShares(this.inHand.shares).find(({ who }) => isAlike(who, this.group.me));
    if (!share) return;
    const { layouts, skipped } = cutHere(plan.layouts, share);
    const guide =
      this.inHand.shares.by === "strip"
        ? stripGuide(request, plan.layouts, share)
        : guideRequest(request, { layouts }, skipped);
    this.begin({ ...guide, plan: { id: this.inHand.id } });
  }

  // What comes and goes.

  async #takeText(text) {
    this.#tell({});
    let report;
    try {
      report = text.trimStart().startsWith("{") ? readText(text) : unpacked(textIn(text)).report;
    } catch (error) {
      return this.#tell({ refused: this.#refusal(error.code) });
    }
    if (await this.take(report)) this["group-passing"].taken();
  }

  async #takeFile(file) {
    if (file.size > MOST_TEXT) return this.#tell({ refused: this.#say("refused.large") });
    const text = await file.text().catch(() => null);
    if (text === null) this.#tell({ refused: this.#say("refused.unread") });
    else await this.#takeText(text);
  }

  #refusal(code) {
    const { words } = this.settings;
    return words.has(`group.refused.${code}`) ? this.#say(`refused.${code}`) : words.say(`passing.refused.${code}`);
  }

  /** One's own count as a code: what was counted by now. */
  async #showCode(wanted) {
    const text = wanted && packed({ report: await this.report() });
    this.out = text ? givenOut(text) : null;
    this.#tell(wanted && !text ? { passed: this.settings.words.say("passing.too_large") } : {});
  }

  async #copy() {
    const text = packed({ report: await this.report() });
    this.#tell({ passed: this.#say((await copied(text)) ? "copied" : "copy_failed") });
  }

  async #save() {
    const text = JSON.stringify(await this.report());
    const name = this.group.me.trim().replace(/[^\p{L}\p{N}]+/gu, "-") || "count";
    download(new File([text], `matside-${name}.json`, { type: "application/json" }));
  }

  #tell(state) {
    this.state = state;
    this.#show();
  }

  #reveal() {
    const said = this.root.querySelector("[role=alert], [data-key=group-said]");
    said?.scrollIntoView({ block: "center" });
    said?.focus({ preventScroll: true });
  }

  // Showing.

  #show() {
    keepFocus(this.root, () => this.#fill());
  }

  #fill() {
    const { words } = this.settings;
    const heading = [h("h1", {}, this.#say("title")), h("p", { class: "soft" }, this.#say("about"))];
    if (!this.planned) return refill(this.root, ...heading, this.#noPlan());
    const { plan, request, counts } = this.planned;
    const shown = { layouts: plan.layouts, pieces: request.pieces };
    this["group-list"].show({
      overview: overview(this.group, this.own, this.inHand, { ...shown, counts }),
      ...shown,
      me: this.group.me.trim(),
      people: this.group.people,
      words,
    });
    this["group-passing"].show({ me: this.group.me, out: this.out, state: this.state, words });
    refill(this.root, ...heading, this["group-list"], this["group-passing"], this.#sharing());
  }

  #noPlan() {
    return h(
      "div",
      { class: "card" },
      h("p", {}, this.#say("no_plan")),
      h("a", { class: "button link", href: "#basket", "data-key": "to-basket" }, this.#say("to_basket")),
    );
  }

  #adding() {
    const submitted = (event) => {
      event.preventDefault();
      this.#add();
    };
    return h(
      "form",
      { class: "card", onsubmit: submitted },
      plainField({ name: "group.name", label: this.#say("add"), hint: this.#say("add_hint"), text: this.adding }),
      h("button", { type: "submit", class: "button", "data-key": "add-person" }, this.#say("add_button")),
    );
  }

  #sharing() {
    const { way, kits } = this.group;
    const [names, wrong] = [this.#names(), way === "kit" && this.#kits() === null];
    const ways = WAYS.map((each) => [each, this.#say(`ways.${each}`)]);
    return h(
      "section",
      { class: "section" },
      h("h2", {}, this.#say("sharing")),
      this.#adding(),
      h(
        "div",
        { class: "card" },
        h(
          "div",
          { class: "field" },
          h("span", { class: "label" }, this.#say("way")),
          chips(this.#say("way"), ways, way, "way"),
        ),
        h("p", { class: "soft" }, this.#say(`way_${way}`)),
        way === "kit" &&
          plainField({
            name: "group.kits",
            label: this.#say("kits_label"),
            hint: this.#say("kits_hint"),
            text: kits,
            error: wrong && this.#say("kits_wrong"),
          }),
        !names.length && h("p", {}, this.#say("need_names")),
        names.length > 0 &&
          this.#button("share-out", this.inHand.shares ? "share_again" : "share_out", () => this.#share()),
        this.inHand.shares && h("p", { class: "soft" }, this.#say("share_again_hint")),
      ),
    );
  }

  #button(key, code, onclick) {
    return h("button", { type: "button", class: "button", "data-key": key, onclick }, this.#say(code));
  }
}
