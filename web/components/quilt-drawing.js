// The finished quilt, to scale and in its fabrics: to look at, to look closer at, and to colour by tapping.

import { atDesk } from "../lib/page/desk.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { PanZoom } from "../lib/page/pan-zoom.js";
import { QuiltPainter } from "../lib/quilt/quilt-canvas.js";
import { chips } from "./chips.js";
import { fabricMark } from "./fabric-mark.js";

const MARGIN = 0.02; // of the picture, round the quilt
const TALLEST = { phone: 0.31, desk: 0.68 }; // of the window

/**
 * Emits `tapped-piece` {piece}, `brush` fabric id or null, `drawn` after every painting, and `looked` as
 * the small picture changes.
 */
export class QuiltDrawing extends HTMLElement {
  #painter = null;
  #shown = null;

  constructor() {
    super();
    this.#build();
  }

  connectedCallback() {
    if (!this.frame.isConnected) this.append(this.frame, this.told);
    this.#watching = new ResizeObserver(() => requestAnimationFrame(() => this.#fit()));
    this.#watching.observe(this);
    addEventListener("beforeprint", this.#toPrint);
  }

  disconnectedCallback() {
    this.#watching.disconnect();
    removeEventListener("beforeprint", this.#toPrint);
  }

  #watching;
  #toPrint = () => this.look.whole();

  #build() {
    this.canvas = h("canvas", { role: "img" });
    this.frame = h(
      "div",
      { class: "quilt-frame", tabindex: "0", role: "group", onkeydown: (event) => this.#key(event) },
      this.canvas,
      h("span", { class: "aim", hidden: true }),
    );
    this.tools = h("div", { class: "quilt-tools" }); // stands wherever the screen puts it
    this.told = h("p", { class: "unseen", role: "status" });
    this.look = new PanZoom(this.canvas, { changed: () => this.#paint(), tapped: (x, y) => this.#tapped(x, y) });
    this.addEventListener("look", ({ detail }) =>
      detail === "whole" ? this.look.whole() : this.look.closer(detail === "closer" ? 1.5 : 1 / 1.5),
    );
  }

  /**
   * @param {{drawing, colours, tiles, fabrics, brush, stale, description, words}} shown the core's drawing, the fabric
   *   number of each piece, the look of each fabric, and what tapping colours with (null: nothing)
   */
  show(shown) {
    const before = this.#shown;
    if (before?.drawing !== shown.drawing) this.#painter = new QuiltPainter(shown.drawing);
    this.#shown = shown;
    this.#tools(shown);
    this.canvas.setAttribute("aria-label", shown.description);
    this.frame.setAttribute("aria-label", shown.words.say("quilt_screen.frame"));
    this.classList.toggle("stale", shown.stale);
    this.frame.querySelector(".aim").hidden = !shown.brush;
    if (["drawing", "colours", "tiles"].some((part) => before?.[part] !== shown[part])) this.#fit();
  }

  /** Paints with other colours and nothing else. */
  recolour(colours, tiles) {
    this.#shown = { ...this.#shown, colours, tiles };
    this.#paint();
  }

  #tools({ brush, fabrics, words }) {
    const say = (code) => words.say(`quilt_screen.${code}`);
    const looks = [
      ["closer", "+"],
      ["further", "−"],
      ["whole", say("whole")],
    ];
    refill(
      this.tools,
      h(
        "div",
        { class: "looks" },
        looks.map(([look, text]) =>
          h(
            "button",
            {
              type: "button",
              class: "chip",
              "aria-label": say(`look.${look}`),
              "data-key": `look-${look}`,
              onclick: () => emit(this, "look", look),
            },
            text,
          ),
        ),
      ),
      chips(
        say("brush"),
        [
          [null, say("brush_off")],
          ...fabrics.map(({ id, name, colour, one_way: oneWay }) => [id, [fabricMark(colour, oneWay), name]]),
        ],
        brush,
        "brush",
      ),
      brush && h("p", { class: "soft small" }, say("brush_hint")),
    );
  }

  #fit() {
    if (!this.#shown || !this.isConnected) return;
    const { width, height } = this.#shown.drawing;
    const room = this.frame.clientWidth;
    const high = Math.min(
      room * ((height * (1 + 2 * MARGIN)) / (width * (1 + 2 * MARGIN))),
      innerHeight * TALLEST[atDesk() ? "desk" : "phone"],
    );
    const sharp = Math.min(devicePixelRatio, 2);
    this.canvas.style.height = `${high}px`;
    Object.assign(this.canvas, { width: Math.round(room * sharp), height: Math.round(high * sharp) });
    this.#paint();
  }

  #view() {
    const { width, height } = this.#shown.drawing;
    const { canvas, look } = this;
    const scale =
      look.zoom * Math.min(canvas.width / (width * (1 + 2 * MARGIN)), canvas.height / (height * (1 + 2 * MARGIN)));
    const [middleX, middleY] = [
      width / 2 + ((look.x - 0.5) * canvas.width * look.zoom) / scale,
      height / 2 + ((look.y - 0.5) * canvas.height * look.zoom) / scale,
    ];
    return { scale, x: canvas.width / 2 - middleX * scale, y: canvas.height / 2 - middleY * scale };
  }

  #paint() {
    if (!this.#shown || !this.canvas.width) return;
    const { colours, tiles } = this.#shown;
    this.#painter.paint(this.canvas.getContext("2d"), { colours, tiles, view: this.#view() });
    emit(this, "drawn");
  }

  #tapped(x, y) {
    const { brush, patchwork } = this.#shown;
    if (!brush) return;
    const sharp = this.canvas.width / this.canvas.clientWidth;
    const view = this.#view();
    const piece = this.#painter.pieceAt(
      (x * sharp - view.x) / view.scale,
      (y * sharp - view.y) / view.scale,
      patchwork,
    );
    if (piece !== null) emit(this, "tapped-piece", { piece });
  }

  /** With keys, what lies in the middle is coloured. */
  #key(event) {
    const paints = ["Enter", " "].includes(event.key) && event.target === this.frame && this.#shown.brush;
    if (paints) this.#tapped(this.canvas.clientWidth / 2, this.canvas.clientHeight / 2);
    if (paints || (event.target === this.frame && this.look.key(event.key))) event.preventDefault();
  }
}

customElements.define("quilt-drawing", QuiltDrawing);
