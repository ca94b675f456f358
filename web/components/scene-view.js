// A scene of the guide: the cloth as it lies before the cutter, with the ruler over it. It slides from step to step, and
// can be shown in the middle of a step's moves.

import { refill, svg } from "../lib/page/dom.js";
import { areaOf, closedPath, isLine, partsOf, redraw } from "../lib/page/drawing.js";
import { wasteHatch } from "../lib/page/hatch.js";
import { middle, placeLabels } from "../lib/page/labels.js";
import { play } from "../lib/page/playing.js";

const LABEL = 34; // px: nothing on the guide is smaller; where the mat's letters are larger, so are the labels
// Lines that no label should cover.
const FREE = new Set(["cut", "angle-line", "measure-line", "mark", "edge", "last-cut", "fold", "side"]);

/** Draws `scene` at a step's `at`, with the shapes that lie on top at this step. */
export class SceneView extends HTMLElement {
  #scene = null;
  #over = null;
  #step = {};
  #parts = new Map(); // of each shape what draws it
  #texts = new Map(); // and its label
  #pose = null;
  #stop = null;

  connectedCallback() {
    this.sizes = new ResizeObserver(() => requestAnimationFrame(() => this.#fit()));
    this.sizes.observe(this);
  }

  disconnectedCallback() {
    this.sizes.disconnect();
    this.rest();
  }

  show({ scene, over, at, next, description, words, close }) {
    const drawn = scene === this.#scene && over === this.#over && words.units === this.units;
    const same = drawn && at === this.#step.at && next === this.#step.next && close === this.close;
    if (!same) this.rest();
    this.close = close;
    this.#step = { at, next };
    if (!drawn) this.#draw(scene, over, description, words);
    if (this.#pose) return this.#fit(); // what is being shown goes on
    this.#move(at, next);
    this.#fit();
  }

  /** Plays a film (`filmOf` of lib/mat/poses.js) of the step that is shown; at its end the step stands there again. */
  play(film) {
    this.rest();
    this.pose(film.at(0));
    this.#stop = play(
      film.lasts,
      (ms) => this.pose(film.at(ms)),
      () => this.rest(),
    );
  }

  /** Whether a film is being played. */
  get playing() {
    return this.#stop !== null;
  }

  /** Shows the scene in the middle of its moves, until `rest`. */
  pose(pose) {
    const fresh = !this.#pose;
    const [view, shown] = [this.#pose?.view, pose.view];
    this.#pose = pose;
    this.dataset.move = pose.now;
    this.#move(pose.at, this.#step.next);
    this.#scene.still.forEach((shape, i) => this.#put(shape, pose.still[i]));
    this.#onTop.forEach((shape, i) => this.#put(shape, pose.over[i]));
    this.#scene.pieces.forEach((_, k) => this.#putPiece(k, pose.pieces[k]));
    this.loose.replaceChildren(...pose.loose.flatMap((shape) => areaOf(shape, this.hatch)));
    if (fresh || String(view) !== String(shown)) this.#fit();
  }

  /** Whatever was being shown is over at once: the step stands there as it is. */
  rest() {
    this.#stop?.();
    this.#stop = null;
    if (!this.#pose) return;
    this.#pose = null;
    const whole = (shape) => this.#put(shape, { points: shape.points, opacity: 1, label: 1, glow: 0 });
    this.#scene.still.forEach(whole);
    this.#onTop.forEach(whole);
    this.#scene.pieces.forEach((points, k) => this.#putPiece(k, { points, opacity: null }));
    this.loose.replaceChildren();
    this.#move(this.#step.at, this.#step.next);
    this.#fit(); // lays it out while nothing slides yet
    delete this.dataset.move;
  }

  #put(shape, { points, opacity, label, glow }) {
    const parts = this.#parts.get(shape);
    redraw(parts, shape.role, points);
    for (const part of parts) {
      part.style.opacity = opacity === 1 ? "" : opacity;
      part.style.setProperty("--glow", glow);
      part.classList.toggle("lit", glow > 0);
    }
    const text = this.#texts.get(shape);
    if (text) text.style.opacity = label === 1 ? "" : label;
  }

  #putPiece(k, { points, opacity }) {
    this.pieces[k].setAttribute("d", closedPath(points));
    this.pieces[k].style.opacity = opacity === null || opacity === 1 ? "" : opacity;
  }

  #draw(scene, over, description, words) {
    Object.assign(this, { units: words.units, words });
    this.#scene = scene;
    this.#over = over;
    this.pieces = scene.pieces.map((points) => svg("path", { class: "piece", d: closedPath(points) }));
    const [areas, lines] = [
      scene.still.filter(({ role }) => !isLine(role)),
      scene.still.filter(({ role }) => isLine(role)),
    ];
    this.#parts.clear();
    this.hatch = wasteHatch();
    const parts = (shape) => this.#parts.set(shape, partsOf(shape, this.hatch)).get(shape);
    this.loose = svg("g");
    this.cloth = this.#layer(scene.still, areas.flatMap(parts), this.pieces, this.loose, lines.flatMap(parts));
    this.top = this.#layer(this.#onTop, this.#onTop.flatMap(parts));
    this.#texts = new Map([...this.cloth.labels, ...this.top.labels].map(({ shape, text }) => [shape, text]));
    this.svg = svg(
      "svg",
      { class: "drawing", role: "img", "aria-label": description },
      this.hatch.defs,
      svg("g", { transform: "scale(1 -1)" }, this.cloth.group, this.top.group, this.cloth.words, this.top.words),
    );
    refill(this, this.svg);
  }

  get #onTop() {
    return this.#scene.over[this.#over] ?? [];
  }

