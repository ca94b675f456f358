// A ruler drawn to scale from the core's strokes: its outline, a tick at every inch or centimetre, and its angle lines.

import { svg } from "../lib/page/dom.js";
import { openPath } from "../lib/page/drawing.js";

const TICK = 0.06; // thickness of a drawn tick, in inches
const HALF_TICK = 0.22; // half as long as a drawn tick
const EVERY = { in: 1, cm: 1 / 2.54 };

/**
 * Draws a `ruler` of the ask `my_rulers`, in a frame so many inches `wide`; with `labels` each
 * kind of line says its degrees.
 */
export function rulerDrawing(ruler, { words, description, wide = ruler.length, labels = false }) {
  const { width, length, strokes } = ruler;
  const unit = wide / 340;
  return svg(
    "svg",
    {
      class: "drawing",
      viewBox: `${-unit} ${-unit} ${wide + 2 * unit} ${width + 2 * unit}`,
      role: "img",
      "aria-label": description,
    },
    svg(
      "g",
      { transform: `matrix(1 0 0 -1 0 ${width})` },
      svg("rect", { class: "ruler", width: length, height: width }),
      svg("rect", { class: "glint", width: length, height: width }),
      svg("path", {
        class: "ruler-ticks",
        d: ticks(ruler),
        "stroke-width": 2 * HALF_TICK,
        ...dashes(EVERY[words.units]),
      }),
      strokes.map((stroke) =>
        svg("path", { class: stroke.hard_to_see ? "stroke faint" : "stroke", d: openPath(stroke.points) }),
      ),
    ),
    labels && labelled(strokes).map((stroke) => label(stroke, width, unit, words)),
  );
}

function dashes(every) {
  return { "stroke-dasharray": `${TICK} ${every - TICK}`, "stroke-dashoffset": TICK / 2 };
}

/** Lines beside the four edges; only their dashes are seen. */
function ticks({ width, length }) {
  const [x, y] = [length - HALF_TICK, width - HALF_TICK];
  return `M0 ${HALF_TICK}H${length}M0 ${y}H${length}M${HALF_TICK} 0V${width}M${x} 0V${width}`;
}

/** One stroke of each kind of line. */
function labelled(strokes) {
  return [...new Map(strokes.map((stroke) => [`${stroke.degrees} ${stroke.from}`, stroke])).values()];
}

function label({ points: [, [x, y]], degrees }, width, unit, words) {
  return svg(
    "text",
    { x, y: width - y + 15 * unit, "font-size": 15 * unit, "text-anchor": "middle" },
    words.say("mat.degrees", { degrees }),
  );
}
