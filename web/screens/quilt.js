// The whole quilt: what it is to be, how it looks, what it is made of, and what to buy for it.

import { isBroken, troubleOf } from "../lib/asking/asking.js";
import { atDesk, whenDeskChanges } from "../lib/page/desk.js";
import { h, keepFocus, refill } from "../lib/page/dom.js";
import { exampleQuilt } from "../lib/quilt/example.js";
import { fitted, maybe, oneOf, such } from "../lib/kept/kinds.js";
import { LatestOnly } from "../lib/page/latest-only.js";
import { typedLength } from "../lib/words/measure.js";
import { usualAs } from "../lib/kept/usual-as.js";
import { putIn } from "../lib/kept/put-in.js";
import { paintQuilt } from "../lib/quilt/drawn-quilt.js";
import { fabricColour } from "../lib/quilt/fabric-colour.js";
import { buyingRequest, classRequest, geometryKey, quiltRequest, seamRequest } from "../lib/quilt/quilt-request.js";
import {
  freshFabric,
  freshQuilt,
  nextBorder,
  nextId,
  PALETTE,
  quiltInUnits,
  withBoltMeant,
  withChosenWay,
  withNewNames,
  withPossible,
  withStart,
  withWay,
  withoutExact,
  withoutFabric,
} from "../lib/quilt/quilt-state.js";
import { FORM_PARTS, LIST_PARTS, partOf } from "../lib/quilt/quilt-parts.js";
import { photoFrom, pictureOf, tileOf } from "../lib/quilt/swatch.js";
import "../components/ask-trouble.js";
import "../components/buying-form.js";
import "../components/buying-list.js";
import "../components/fabric-list.js";
import "../components/class-plan.js";
import "../components/kit-list.js";
import { partTabs } from "../components/part-tabs.js";
import "../components/piece-list.js";
import "../components/quilt-drawing.js";
import "../components/quilt-form.js";
import "../components/sewing-list.js";

const KEPT = "quilt";
const ANSWERS = "quilt-answers"; // kept apart: they are long, and the state is kept at every keystroke
const UNKNOWN_WIDTH = 8; // inches that a photograph kept by an older page shows until its width is read
const NONE = Object.freeze({});

export class QuiltScreen {
  #pictures = new Map();
  #colours = [];
  #made = new Map();
  #tiles = [];
  #unread = {};
  #asking = new LatestOnly(() => this.#askNow());
  #onlyColours = false;
  #read = false;

  /**
   * @param {{python, store, settings, takeBasket, answered}} parts what the page wires it to; `takeBasket` hears of an
   *   example's cloths, `answered()` that what the quilt is to be is worked out
   */
  constructor(parts) {
    Object.assign(this, parts);
    this.state = null;
    this.mine = null;
    this.answers = { quilt: null, buying: null, class: null, sizes: [] };
    this.errors = NONE;
    this.seam = { tested: null, errors: NONE };
    this.brush = null;
    this.waiting = true;
    this.root = h("main", { class: "screen quilt-screen planner-screen" });
    for (const name of [
      "quilt-form",
      "quilt-drawing",
      "fabric-list",
      "piece-list",
      "sewing-list",
      "buying-form",
      "buying-list",
      "kit-list",
      "class-plan",
    ])
      this[name] = document.createElement(name);
    this.bar = h("div", { class: "go" });
    [this.tabs, this.formTabs, this.listTabs] = [0, 1, 2].map(() => h("div", { class: "quilt-tabs" }));
    this.part = this.formPart = "size";
    this.listPart = "cut";
    this.trouble = troubleOf(this.python, this.settings);
    this.#listen();
  }

