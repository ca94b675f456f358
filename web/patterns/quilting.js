// The whole quilt and the basket: picture, what it is to be, fabrics, cut list, sewing, buying, classes, plans.

import { h } from "../lib/page/dom.js";
import { fabricLabels } from "../lib/asking/plan-request.js";
import { tileOf } from "../lib/quilt/swatch.js";
import "../components/basket-list.js";
import "../components/buying-form.js";
import "../components/buying-list.js";
import "../components/class-plan.js";
import "../components/fabric-list.js";
import "../components/kit-list.js";
import "../components/largest-view.js";
import "../components/need-list.js";
import "../components/piece-list.js";
import "../components/plan-view.js";
import "../components/quilt-drawing.js";
import "../components/quilt-form.js";
import "../components/sewing-list.js";
import { example, live, made, part, wide } from "./show.js";

export function quilting(given) {
  const shown = common(given);
  return [
    part("quilt", "The quilt", ...pictures(given, shown)),
    part("making", "Cutting and sewing", ...making(given, shown)),
    part("buying", "Buying", ...buying(given, shown)),
    part("basket", "The basket", ...basket(given, shown)),
  ];
}

function common({ words, facts, answers, states: { quilt: state } }) {
  return {
    state,
    errors: {},
    words,
    sizes: answers.sizes.sizes,
    choices: facts.quilt.settings.find(({ code }) => code === state.setting),
    quilt: facts.quilt,
    offered: facts.choices,
    limits: facts.limits,
    tapped: 2,
    fabrics: state.fabrics,
    colourOf: (id) => state.fabrics.find((fabric) => fabric.id === id)?.colour ?? state.fabrics[0].colour,
  };
}

function tilesOf(answer, { state }) {
  return answer.fabrics.map(({ id }) => tileOf(state.fabrics.find((fabric) => fabric.id === id) ?? state.fabrics[0]));
}

function pictures({ words, answers }, shown) {
  const { drawing } = answers.quilt;
  const look = {
    drawing,
    colours: drawing.pieces.map((piece) => piece[1]),
    tiles: tilesOf(answers.quilt, shown),
    fabrics: shown.fabrics,
    patchwork: drawing.patchwork,
    words,
    description: "The example, in its fabrics",
  };
  const picture = document.createElement("quilt-drawing");
  const draw = (brush, stale = false) => {
    picture.show({ ...look, brush, stale });
    return [picture, picture.tools];
  };
  const old = document.createElement("quilt-drawing");
  old.show({ ...look, brush: null, stale: true });
  return [
    example(
      "Picture, and what tapping colors with",
      live({ brush: "f2" }, ({ brush }) => draw(brush), { brush: (brush) => ({ brush }) }),
    ),
    example("Picture: waits for a newer one", old),
    example("Fabrics", made("fabric-list", shown)),
    wide("What it is to be", made("quilt-form", shown)),
  ];
}

function making({ answers }, shown) {
  return [
    example("Cut list", made("piece-list", { ...shown, answer: answers.quilt })),
    example("Sewing", made("sewing-list", { ...shown, answer: answers.quilt, tested: answers.seam, sewn: 2 })),
  ];
}

function buying({ answers }, shown) {
  const bought = { ...shown, answer: answers.buying };
  return [
    example("Buying list", made("buying-list", bought)),
    example("Buying list: waits", made("buying-list", { ...shown, answer: null })),
    example("What it goes by", made("buying-form", shown)),
    example("Kits", made("kit-list", bought)),
    wide("A class", made("class-plan", { ...shown, answer: answers.class })),
  ];
}

function basket({ words, facts, answers, states }, shown) {
  const labels = fabricLabels({ state: states.quilt }, words);
  const fabrics = states.quilt.fabrics.map(({ id, colour }) => [id, labels[id], colour]);
  const [grain] = facts.choices.grains;
  const needs = answers.needs.needs.map((need) => ({ ...need, fabric: labels[need.fabric] }));
  const list = { ...shown, choices: facts.choices, fabrics };
  const { plan: planned } = answers;
  const request = states.planned;
  return [
    example(
      "Cloths on hand",
      made("basket-list", { cloths: states.basket.cloths, kinds: facts.kinds, fabrics, errors: {}, words }),
    ),
    example("No cloth yet", made("basket-list", { cloths: [], kinds: facts.kinds, fabrics, errors: {}, words })),
    example(
      "What is wanted: a quilt's",
      made("need-list", {
        ...list,
        state: { from: "quilt", left_out: [], grain },
        needs,
        counts: answers.needs.counts,
        not_cut: answers.needs.not_cut,
      }),
    ),
    example(
      "What is wanted: typed",
      made("need-list", {
        ...list,
        state: { from: "typed", typed: [{ ...states.typed[0], length: "", fabric: "" }], left_out: [], grain },
      }),
    ),
    example("Plan", made("plan-view", { plan: planned, ...request, skipped: [], stale: false, colours: {}, words })),
    example("The largest quilt", largest(answers.largest, shown, labels)),
  ];
}

function largest(found, shown, labels) {
  return made("largest-view", {
    found,
    picture: h("canvas", { hidden: true }), // as where its drawing has not come
    used: false,
    stale: false,
    roundTo: shown.state.buying.round_to,
    fabricOf: (id) => labels[id] ?? id,
    words: shown.words,
  });
}
