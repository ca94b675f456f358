// What the pattern page shows its components with: states as the screens keep them, and what the build asks the core about
// them. Requests are made by the page's own functions, in Node too, so nothing here touches a document.

import { clothsOf, fabricLabels, ownFabrics, typedNeeds } from "../lib/asking/plan-request.js";
import { typedLength, typedNumber } from "../lib/words/measure.js";
import { exampleQuilt } from "../lib/quilt/example.js";
import { buyingRequest, classRequest, quiltRequest, seamRequest } from "../lib/quilt/quilt-request.js";

const WORK = 400_000; // steps of a search: enough for these baskets
const LONG = { kind: "full_width_strip", length: "9 in" };
const MEASURED = { edge: "4⅝ in", short_diagonal: "4¾ in", across_1: "4 in" };
const SIZED = { by: "steps", steps: { columns: "3", rows: "4" } };

/** The states: `quilt` and `basket` are the page's own example, with all of its cloth of the quilt's fabrics. */
export function states(facts, words) {
  const usual = facts.usual[words.units];
  const { quilt, basket } = exampleQuilt(usual, (code) => words.say(`quilt_screen.example.${code}`));
  const { placing, tolerance, across } = facts.drift.usual;
  return {
    usual,
    quilt: {
      ...quilt,
      sashing: { ...quilt.sashing, fabric: "f2" },
      backing: { ...quilt.backing, fabric: "f1" },
      seam_test: { measured: "13¼ in" },
      fabrics: quilt.fabrics.map((fabric, place) => ({ ...fabric, price: place < 2 ? "9.50" : "" })),
      buying: { ...quilt.buying, kits: true, people: "6", money: "$" },
      class: { ...quilt.class, swap: true },
    },
    basket,
    planned: {
      pieces: typedNeeds([usual.typed], {}, { ...facts.choices, words }),
      cloths: clothsOf([{ ...basket.cloths[1], count: "2", fabric: "" }], {}, { kinds: facts.kinds, words }),
    },
    typed: [usual.typed],
    form: { placing, tolerance: words.length(tolerance), across: String(across), rows: "12" },
    measured: { across_2: "", long_diagonal: "", ...MEASURED },
  };
}

/** The requests by what their answers are shown as. */
export function requests(facts, words) {
  const { usual, quilt, basket, planned } = states(facts, words);
  const length = (text) => typedLength(text, words.units, words.locale);
  const piece = {
    shape: "diamond",
    angle: typedNumber(usual.piece.angle, words.locale),
    [usual.piece.measure]: length(usual.piece.text),
    seam: length(usual.piece.seam),
  };
  const cloth = { kind: usual.cloth };
  const labels = fabricLabels({ state: quilt }, words);
  const cloths = clothsOf(basket.cloths, labels, { kinds: facts.kinds, words });
  const [grain] = facts.choices.grains;
  const rulers = facts.rulers.map(({ name, width, length: long, tick, reads_through, angles }) => ({
    name,
    width,
    length: long,
    tick,
    reads_through,
    angles,
  }));
  const habits = { hand: "right", lay: "along" };
  const buying = buyingRequest(quilt, words);
  const { usable_width, straighten, shrink, round_to, fat_quarter, square } = buying;
  const small = quiltRequest({ ...quilt, ...SIZED }, words);
  return {
    long: { ask: "cloth", piece, cloth: LONG },
    guide: { ask: "guide", piece, cloth, way: "along_length" },
    best: { ask: "best_size", piece, cloth: { ...cloth, count: 1 }, way: "best", step: usual.tick },
    quilt: { ask: "quilt", ...quiltRequest(quilt, words) },
    sizes: { ask: "quilt_sizes" },
    buying: { ask: "buying", ...buying },
    class: { ask: "class_plan", ...classRequest(quilt, words, habits.hand, []) },
    seam: { ask: "seam_test", ...seamRequest(quilt, words) },
    needs: { ask: "quilt_needs", quilt: buying.quilt, cloths: ownFabrics(cloths, labels), usable_width, grain },
    plan: { ask: "plan", ...planned, grain, work: WORK },
    largest: {
      ask: "largest",
      quilt: { ...small, drawing: false },
      cloths: ownFabrics(cloths, labels),
      grain,
      left_out: [],
      usable_width,
      straighten,
      shrink,
      round_to,
      fat_quarter,
      square,
      work: WORK,
    },
    rulers: { ask: "my_rulers", rulers },
    ways: { ask: "rulers", piece, rulers: rulers.slice(0, 2), ...habits },
    waysDrawn: { ask: "ways_drawn", piece, rulers: rulers.slice(0, 2), ...habits },
    after: { ask: "check", piece, across: "10", rows: "12", hand: habits.hand, measured: MEASURED },
    afterDrawn: { ask: "check_drawn", piece, rulers: rulers.slice(0, 2), ...habits, found: 58.5 },
    wrong: { ask: "piece", piece: { ...piece, [usual.piece.measure]: "4 1/0 in" } },
  };
}
