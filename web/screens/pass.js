// Passing the plan on: as a code to another phone, as a link, or as a file.

import { tickField } from "../components/choice-field.js";
import { plainField } from "../components/length-field.js";
import "../components/code-picture.js";
import "../components/plan-told.js";
import { fileName, planText } from "../copies/copies.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import { canShare, copied, download, shareOrSave } from "../lib/page/sharing.js";
import { publicAddress } from "../passing/address.js";
import { givenOut } from "../passing/given-out.js";
import { packed } from "../passing/packed.js";

const NAMED = ["title", "date", "by"];

export class PassScreen {
  /** @param {{settings, plans, wake, drawn: (plan: object) => Promise<Element|null>}} parts what the page wires it to */
  constructor(parts) {
    Object.assign(this, parts);
    this.wanted = { rulers: false, names: false };
    this.root = h("main", { class: "screen pass-screen" });
    this.picture = document.createElement("code-picture");
    this.told = document.createElement("plan-told");
    this.root.addEventListener("ticked", ({ detail }) => this.#want({ [detail.name]: detail.on }));
    this.root.addEventListener("typed", ({ detail }) => this.#say({ [detail.name]: detail.text }));
  }

  element() {
    return this.root;
  }

  /** The screen stays on while its code is shown. */
  async enter() {
    this.said = null;
    this.wake.hold();
    this.#fill();
    await this.#make();
  }

  exit() {
    this.wake.release();
    this.picture.remove();
  }

  #say(change) {
    this.typing = this.plans.say(change).then(() => this.#make());
  }

  async #want(change) {
    this.wanted = { ...this.wanted, ...change };
    await this.#make();
  }

  async #make() {
    const plan = await this.plans.now(this.wanted);
    this.plan = plan;
    this.text = packed({ plan });
    this.out = givenOut(this.text, publicAddress());
    this.drawing ??= await this.drawn(plan);
    this.#fill();
  }

  #fill() {
    keepFocus(this.root, () => this.#show());
  }

  #show() {
    const { words } = this.settings;
    const say = (code, values) => words.say(`passing.${code}`, values);
    if (!this.plan) return refill(this.root, h("h1", {}, say("title")), h("p", { role: "status" }, say("making")));
    this.told.show({ plan: this.plan, picture: this.drawing, title: say("goes"), words });
    refill(
      this.root,
      h("h1", {}, say("title")),
      h("section", { class: "section pass-code" }, this.#code(say)),
      h("section", { class: "section" }, this.told),
      h("section", { class: "section card" }, this.#form(say)),
    );
  }

  #code(say) {
    const { words } = this.settings;
    if (!this.out) return [h("p", {}, say("too_large")), this.#acts(say)];
    const { code, stream, link } = this.out;
    this.picture.show({ code, stream, told: say(stream ? "stream_told" : "code_told"), words });
    return [
      this.picture,
      h("p", {}, say(stream ? "stream" : "code", { n: stream?.blocks ?? 1 })),
      !link && h("p", { class: "soft small" }, say("no_address")),
      this.#acts(say),
    ];
  }

  #acts(say) {
    const link = this.out?.link;
    return [
      h(
        "div",
        { class: "row" },
        this.#button(canShare(this.#file()) ? "share" : "save", say, () => this.#share()),
        canShare(this.#file()) && this.#button("save", say, () => this.#save()),
        this.#button(link ? "copy_link" : "copy_text", say, () => this.#copy(link ?? this.text)),
      ),
      h("p", { role: "status" }, this.said && say(this.said)),
    ];
  }

  #button(code, say, onclick) {
    return h("button", { type: "button", class: "button", "data-key": `pass-${code}`, onclick }, say(code));
  }

  #form(say) {
    return [
      h("h2", {}, say("with")),
      NAMED.filter((name) => name !== "by" || this.wanted.names).map((name) =>
        plainField({ name, label: say(`field.${name}`), text: this.plans.hand[name], hint: say(`field.${name}_hint`) }),
      ),
      tickField({ name: "rulers", label: say("rulers"), on: this.wanted.rulers }),
      tickField({ name: "names", label: say("names"), on: this.wanted.names }),
      h("p", { class: "soft small" }, say("names_hint")),
      h("p", { class: "soft small" }, say("photos")),
    ];
  }

  #file() {
    return new File([planText(this.plan)], fileName(), { type: "application/json" });
  }

  async #share() {
    this.said = `told.${await shareOrSave(this.#file())}`;
    this.#fill();
  }

  #save() {
    download(this.#file());
    this.said = "told.saved";
    this.#fill();
  }

  async #copy(text) {
    this.said = (await copied(text)) ? "told.copied" : "told.not_copied";
    this.#fill();
  }
}