  /** Takes back what was on this screen, so that it is there before Python is. */
  async restore() {
    const kept = withChosenWay((await this.store.get(KEPT)) ?? {});
    const fresh = this.#fresh(kept.state);
    const { value, whole } = fitted(
      kept,
      { state: fresh, mine: maybe(this.#fresh(kept.mine)), part: oneOf([...FORM_PARTS, ...LIST_PARTS]) },
      { state: fresh, mine: null, part: "size" },
    );
    this.part = value.part;
    if (FORM_PARTS.includes(value.part)) this.formPart = value.part;
    else this.listPart = value.part;
    this.state = withNewNames(value.state);
    // An older page kept less of a quilt.
    this.mine = value.mine && withNewNames(fitted(value.mine, this.#fresh(value.mine)).value);
    this.answers = fitted(
      (await this.store.get(ANSWERS)) ?? {},
      {
        quilt: such((kept) => kept === null || isWhole(kept)),
        buying: maybe({}),
        class: maybe({ weeks: [], tools: [] }),
        sizes: [],
      },
      this.answers,
    ).value;
    this.answers.sizes = this.answers.sizes.filter(({ code }) => this.settings.words.has(`quilt.size.${code}`));
    await this.#readPhotos();
    this.#readColours();
    return whole;
  }

  /** A quilt that was passed on takes the place of this one. */
  async takeOver(state) {
    await this.store.put(KEPT, { state, mine: null, part: "size" });
    await this.store.put(ANSWERS, null);
    this.errors = NONE;
    this.waiting = true;
    this.answers = { quilt: null, buying: null, class: null, sizes: [] };
    return this.restore();
  }

  element() {
    return this.root;
  }

  /** Shows the state as it is, or the `example`, and asks for everything anew. */
  enter([what] = []) {
    if (what === "example" && !this.mine) return this.#example();
    this.state = quiltInUnits(this.state, this.settings.words.units);
    this.#show();
    this.#asking.run();
    this.#readWidths();
  }

  /** What the quilt is to be, the newest answer to that, and whether that answer is still to come. */
  get asked() {
    return { state: this.state, answer: this.answers.quilt, waiting: this.waiting };
  }

  /** Has what is not worked out yet worked out, on whatever screen that is wanted. */
  settle() {
    this.state = quiltInUnits(this.state, this.settings.words.units);
    if (this.waiting && !this.#asking.running) this.#asking.run();
  }

  /** Gives the quilt another size, told as its form tells it; returns the one that it had. */
  takeSize(size) {
    const before = Object.fromEntries(Object.keys(size).map((name) => [name, this.state[name]]));
    this.#change({ ...this.state, ...size });
    return before;
  }

  /** Paints a quilt of the core's on a canvas in this one's fabrics, as small as the canvas is shown. */
  paint(canvas, answer) {
    paintQuilt(canvas, answer, (fabric) => this.#tileOf(fabric));
  }

  /** What is usual in the units of now. */
  get #usual() {
    return this.facts.usual[this.settings.words.units];
  }

  /** A new quilt, in the units of one that is `kept`, which is filled up from it. */
  #fresh(kept) {
    const usual = usualAs(kept, this.facts.usual, this.#usual);
    return freshQuilt(usual, (number) => this.#say("fabric_number", { number }));
  }

  #say(code, values) {
    return this.settings.words.say(`quilt_screen.${code}`, values);
  }

  #listen() {
    const { root } = this;
    const on = (type, take) => root.addEventListener(type, ({ detail }) => take(detail));
    this.python.addEventListener("again", () => this.#again());
    this.python.addEventListener("change", () => this.state && this.#show());
    on("put", ({ path, value }) => this.#put(path, value));
    on("usual-size", (code) => this.#usualSize(code));
    on("add-border", () =>
      this.#change({
        ...this.state,
        borders: [...this.state.borders, nextBorder(this.#usual.quilt)],
      }),
    );
    on("remove-border", (place) =>
      this.#takeOut(this.#say("border_number", { number: place + 1 }), {
        ...this.state,
        borders: this.state.borders.filter((_, i) => i !== place),
      }),
    );
    on("steps", ({ columns, rows }) =>
      this.#change({ ...this.state, by: "steps", steps: { columns: String(columns), rows: String(rows) } }),
    );
    on("colour", ({ place, colour }) => this.#colour(place, colour));
    on("photo", ({ place, file }) => this.#photo(place, file));
    on("add-fabric", () => this.#addFabric());
    on("remove-fabric", (id) =>
      this.#takeOut(this.state.fabrics.find((fabric) => fabric.id === id).name, withoutFabric(this.state, id)),
    );
    on("sewn", (rows) => this.#sewn(rows));
    on("shuffle", () => this.#put(["colouring", "seed"], this.state.colouring.seed + 1));
    on("untap", () => this.#tap([]));
    on("brush", (id) => this.#choseBrush(id));
    on("part", (part) => this.#open(part));
    whenDeskChanges(() => this.state && this.#showParts());
    on("tapped-piece", ({ piece }) => this.#tapped(piece));
  }

  /** Takes something out, and offers to put it back as it was. */
  #takeOut(what, without) {
    const before = this.state;
    this.#change(without);
    this.takeBack(what, () => this.#change(before));
  }

  #put(path, value) {
    if (path[0] === "seam_test") return this.#measured(putIn(this.state, path, value));
    this.#onlyColours = path[0] === "colouring" || path.at(-1) === "used";
    if (path[0] === "target" && path[1] !== "drop")
      value !== this.state.target[path[1]] && (this.state = putIn(this.state, ["target", "size"], ""));
    const [part, name] = path.slice(-2);
    if (part === "piece" && name === "measure") return this.#measureBy(value);
    if (name === "price_by") this.state = withBoltMeant(this.state);
    this.state = withoutExact(this.state, path);
    if (this.#onlyColours) this.state = putIn(this.state, ["colouring", "chosen"], true);
    this.#change(this.#placed(putIn(this.state, path, value), path));
    if (path[1] === "drop") this.#usualSize(this.state.target.size);
  }

  /** So many rows are sewn of the quilt as it is: another one has a count of its own. */
  #sewn(rows) {
    this.state = putIn(this.state, ["sewn", this.#key()], rows);
    this.#show();
    this.#keep();
  }

  /** The seam test asks nothing of the quilt itself. */
  #measured(state) {
    this.state = state;
    this.#readSeam();
    this.#show();
    this.#keep();
  }

  /** What the sewn diamonds tell of the quilt as it is now. */
  async #readSeam() {
    const { state } = this;
    const request = seamRequest(state, this.settings.words);
    const answer = request && (await this.python.askLatest("seam test", { ask: "seam_test", ...request }));
    if ((request && !answer) || state.seam_test !== this.state.seam_test) return; // another one is on its way
    const wrong = answer?.error?.field === "measured" && this.settings.words.refusal(answer.error);
    this.seam = { tested: answer?.ok ? answer : null, errors: wrong ? { "seam_test.measured": wrong } : NONE };
    this.#show();
  }

  /** In another setting the placing that this one starts with; a way as its setting takes the fabrics. */
  #placed(state, path) {
    const choices = this.#choicesOf(state.setting);
    if (path.join(".") === "colouring.way") return withWay(state, state.colouring.way, choices.colorings);
    return path[0] === "setting" ? withStart(withPossible(state, choices), choices) : state;
  }

  /** The same piece, by another of its measures. */
  #measureBy(measure) {
    const own = {
      size: "size",
      finished_size: "finished_size",
      edge: "edge",
      short_diagonal: "short_diagonal",
      long_diagonal: "long_diagonal",
    }[measure];
    const known = this.answers.piece?.[own];
    this.#change({
      ...this.state,
      piece: {
        ...this.state.piece,
        measure,
        ...(known > 0 ? { text: this.settings.words.bare(known), inches: known } : { inches: null }),
      },
    });
  }

  #change(state) {
    this.takeBack(null);
    const otherFabrics = state.fabrics !== this.state.fabrics;
    this.state = state;
    this.waiting = true;
    this.#asking.run();
    if (otherFabrics) this.#readFabrics();
    this.#show();
    this.#keep();
  }

  /** Asks everything again that could not be computed. */
  #again() {
    this.waiting = true;
    this.#asking.run();
    this.#readWidths();
    this.#show();
  }

  /** A usual size fills the fields; a bed's quilt hangs down by the drop. */
  async #usualSize(code) {
    const { words } = this.settings;
    const drop = this.state.target.drop.trim();
    const answer = await this.python.ask({
      ask: "quilt_sizes",
      ...(drop && { drop: typedLength(drop, words.units, words.locale) }),
    });
    if (isBroken(answer)) return this.#change({ ...this.state, target: { ...this.state.target, size: code } });
    if (!answer.ok) return this.#refuse(answer.error);
    this.answers.sizes = answer.sizes;
    const size = answer.sizes.find((one) => one.code === code);
    const { hung } = size ?? {};
    const sides = hung && { width: words.bare(hung.width), height: words.bare(hung.height), inches: hung };
    this.#change({ ...this.state, target: { ...this.state.target, size: code, ...sides } });
  }

  #refuse(error) {
    this.errors = { ...this.errors, [error.field]: this.settings.words.refusal(error) };
    this.#show();
  }

  // Asking: first what is seen at once, then everything that follows from it.

  async #askNow() {
    const { words } = this.settings;
    const request = { ask: "quilt", ...quiltRequest(this.state, words) };
    if (this.#onlyColours) await this.#recolour(request);
    this.#onlyColours = false;
    const [quilt, piece] = await Promise.all([
      this.python.ask(request),
      this.python.ask({ ask: "piece", piece: request.piece }),
    ]);
    await this.#readSizes();
    if (this.#asking.overtaken) return;
    this.#take({ quilt, piece });
    const buying = quilt.ok
      ? await this.python.ask({ ask: "buying", ...buyingRequest(this.state, words, this.answers.sizes) })
      : null;
    if (this.#asking.overtaken) return;
    this.waiting = isBroken(quilt);
    this.#takeBuying(buying);
    this.answered();
    if (buying?.ok && this.state.buying.kits) await this.#askClass();
  }

  async #askClass() {
    const { words, values } = this.settings;
    const found = await this.python.ask({
      ask: "class_plan",
      ...classRequest(this.state, words, values.hand, this.answers.sizes),
    });
    if (this.#asking.overtaken) return;
    if (!found.ok && !isBroken(found)) return this.#refuse(found.error);
    this.answers = { ...this.answers, class: found.ok ? found : this.answers.class };
    this.#show();
    this.store.put(ANSWERS, this.answers);
  }

  /** Usual sizes: what an older core told is shown until this one has. */
  async #readSizes() {
    if (this.#read) return;
    const { ok, sizes } = await this.python.ask({ ask: "quilt_sizes" });
    if (!ok) return;
    this.#read = true;
    this.answers = { ...this.answers, sizes };
  }

  /** What the core says of the setting that is taken. */
  get #choices() {
    return this.#choicesOf(this.state.setting);
  }

  #choicesOf(setting) {
    return this.facts.quilt.settings.find(({ code }) => code === setting);
  }

  async #recolour(request) {
    const found = await this.python.ask({ ...request, only: "colours" });
    if (!found.ok || !this.answers.quilt?.drawing || found.fabrics.length !== this.answers.quilt.fabrics.length) return;
    this.#colours = [...found.colours, ...this.#colours.slice(found.colours.length)];
    this.#repaint();
  }

  #repaint() {
    this["quilt-drawing"].recolour(this.#colours, this.#tiles);
  }

  #take({ quilt, piece }) {
    this.errors =
      quilt.ok || isBroken(quilt) ? NONE : { [quilt.error.field]: this.settings.words.refusal(quilt.error) };
    this.remedy = quilt.error?.code === "angle_for_setting" ? quilt.error.values.wanted : null;
    this.answers = {
      ...this.answers,
      quilt: quilt.ok ? quilt : this.answers.quilt,
      piece: piece.ok ? piece : this.answers.piece,
    };
    if (quilt.ok) this.#readColours();
    this.#show();
    this.#readSeam();
  }

  #takeBuying(buying) {
    if (buying && !buying.ok && !isBroken(buying))
      this.errors = { [buying.error.field.replace(/^quilt\./, "")]: this.settings.words.refusal(buying.error) };
    this.answers = { ...this.answers, buying: buying?.ok ? buying : this.answers.buying };
    this.#show();
    this.store.put(ANSWERS, this.answers);
  }

  #keep() {
    return this.store.put(KEPT, { state: this.state, mine: this.mine, part: this.part });
  }

  // Fabrics and colours.

  #addFabric() {
    const { fabrics } = this.state;
    const unused = PALETTE.findIndex(([colour]) => !fabrics.some((fabric) => fabric.colour === colour));
    const fabric = freshFabric(nextId(fabrics), Math.max(0, unused), () =>
      this.#say("fabric_number", { number: fabrics.length + 1 }),
    );
    this.#change({ ...this.state, fabrics: [...fabrics, fabric] });
  }

  #colour(place, colour) {
    this.state = putIn(this.state, ["fabrics", place, "colour"], colour);
    this.#readTiles();
    this.#repaint();
  }

  async #photo(place, file) {
    try {
      const { photo, colour } = await photoFrom(file);
      const fabric = { ...this.state.fabrics[place], photo, colour };
      this.#pictures.set(fabric.id, await pictureOf(photo));
      this.#change(putIn(this.state, ["fabrics", place], fabric));
    } catch {
      this.#refuse({ field: `fabrics.${place}.photo_width`, code: "photo_unreadable", values: {} });
    }
  }

