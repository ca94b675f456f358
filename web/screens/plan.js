// A plan comes in: by a code, a picture, a file, a link or pasted text. It is shown first; taking it over keeps the one that
// was here.

import "../components/plan-beside.js";
import "../components/plan-finder.js";
import "../components/plan-told.js";
import { Refused } from "../copies/refused.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import { Camera } from "../passing/camera.js";
import { mayHaveCamera, readPicture } from "../passing/reader.js";
import { readFile, readText } from "../passing/receiving.js";
import { takeShared } from "../passing/shared.js";
import { Receiver } from "../passing/stream.js";

// In the address: the plan that the hall's own server gives out; what another app has shared with this one.
const HALL = "hall";
const SHARED = "shared";
const HALL_FILE = "hall-plan.json";

export class PlanScreen {
  #reading = 0;

  /**
   * @param {{settings, plans, facts, drawn, goTo, takeBack, other}} parts what the page wires it to; `other(found)` takes
   *   what came and is no plan, true where it did
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.state = { camera: mayHaveCamera() ? "off" : "none", progress: 0, refused: null, busy: false };
    this.root = h("main", { class: "screen plan-screen" });
    this.finder = document.createElement("plan-finder");
    this.told = document.createElement("plan-told");
    this.now = document.createElement("plan-told");
    this.beside = document.createElement("plan-beside");
    this.receiver = new Receiver();
    this.camera = new Camera({ video: this.finder.video, said: (text) => this.#seen(text) });
    this.#listen();
  }

  element() {
    return this.root;
  }

  /** `what` is a packed text that an address brought, "hall", or "shared". */
  async enter([what] = []) {
    this.#fill();
    if (what) history.replaceState(history.state, "", "#plan"); // what it says is kept here, and nowhere in the history
    if (what === HALL) await this.#fetchHall();
    else if (what === SHARED) await this.#readShared();
    else if (what) await this.#read(() => readText(what, this.facts.table), "pasted");
    else await this.#showGiven();
  }

  exit() {
    this.#stopCamera();
  }

  #listen() {
    const on = (type, take) => this.root.addEventListener(type, ({ detail }) => take(detail));
    on("camera", ({ on: wanted }) => (wanted ? this.#startCamera() : this.#stopCamera()));
    on("picture", ({ file }) => this.#readPicture(file));
    on("file", ({ file }) => this.takeFile(file));
    on("pasted", ({ text }) => this.#read(() => readText(text, this.facts.table), "pasted"));
    on("use-plan", (place) => this.#take(() => this.plans.use(place)));
    on("remove-plan", (place) => this.#remove(place));
    this.plans.addEventListener("change", () => this.root.isConnected && this.#fill());
  }

  #tell(change) {
    this.state = { ...this.state, ...change };
    this.#fill();
  }

  // Reading.

  async #startCamera() {
    this.#tell({ camera: "asking", refused: null, progress: 0 });
    try {
      await this.camera.start();
      this.#tell({ camera: "on" });
    } catch {
      this.#tell({ camera: "refused" });
    }
  }

  #stopCamera() {
    this.camera.stop();
    if (this.state.camera === "on" || this.state.camera === "asking") this.#tell({ camera: "off", progress: 0 });
  }

  /** What the camera saw: true where it is all there. */
  #seen(text) {
    const whole = this.receiver.take(text);
    if (whole === null) this.#tell({ progress: this.receiver.progress });
    if (whole === null) return false;
    this.#tell({ camera: "off", progress: 0 });
    this.#read(() => readText(whole ?? text, this.facts.table), "camera");
    return true;
  }

  async #readPicture(file) {
    await this.#read(async () => {
      const said = await readPicture(file).catch((error) => {
        throw new Refused("no_picture", {}, String(error));
      });
      if (!said.length) throw new Refused("no_code");
      const whole = this.receiver.take(said[0]);
      if (whole === null) throw new Refused("more_codes", { share: this.receiver.progress });
      return readText(whole ?? said[0], this.facts.table);
    }, "picture");
  }

  async #fetchHall() {
    await this.#read(async () => {
      const answer = await fetch(HALL_FILE, { cache: "no-store" }).catch(() => null);
      if (!answer?.ok) throw new Refused("no_hall");
      return readText(await answer.text(), this.facts.table);
    }, "pasted");
  }

  async #readShared() {
    const found = await takeShared();
    if (found) await this.takeFile(found);
    else await this.#showGiven();
  }

  /** A file that was chosen, dropped or shared: a picture of a code, a copy, or a text with a plan in it. */
  takeFile(file) {
    if (file.type.startsWith("image/")) return this.#readPicture(file);
    return this.#read(() => readFile(file, this.facts.table), "file");
  }

  /** Reads what came; what was asked for last counts. Nothing of what is here changes. */
  async #read(get, from) {
    const reading = (this.#reading += 1);
    this.#tell({ busy: true, refused: null });
    try {
      const found = await get();
      if (reading === this.#reading) await this.#found(found);
      this.#tell({ busy: false });
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      if (reading === this.#reading) this.#tell({ busy: false, refused: { ...error, from } });
    }
  }

  async #found(found) {
    if (await this.other(found)) return;
    if (!found.plan) throw new Refused("no_plan");
    await this.plans.give(found.plan);
    await this.#showGiven();
  }

  /** Draws the quilt of what came, beside the one that is here. */
  async #showGiven() {
    const { given } = this.plans;
    if (!given) return;
    const here = await this.plans.now({ names: true });
    const pictures = [await this.drawn(given), await this.drawn(here)];
    if (this.plans.given !== given) return;
    this.shown = { given, here, pictures };
    this.#fill();
  }

  // Taking over.

  async #take(how) {
    if (this.taking) return;
    this.taking = true;
    const { words } = this.settings;
    const back = await how().finally(() => (this.taking = false));
    this.goTo("quilt");
    this.takeBack(words.say("passing.before"), back);
  }

  async #remove(place) {
    const back = await this.plans.remove(place);
    this.takeBack(this.settings.words.say("passing.one_plan"), back);
  }

  // Showing.

  #fill() {
    keepFocus(this.root, () => this.#show());
  }

  #show() {
    const { words } = this.settings;
    const say = (code, values) => words.say(`passing.${code}`, values);
    const { given, beside } = this.plans;
    this.finder.show({ ...this.state, words });
    this.beside.show({ plans: beside, words });
    refill(
      this.root,
      h("h1", {}, say(given ? "given" : "take_title")),
      given ? this.#given(given, say) : h("section", { class: "section card" }, this.finder),
      beside.length > 0 && h("section", { class: "section" }, h("h2", {}, say("beside")), this.beside),
    );
  }

  #given(plan, say) {
    const { words } = this.settings;
    const shown = this.shown?.given === plan ? this.shown : null;
    const [picture, own] = shown?.pictures ?? [];
    this.told.show({ plan, picture, title: say("came"), words });
    if (shown) this.now.show({ plan: shown.here, picture: own, title: say("replaces"), words });
    return [
      h(
        "div",
        { class: "row" },
        this.#button("take-over", say("take_over"), () => this.#take(() => this.plans.take()), "button main"),
        this.#button("leave-plan", say("leave"), () => this.plans.give(null), "button plain"),
      ),
      h("p", { class: "soft" }, say("keeps")),
      h("div", { class: "plan-pair" }, this.told, shown && this.now),
    ];
  }

  #button(key, text, onclick, look) {
    return h("button", { type: "button", class: look, "data-key": key, onclick }, text);
  }
}