  /**
   * What slides together: {group, words, shapes, labels, by}, `words` being its labels, which lie above all,
   * and `by` how far it is slid.
   */
  #layer(shapes, ...drawn) {
    const labels = shapes.filter(({ label }) => label).map((shape) => ({ shape, text: this.#label(shape) }));
    const [group, words] = [drawn, labels.map(({ text }) => text)].map((content) =>
      svg("g", { class: "slides" }, ...content),
    );
    return { group, words, shapes, labels, by: [0, 0] };
  }

  #label({ role, label }) {
    return svg("text", { class: role, "text-anchor": "middle", "dominant-baseline": "central" }, this.#said(label));
  }

  #said({ length, degrees, word }) {
    if (word !== undefined) return this.words.say(`lie.label.${word}`);
    return degrees === undefined ? this.words.length(length) : this.words.say("mat.degrees", { degrees });
  }

  #move(at, next) {
    const {
      advance: [dx, dy],
      moves,
    } = this.#scene;
    const [cloth, top] = moves === "strip" ? [-at, 0] : [0, at];
    this.#slide(this.cloth, [cloth * dx, cloth * dy]);
    this.#slide(this.top, [top * dx, top * dy]);
    this.pieces.forEach((path, k) => path.setAttribute("class", pieceClass(k, at, next, moves)));
  }

  #slide(layer, [x, y]) {
    layer.by = [x, y];
    for (const part of [layer.group, layer.words]) part.style.transform = `translate(${x}px, ${y}px)`;
  }

  /** Fills the element with the scene's view and as much around it as there is room for. */
  #fit() {
    const { width, height } = this.getBoundingClientRect();
    if (!this.#scene || !width || !height) return;
    const [x, y, wide, high] = this.#pose?.view ?? (this.close ? this.#closeView() : this.#scene.view);
    const scale = Math.min(width / wide, height / high);
    const [w, h] = [width / scale, height / scale];
    this.svg.setAttribute("viewBox", `${x - (w - wide) / 2} ${-(y + high) - (h - high) / 2} ${w} ${h}`);
    this.hatch.fit(1 / scale);
    const size = this.#labelSize(scale);
    this.svg.style.setProperty("--label", `${size}px`);
    this.svg.style.setProperty("--px", Number(getComputedStyle(this).getPropertyValue("--bold") || 1) / scale);
    this.#placeLabels([x - (w - wide) / 2, y - (h - high) / 2, w, h], size);
  }

  #labelSize(scale) {
    const { fontSize } = getComputedStyle(this);
    const zoom = Number(getComputedStyle(this).getPropertyValue("--zoom") || 1);
    return Math.max(LABEL * zoom, parseFloat(fontSize)) / scale;
  }

  /** Each label by its line, or in its area, wholly in sight and over nothing that matters where that can be. */
  #placeLabels(view, size) {
    const layers = [this.cloth, this.top];
    const moved = new Map(
      layers.flatMap(({ shapes, by: [dx, dy] }) =>
        shapes.map((shape) => [shape, shape.points.map(([x, y]) => [x + dx, y + dy])]),
      ),
    );
    const labels = layers.flatMap(({ labels: own, by }) =>
      own.map(({ shape, text }) => ({
        text,
        by,
        points: moved.get(shape),
        area: !isLine(shape.role),
        width: text.getComputedTextLength() + size / 3,
        height: size,
        tall: size * 1.3,
      })),
    );
    const lines = [...moved].filter(([{ role }]) => FREE.has(role)).map(([, points]) => points);
    placeLabels(labels, lines, view).forEach(([x, y], i) => {
      const {
        text,
        by: [dx, dy],
      } = labels[i];
      text.setAttribute("transform", `translate(${x - dx} ${y - dy}) scale(1 -1)`);
    });
  }

  /** The place where the lines meet the strip, as seen from near. */
  #closeView() {
    const lines = this.#onTop.filter(({ role }) => role === "cut" || role === "angle-line");
    const [, , wide, high] = this.#scene.view;
    const [x, y] = lines.length
      ? middle(lines.at(-1).points.slice(0, 1).concat(lines[0].points.slice(0, 1)))
      : [wide / 2, high / 2];
    return [x - wide / 5, y - high / 5, wide / 2.5, high / 2.5];
  }
}

function pieceClass(k, at, next, moves) {
  if (k < at) return moves === "strip" ? "piece gone" : "piece cut-off";
  return k === next ? "piece next" : "piece";
}

customElements.define("scene-view", SceneView);