  async #readPhotos() {
    for (const { id, photo } of this.state.fabrics) if (photo) this.#pictures.set(id, await pictureOf(photo));
  }

  #readFabrics() {
    this.#readTiles();
    this.#readWidths();
  }

  /** How wide each photograph is, as the core reads what was typed; what is no length is said at its field. */
  async #readWidths() {
    const { units, locale } = this.settings.words;
    const photos = this.state.fabrics.filter(({ photo }) => photo);
    const read = ({ id, photo_width: text }) =>
      this.python.askLatest(`photo ${id}`, { ask: "length", length: typedLength(text, units, locale) });
    await Promise.all(photos.map(async (fabric) => this.#tookWidth(fabric, await read(fabric))));
  }

  #tookWidth({ id, photo_width: text }, answer) {
    const place = this.state.fabrics.findIndex((fabric) => fabric.id === id && fabric.photo_width === text);
    if (!answer || place < 0) return;
    const { [id]: before, ...others } = this.#unread;
    this.#unread = answer.ok ? others : { ...others, [id]: this.settings.words.refusal(answer.error) };
    if (answer.ok && answer.length !== this.state.fabrics[place].photo_inches) {
      this.state = putIn(this.state, ["fabrics", place, "photo_inches"], answer.length);
      this.#readTiles();
      this.#repaint();
      this.#keep();
    }
    if (before !== this.#unread[id]) this.#show();
  }

  /** What is wrong, by field: with the quilt, and with what is typed of the photographs. */
  #allErrors() {
    const unread = this.state.fabrics.flatMap(({ id, photo }, place) =>
      photo && this.#unread[id] ? [[`fabrics.${place}.photo_width`, this.#unread[id]]] : [],
    );
    return unread.length ? { ...this.errors, ...Object.fromEntries(unread) } : this.errors;
  }

  #choseBrush(id) {
    this.brush = id;
    this.#show();
  }

  #key() {
    return geometryKey(quiltRequest(this.state, this.settings.words));
  }

  #changes() {
    return this.state.colouring.changes[this.#key()] ?? [];
  }

  #tapped(piece) {
    const { quilt } = this.answers;
    this.#colours = this.#colours.with(
      piece,
      quilt.fabrics.findIndex(({ id }) => id === this.brush),
    );
    this.#repaint();
    this.#tap([...this.#changes().filter(([number]) => number !== piece), [piece, this.brush]]);
  }

  #tap(changes) {
    this.#onlyColours = !changes.length;
    this.#change(putIn(this.state, ["colouring", "changes", this.#key()], changes));
  }

  #readColours() {
    this.#colours = this.answers.quilt?.drawing?.pieces.map((piece) => piece[1]) ?? [];
    this.#readTiles();
  }

  #colourOf = (id) => fabricColour(id, this.state.fabrics);

  #readTiles() {
    this.#tiles = (this.answers.quilt?.fabrics ?? []).map((fabric) => this.#tileOf(fabric));
  }

  /** The look of a fabric of the core's, whose strips run as it says. */
  #tileOf({ id, strips }) {
    const fabric = this.state.fabrics.find((one) => one.id === id);
    if (!fabric) return { colour: this.#colourOf(id) };
    const picture = fabric.photo && this.#pictures.get(id);
    return { ...tileOf(fabric, picture && { picture, inches: fabric.photo_inches ?? UNKNOWN_WIDTH }), strips };
  }

  // Examples.

  #example() {
    this.mine ??= this.state;
    const { quilt, basket } = exampleQuilt(this.#usual, (code) => this.#say(`example.${code}`));
    this.takeBasket(basket);
    this.#change(quilt);
  }

  #back() {
    const { mine } = this;
    this.mine = null;
    this.takeBasket(null);
    this.#change(quiltInUnits(mine, this.settings.words.units));
  }

  // Showing.

  #show() {
    const { words } = this.settings;
    const { state, answers } = this;
    const errors = this.#allErrors();
    const shown = {
      state,
      errors,
      words,
      sizes: answers.sizes,
      choices: this.#choices,
      quilt: this.facts.quilt,
      offered: this.facts.choices,
      limits: this.facts.limits,
      tapped: this.#changes().length,
      colourOf: this.#colourOf,
    };
    const {
      colouring,
      buying,
      fabrics,
      own,
      batting_price: batting,
      class: lesson,
      seam_test: seamTest,
      sewn: rowsSewn,
      ...form
    } = state;
    this.#part("quilt-form", shown, [...Object.values(form), fabrics, errors, shown.sizes]);
    const standing = standingOf(answers.quilt);
    this.#part("fabric-list", { ...shown, standing }, [
      fabrics,
      colouring,
      shown.choices,
      errors,
      shown.tapped,
      JSON.stringify(standing),
    ]);
    this.#part("buying-form", shown, [buying, errors, shown.sizes]);
    this.#part("buying-list", { ...shown, answer: answers.buying }, [
      answers.buying,
      fabrics,
      buying,
      own,
      batting,
      errors,
    ]);
    this.#part("kit-list", { ...shown, answer: answers.buying }, [answers.buying, fabrics, buying]);
    this.#part("class-plan", { ...shown, answer: answers.class }, [answers.class, fabrics, buying, lesson, errors]);
    if (answers.quilt) {
      this.#part("piece-list", { ...shown, answer: answers.quilt, fabrics }, [answers.quilt, fabrics]);
      const sewn = rowsSewn[this.#key()] ?? 0;
      const sewing = { ...shown, ...this.seam, sewn, answer: answers.quilt, fabrics };
      this.#part("sewing-list", sewing, [answers.quilt, fabrics, this.seam, seamTest, sewn]);
    }
    this.#showParts();
    keepFocus(this.root, () => this.#fill(answers.quilt)); // one may be typing as the first answer comes
    if (answers.quilt?.drawing) this.#draw(answers.quilt);
    this.#bar(answers.quilt);
  }

  /**
   * Shows a part anew only where something that it is made from has changed: filling all of them
   * takes longer than painting.
   */
  #part(name, shown, from) {
    const [before, now] = [this.#made.get(name), [...from, shown.words.units]];
    if (before?.length === now.length && before.every((part, i) => part === now[i])) return;
    this.#made.set(name, now);
    this[name].show(shown);
  }

  #draw(quilt) {
    const { words } = this.settings;
    this["quilt-drawing"].show({
      drawing: quilt.drawing,
      colours: this.#colours,
      tiles: this.#tiles,
      fabrics: this.state.fabrics,
      brush: this.brush,
      patchwork: quilt.drawing.patchwork ?? 0, // an older core's does not tell; the newer one is on its way
      stale: this.waiting && !this.#onlyColours,
      words,
      description: this.#say("drawn", {
        ...quilt.finished,
        n: count(quilt),
        setting: words.say(`quilt.setting.${quilt.setting}`),
      }),
    });
  }

  #fill(quilt) {
    const say = (code, values) => this.#say(code, values);
    if (this.root.firstChild && this.filled === Boolean(quilt) + (quilt?.drawing ? "" : "-") + Boolean(this.mine))
      return;
    this.filled = Boolean(quilt) + (quilt?.drawing ? "" : "-") + Boolean(this.mine);
    const [form, lists] = [h("div", { class: "quilt-form-side no-print" }), h("div", { class: "quilt-lists" })];
    form.append(
      this.formTabs,
      h("div", { "data-in": "size", hidden: Boolean(this.mine) }, !this.mine && this.#exampleButton()),
      this["quilt-form"],
      h(
        "section",
        { class: "section", "data-in": "fabrics" },
        h("h2", {}, say("fabrics")),
        this["quilt-drawing"].tools,
        this["fabric-list"],
      ),
    );
    lists.append(
      ...[
        this.listTabs,
        quilt && h("div", { class: "section", "data-in": "cut" }, this["piece-list"]),
        quilt && h("div", { class: "section", "data-in": "sew" }, this["sewing-list"]),
        h(
          "section",
          { class: "section", "data-in": "buy" },
          h("h2", {}, say("buying_title")),
          h("div", { class: "no-print" }, this["buying-form"]),
          this["buying-list"],
        ),
        h("section", { class: "section", "data-in": "class" }, this["kit-list"], this["class-plan"]),
      ].filter(Boolean),
    );
    refill(
      this.root,
      h("h1", { class: "unseen" }, say("title")),
      h(
        "div",
        { class: "quilt-head" },
        h(
          "section",
          { class: "quilt-stage" },
          h("h2", { class: "unseen" }, say("drawing_title")),
          quilt?.drawing || !quilt ? this["quilt-drawing"] : h("p", { class: "soft" }, say("not_drawn")),
          this.bar,
        ),
        this.mine && h("p", { class: "example-bar row no-print" }, say("example_told"), this.#exampleButton()),
        this.tabs,
      ),
      form,
      lists,
    );
  }

  /** Opens a part; what is wrong elsewhere is marked at its own. */
  #open(part) {
    this.part = part;
    if (FORM_PARTS.includes(part)) this.formPart = part;
    else this.listPart = part;
    this.#showParts();
    this.#keep();
  }

  #showParts() {
    const { root, part, formPart, listPart, settings } = this;
    Object.assign(root.dataset, { part, form: formPart, list: listPart });
    const wrong = new Set(Object.keys(this.#allErrors()).map(partOf));
    const tab = (name) => ({ name, title: settings.words.say(`quilt_screen.part.${name}`), wrong: wrong.has(name) });
    const open = (own) => (atDesk() && part !== "all" ? own : part);
    const [form, lists] = [
      partTabs(this.#say("form_parts"), FORM_PARTS.map(tab), open(formPart)),
      partTabs(this.#say("list_parts"), LIST_PARTS.map(tab), open(listPart)),
    ];
    keepFocus(root, () => {
      this.tabs.replaceChildren(...(atDesk() ? [] : [form, lists]));
      this.formTabs.replaceChildren(...(atDesk() ? [form] : []));
      this.listTabs.replaceChildren(...(atDesk() ? [lists] : []));
    });
  }

  #exampleButton() {
    const [code, act] = this.mine ? ["example_back", () => this.#back()] : ["example_show", () => this.#example()];
    return h("button", { type: "button", class: "button plain", "data-key": "example", onclick: act }, this.#say(code));
  }

  /** The answer beside the picture: the number and the size, the way to the basket, and to paper. */
  #bar(quilt) {
    const { words } = this.settings;
    const error = Object.values(this.errors)[0];
    this.bar.classList.toggle("stale", this.waiting && !error);
    this.bar.classList.toggle("broken", Boolean(this.python.trouble));
    if (this.python.trouble) return refill(this.bar, this.trouble);
    refill(
      this.bar,
      error || !quilt
        ? h("p", { class: error ? "error" : "soft", role: "status" }, error ?? words.say("page.waiting"))
        : h(
            "p",
            { class: "quilt-figure", role: "status" },
            h("b", {}, this.#say("pieces", { n: count(quilt) })),
            h("span", {}, `${words.bare(quilt.finished.width)} × ${words.length(quilt.finished.height)}`),
          ),
      error && this.remedy
        ? h(
            "button",
            {
              type: "button",
              class: "button",
              "data-key": "remedy",
              onclick: () => this.#put(["piece", "angle"], String(this.remedy)),
            },
            this.#say("use_angle", { angle: this.remedy }),
          )
        : h(
            "div",
            { class: "quilt-acts" },
            h("a", { class: "button link", href: "#basket", "data-key": "to-basket" }, this.#say("to_basket")),
            h(
              "a",
              { class: "button plain link no-print", href: "#paper/quilt", "data-key": "to-paper" },
              this.#say("to_paper"),
            ),
            h(
              "a",
              { class: "button plain link no-print", href: "#pass", "data-key": "pass" },
              words.say("passing.title"),
            ),
          ),
    );
  }
}

/** Pieces of the quilt in all, of every kind. */
function count(quilt) {
  return Object.values(quilt.pieces).reduce((sum, number) => sum + number, 0);
}

/** How the pieces of each print that runs one way stand, by its fabric's id. */
function standingOf(quilt) {
  const found = (quilt?.fabrics ?? []).filter(({ standing }) => standing);
  return Object.fromEntries(found.map(({ id, standing }) => [id, standing]));
}

/** Whether a kept answer has all that is shown of one: those of an older core lack parts, and are asked for anew. */
function isWhole(answer) {
  const { pieces, fabrics, finished, sewing, drawing } = answer ?? {};
  return (
    [pieces, finished, fabrics?.length].every(Boolean) &&
    Boolean(sewing?.layout && sewing.seam_test && sewing.steps) &&
    (!drawing || Boolean(drawing.heads))
  );
}
