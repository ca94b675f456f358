// Looking closer at a picture: where it lies in its frame, moved by fingers, wheel, buttons and keys.

const MOST = 12; // times as large as the whole picture
const TAP = 8; // px that a finger may move and still have tapped
const STEP = 1.5;
const KEYS = {
  "+": ["zoom", STEP],
  "=": ["zoom", STEP],
  "-": ["zoom", 1 / STEP],
  0: ["whole"],
  ArrowLeft: ["move", 0.15, 0],
  ArrowRight: ["move", -0.15, 0],
  ArrowUp: ["move", 0, 0.15],
  ArrowDown: ["move", 0, -0.15],
};

/** `zoom` times the size at which the whole is seen; `x`, `y` the middle of what is seen, as parts of the whole. */
export class PanZoom {
  zoom = 1;
  x = 0.5;
  y = 0.5;
  #fingers = new Map();
  #moved = 0;

  /**
   * Listens on `element`; calls `changed()` after every move and `tapped(x, y)` with the place in the element, in px.
   */
  constructor(element, { changed, tapped }) {
    Object.assign(this, { element, changed, tapped });
    element.addEventListener("pointerdown", (event) => this.#down(event));
    element.addEventListener("pointermove", (event) => this.#move(event));
    for (const type of ["pointerup", "pointercancel"]) element.addEventListener(type, (event) => this.#up(event));
    element.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
  }

  /** Closer by so many times, about a place in the element (its middle unless given). */
  closer(times, about = [this.element.clientWidth / 2, this.element.clientHeight / 2]) {
    const { clientWidth: wide, clientHeight: high } = this.element;
    const before = this.zoom;
    this.zoom = Math.min(MOST, Math.max(1, this.zoom * times));
    const drift = 1 / before - 1 / this.zoom;
    this.#place(this.x + (about[0] / wide - 0.5) * drift, this.y + (about[1] / high - 0.5) * drift);
  }

  /** Sees the whole. */
  whole() {
    this.zoom = 1;
    this.#place(0.5, 0.5);
  }

  /** Takes a key; whether it was one for looking. */
  key(name) {
    const [act, ...numbers] = KEYS[name] ?? [];
    if (act === "zoom") this.closer(numbers[0]);
    if (act === "whole") this.whole();
    if (act === "move") this.#place(this.x - numbers[0] / this.zoom, this.y - numbers[1] / this.zoom);
    return Boolean(act);
  }

  /** At first sight a finger scrolls the page past the picture; only a picture seen from nearer is moved by it. */
  #place(x, y) {
    const least = 0.5 / this.zoom;
    [this.x, this.y] = [x, y].map((place) => Math.min(1 - least, Math.max(least, place)));
    this.element.style.touchAction = this.zoom > 1 ? "none" : "pan-y";
    this.changed();
  }

  #down(event) {
    this.#fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
    this.element.setPointerCapture(event.pointerId);
    if (this.#fingers.size === 1) this.#moved = 0;
  }

  #move(event) {
    const before = this.#fingers.get(event.pointerId);
    if (!before) return;
    const now = [event.offsetX, event.offsetY];
    const other = [...this.#fingers].find(([id]) => id !== event.pointerId)?.[1];
    this.#fingers.set(event.pointerId, now);
    this.#moved += Math.hypot(now[0] - before[0], now[1] - before[1]);
    if (other) return this.closer(distance(now, other) / (distance(before, other) || 1), middle(now, other));
    if (this.zoom > 1 && this.#moved > TAP) {
      const { clientWidth: wide, clientHeight: high } = this.element;
      this.#place(this.x - (now[0] - before[0]) / wide / this.zoom, this.y - (now[1] - before[1]) / high / this.zoom);
    }
  }

  #up(event) {
    const tapped = event.type === "pointerup" && this.#fingers.size === 1 && this.#moved <= TAP;
    this.#fingers.delete(event.pointerId);
    if (tapped) this.tapped(event.offsetX, event.offsetY);
  }

  #wheel(event) {
    if (!event.ctrlKey) return;
    event.preventDefault();
    this.closer(Math.exp(-event.deltaY / 200), [event.offsetX, event.offsetY]);
  }
}

function distance([ax, ay], [bx, by]) {
  return Math.hypot(ax - bx, ay - by);
}

function middle([ax, ay], [bx, by]) {
  return [(ax + bx) / 2, (ay + by) / 2];
}
