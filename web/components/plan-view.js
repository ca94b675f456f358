// The best plan for the basket: what it makes and lacks, how good it is, and every cloth as it is cut.

import { countedPieces } from "../lib/words/cut-words.js";
import { emit, h, refill } from "../lib/page/dom.js";
import { clothDrawing } from "../lib/page/drawing.js";
import { isJoined, piecesIn } from "../lib/asking/plan-request.js";
import { isLight } from "../lib/quilt/swatch.js";
import { tickField } from "./choice-field.js";
import { needName } from "../lib/words/need-name.js";

/**
 * Shows a `plan` for `pieces` (with their `counts`) and `cloths`. Emits `here` {place, on}: whether the
 * layout is cut at this phone.
 */
export class PlanView extends HTMLElement {
  constructor() {
    super();
    this.addEventListener("ticked", ({ detail }) =>
      emit(this, "here", { place: Number(detail.name.split("-")[1]), on: detail.on }),
    );
  }

  show({ plan, pieces, counts, cloths, skipped, stale, colours, words }) {
    const say = (code, values) => words.say(`basket_screen.${code}`, values);
    this.classList.toggle("stale", stale);
    refill(
      this,
      h(
        "div",
        { class: "card" },
        h(
          "ul",
          { class: "facts" },
          planFacts(plan, { pieces, counts, cloths }, words).map(([text, warn]) =>
            h("li", { class: warn ? "warn" : null }, text),
          ),
        ),
      ),
      plan.layouts.length > 1 && h("p", { class: "soft" }, say("two_phones")),
      plan.layouts.map((layout, place) =>
        this.#layout(
          layout,
          place,
          { skipped, counts, colour: colours[cloths.find(({ id }) => id === layout.cloth)?.fabric], words },
          say,
        ),
      ),
    );
  }

  #layout(layout, place, { skipped, counts, colour, words }, say) {
    const card = h(
      "section",
      { class: "card layout" },
      h(
        "div",
        { class: "row" },
        h("h3", {}, say("layout", { n: layout.times, cloth: layout.cloth })),
        tickField({ name: `here-${place}`, label: say("here"), on: !skipped.includes(place) }),
      ),
      layout.strips[0].outlines.length > 0 &&
        clothDrawing(layout, layout, words, say("layout_drawn", { n: layout.strips.length, cloth: layout.cloth })),
      h(
        "ul",
        { class: "facts" },
        layout.layers?.cloths > 1 &&
          h("li", { class: "layers" }, say("layers", { n: layout.layers.strips, cloths: layout.layers.cloths })),
        layout.division && h("li", {}, say("divide", { at: layout.division.at, side: layout[layout.division.along] })),
        strips(layout).map(([key, n, strip]) =>
          h(
            "li",
            { "data-strip": key },
            say("strips", {
              n,
              size: strip.size,
              run: strip.run,
              gives: countedPieces(strip.piece, strip.count, counts?.[strip.piece]?.each, words),
            }),
          ),
        ),
        layout.tight &&
          h("li", { class: "warn" }, say(layout.spare > 1 / 32 ? "tight_spare" : "tight", { spare: layout.spare })),
        layout.head_down > 0 && h("li", { class: "warn" }, say("head_down", { n: layout.head_down })),
        layout.left_whole.map(([length, width]) => h("li", {}, words.say("page.left_whole", { length, width }))),
      ),
    );
    if (colour) card.style.setProperty("--fabric", colour);
    if (colour) card.style.setProperty("--fabric-line", isLight(colour) ? "#2b2035" : "#ffffff");
    return card;
  }
}

/** What is to be known of a plan: [sentence, whether it is a warning]. */
export function planFacts(plan, { pieces, counts, cloths }, words) {
  const say = (code, values) => words.say(`basket_screen.${code}`, values);
  const sum = (numbers) => Object.values(numbers).reduce((total, number) => total + number, 0);
  const opened = sum(plan.opened);
  const all = piecesIn(Object.fromEntries(pieces.map(({ id, need }) => [id, Number(need)])), pieces, counts);
  const made = piecesIn(plan.made, pieces, counts);
  const strips = pieces.reduce((total, piece) => total + (isJoined(piece, counts) ? plan.made[piece.id] : 0), 0);
  const lacking = pieces
    .filter(({ id }) => plan.missing[id] > 0)
    .map((piece) => [missingLine(piece, plan, counts, words), true]);
  return [
    ...(all ? [[say(made < all ? "made_some" : "made_all", { n: made, all }), made < all]] : []),
    ...(strips ? [[say("made_strips", { n: strips }), false]] : []),
    ...lacking,
    [
      say("opened", {
        n: opened,
        all: cloths.reduce((total, { count }) => total + Number(count), 0),
        strips: plan.strips,
      }),
      false,
    ],
    [howGood(plan, say), false],
  ];
}

/** What is missing of a piece, and why where the basket could not give it alone. */
function missingLine(piece, plan, counts, words) {
  const what = words.say("basket_screen.missing_line", {
    what: needName({ ...piece, need: plan.missing[piece.id] }, counts, words),
  });
  const unmet = plan.unmet?.find((one) => one.piece === piece.id);
  return unmet ? words.say(`plan.unmet.${unmet.reason}`, { ...unmet, need: piece.need, what }) : what;
}

function howGood({ proven, strips_proven: fewest, bound, missing_area: missing, area_opened: opened }, say) {
  const lacks = !proven && missing > bound.missing_area;
  const share = proven ? 0 : 1 - (lacks ? bound.missing_area / missing : bound.area_opened / opened);
  if (!(share > 0)) return say(fewest ? "proven_strips" : "proven");
  return say(share < 0.01 ? "bound_close" : lacks ? "bound_missing" : "bound_opened", { share });
}

/** Strips alike, one entry a kind: [key, how many, one of them]. */
function strips({ strips: all }) {
  const found = new Map();
  for (const strip of all) {
    const key = [strip.piece, strip.size, strip.run, strip.count, strip.along].join();
    found.set(key, [key, (found.get(key)?.[1] ?? 0) + 1, strip]);
  }
  return [...found.values()];
}

customElements.define("plan-view", PlanView);
