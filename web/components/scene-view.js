// A scene of the guide: the cloth as it lies before the cutter, with the ruler over it. It slides from step to step.

import { refill, svg } from "../lib/dom.js";
import { closedPath, shapeOf } from "../lib/drawing.js";

const LABEL = 34; // px: nothing on the guide is smaller; where the mat's letters are larger, so are the labels

/** Draws `scene` at a step's `at`, with the shapes that lie on top at this step. */
export class SceneView extends HTMLElement {
  #scene = null;
  #over = null;

  connectedCallback() {
    this.sizes = new ResizeObserver(() => this.#fit());
    this.sizes.observe(this);
  }

  disconnectedCallback() {
    this.sizes.disconnect();
  }

  show({ scene, over, at, next, description, words, close }) {
    this.close = close;
    if (scene !== this.#scene || over !== this.#over || words.units !== this.units) this.#draw(scene, over, description, words);
    this.#move(at, next);
    this.#fit();
  }

  #draw(scene, over, description, words) {
    Object.assign(this, { units: words.units, words });
    this.#scene = scene;
    this.#over = over;
    const top = scene.over[over] ?? [];
    this.cloth = svg("g", { class: "slides" }, ...scene.still.map(shapeOf), ...scene.pieces.map((points) => svg("path", { class: "piece", d: closedPath(points) })));
    this.top = svg("g", { class: "slides" }, ...top.map(shapeOf), ...top.filter(({ label }) => label).map((shape) => this.#label(shape)));
    this.svg = svg("svg", { class: "drawing", role: "img", "aria-label": description }, svg("g", { transform: "scale(1 -1)" }, this.cloth, this.top));
    refill(this, this.svg);
  }

  #label({ role, points, label }) {
    const [x, y] = middle(points);
    const text = label.degrees === undefined ? this.words.length(label.length) : `${this.words.say("mat.degrees", { degrees: label.degrees })}`;
    return svg("text", { class: role, "data-x": x, "data-y": y, "text-anchor": "middle", "dominant-baseline": "middle" }, text);
  }

  #move(at, next) {
    const { advance: [dx, dy], moves, pieces } = this.#scene;
    const [cloth, top] = moves === "strip" ? [-at, 0] : [0, at];
    this.cloth.style.transform = `translate(${cloth * dx}px, ${cloth * dy}px)`;
    this.top.style.transform = `translate(${top * dx}px, ${top * dy}px)`;
    this.slid = [top * dx, top * dy];
    const paths = this.cloth.querySelectorAll(".piece");
    pieces.forEach((_, k) => paths[k].setAttribute("class", pieceClass(k, at, next, moves)));
  }

  /** Fills the element with the scene's view and as much around it as there is room for. */
  #fit() {
    const { width, height } = this.getBoundingClientRect();
    if (!this.#scene || !width || !height) return;
    const [x, y, wide, high] = this.close ? this.#closeView() : this.#scene.view;
    const scale = Math.min(width / wide, height / high);
    const [w, h] = [width / scale, height / scale];
    this.svg.setAttribute("viewBox", `${x - (w - wide) / 2} ${-(y + high) - (h - high) / 2} ${w} ${h}`);
    const label = Math.max(LABEL, parseFloat(getComputedStyle(this).fontSize)) / scale;
    this.svg.style.setProperty("--label", `${label}px`);
    this.#placeLabels([x - (w - wide) / 2, y - (h - high) / 2, w, h], label);
  }

  /** Each label in the middle of its line, or as near to it as it is wholly in sight. */
  #placeLabels([left, low, wide, high], size) {
    const [dx, dy] = this.slid;
    for (const text of this.top.querySelectorAll("text")) {
      const half = text.getComputedTextLength() / 2 + size / 6;
      const x = within(Number(text.dataset.x) + dx, left + half, left + wide - half) - dx;
      const y = within(Number(text.dataset.y) + dy, low + size * 0.7, low + high - size * 0.7) - dy;
      text.setAttribute("transform", `translate(${x} ${y}) scale(1 -1)`);
    }
  }

  /** The place where the lines meet the strip, as seen from near. */
  #closeView() {
    const lines = (this.#scene.over[this.#over] ?? []).filter(({ role }) => role === "cut" || role === "angle-line");
    const [, , wide, high] = this.#scene.view;
    const [x, y] = lines.length ? middle(lines.at(-1).points.slice(0, 1).concat(lines[0].points.slice(0, 1))) : [wide / 2, high / 2];
    return [x - wide / 5, y - high / 5, wide / 2.5, high / 2.5];
  }
}

function pieceClass(k, at, next, moves) {
  if (k < at) return moves === "strip" ? "piece gone" : "piece cut-off";
  return k === next ? "piece next" : "piece";
}

function within(value, least, most) {
  return Math.max(least, Math.min(most, value));
}

function middle(points) {
  const sum = points.reduce(([x, y], point) => [x + point[0], y + point[1]], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}

customElements.define("scene-view", SceneView);
