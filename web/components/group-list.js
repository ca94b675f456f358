// A plan's people: who has what and has cut how much of it; and what is missing or was cut twice, by kind.

import { emit, h, refill } from "../lib/page/dom.js";
import { pieceName } from "../lib/words/cut-words.js";

/**
 * Shows an `overview` (web/joining/group.js) of a plan with its `layouts` and `pieces`. Emits `cut-share` for one's own,
 * `report-remove` with a report, and `person-remove` with a name of the list `people`; `share-claim` with
 * the place of a share that is one's own.
 */
export class GroupList extends HTMLElement {
  show(view) {
    this.view = view;
    const { overview, words } = view;
    this.say = (code, values) => words.say(`group.${code}`, values);
    refill(
      this,
      this.#figure(overview),
      this.#kinds("missing", overview.kinds),
      this.#kinds("surplus", overview.kinds),
      h("section", { class: "section" }, h("h2", {}, this.say("people")), this.#people(overview)),
    );
  }

  #figure({ made, need, kinds }) {
    const lacks = kinds.some(({ missing }) => missing);
    return h(
      "div",
      { class: "card" },
      h(
        "p",
        { class: "group-figure", role: "status" },
        h("b", {}, this.say("figure", { n: made })),
        " ",
        h("span", {}, this.say("figure_of", { need })),
      ),
      !lacks && h("p", {}, this.say("nothing_missing")),
    );
  }

  #kinds(what, kinds) {
    const some = kinds.filter((each) => each[what]);
    if (!some.length) return null;
    const { words } = this.view;
    const line = (each) => {
      const who = words.list(
        each.by.map((person) => this.#nameOf(person)),
        "names",
      );
      const values = { what: this.#kindName(each.id), n: each[what], need: each.need, who };
      return h(
        "li",
        { class: what === "surplus" ? "warn" : null },
        this.say(who && what === "surplus" ? "surplus_by" : what, values),
      );
    };
    return h(
      "section",
      { class: "section" },
      h("h2", {}, this.say(`${what}_title`)),
      h("div", { class: "card" }, h("ul", { class: "facts" }, some.map(line))),
    );
  }

  #kindName(id) {
    const { pieces, words } = this.view;
    const fabric = pieces.find((piece) => piece.id === id)?.fabric;
    const name = pieceName(id, words);
    return fabric ? words.say("join.with_fabric", { name, fabric }) : name;
  }

  #nameOf({ name, mine }) {
    if (mine) return name ? this.say("me", { name }) : this.say("me_nameless");
    return name === null ? this.say("unknown") : name || this.say("nameless");
  }

  #people({ people }) {
    return h(
      "ul",
      { class: "list" },
      people.map((person, place) => this.#person(person, place)),
    );
  }

  #person(person, place) {
    const id = `person-${place}`;
    return h(
      "li",
      { class: person.shown ? "card" : "card group-absent" },
      h("h3", { id }, this.#nameOf(person)),
      h(
        "ul",
        { class: "facts" },
        [...this.#share(person), ...this.#count(person)].map((text) => h("li", {}, text)),
      ),
      this.#acts(person, id),
    );
  }

  #share({ items, strips, name }) {
    if (!items.length) return name === null ? [] : [this.say("no_share")];
    const { layouts } = this.view;
    const kits = items.filter(({ kit }) => kit !== undefined);
    const cloths = layouts.map((layout, at) => [
      layout,
      items.filter((item) => item.layout === at && item.strip === undefined).length,
    ]);
    return [
      ...cloths
        .filter(([, n]) => n)
        .map(([{ cloth, strips }, n]) =>
          this.say("cloth", { n, cloth, each: strips.reduce((sum, { count }) => sum + count, 0) }),
        ),
      ...strips.map(({ cloth, strip: { size, count }, n }) => this.say("strip", { n, cloth, size, each: count })),
      ...(kits.length ? [this.say("kits", { n: kits.length, of: kits[0].of })] : []),
    ];
  }

  #count({ made, of, at, spoiled, shown, name }) {
    const { words } = this.view;
    if (!shown && name !== null) return [this.say("not_shown")];
    const cut = of ? this.say("cut_of", { n: made, all: of }) : this.say("cut", { n: made });
    const parts = [cut, spoiled && this.say("spoiled", { n: spoiled }), at && this.say("as_of", { at })];
    return [parts.filter(Boolean).join(words.say("group.between"))];
  }

  /** Whether a share can be said to be one's own: it came without its name, or by another one. */
  #canClaim({ mine, items, shown }) {
    const { overview, me } = this.view;
    return Boolean(me) && !mine && !shown && items.length > 0 && !overview.people[0].items.length;
  }

  #acts(person, by) {
    const { mine, items, name, place, reports } = person;
    const { people } = this.view;
    const act = (key, code, run, look = "button plain") =>
      h(
        "button",
        { type: "button", class: look, "data-key": `${key} ${by}`, "aria-describedby": by, onclick: run },
        this.say(code),
      );
    const acts = [
      mine &&
        items.some(({ layout }) => layout !== undefined) &&
        act("cut-share", "cut_share", () => emit(this, "cut-share"), "button"),
      this.#canClaim(person) && act(`claim-${place}`, "claim", () => emit(this, "share-claim", place), "button"),
      ...reports.map((report) =>
        act(`report-remove-${report.device}`, "remove_report", () => emit(this, "report-remove", report)),
      ),
      !mine && people.includes(name) && act("person-remove", "remove_person", () => emit(this, "person-remove", name)),
    ].filter(Boolean);
    return acts.length > 0 && h("div", { class: "chips" }, acts);
  }
}

customElements.define("group-list", GroupList);
