// How many: picture, ways, slots and their parts, the answer, the best size; and the ways in for whoever is new.

import { h } from "../lib/page/dom.js";
import "../components/answer-view.js";
import "../components/cloth-picker.js";
import "../components/count-slots.js";
import "../components/count-stage.js";
import "../components/install-offer.js";
import "../components/piece-picker.js";
import "../components/size-curve.js";
import "../components/welcome-ways.js";
import { example, live, made, part, wide } from "./show.js";

const ENGINES = ["button", "ios", "firefox", "mac", "done"];

export function counting(given) {
  const { words } = given;
  return [
    part("count", "How many", ...stages(given), ...slots(given)),
    part("answer", "The answer", ...answered(given)),
    part("ways-in", "Ways in", example("Welcome", made("welcome-ways", { words })), ...installing(words)),
  ];
}

function stages({ words, facts, answers }) {
  const stage = (answer, way = "best") =>
    live({ way }, (state) => made("count-stage", { answer, way: state.way, cloths: 1, waiting: false, words }), {
      way: (name) => ({ way: name }),
    });
  const { count } = facts.first[words.units];
  return [
    example("Stage: a cloth about square", stage(count)),
    example("Stage: a long strip", stage(answers.long)),
    example(
      "Stage: waits for a newer answer",
      made("count-stage", { answer: count, way: "best", cloths: 1, waiting: true, words }),
    ),
  ];
}

function slots({ words, facts, states: { usual } }) {
  const cloth = { kind: usual.cloth, length: "", width: "" };
  const { choices, kinds, quilt, first } = facts;
  const usualKinds = usual.cloths.map((code) => kinds.find((kind) => kind.code === code));
  const shown = (wrong) => [
    {
      name: "piece",
      title: words.say("page.slot.piece"),
      told: words.say("page.slot.piece_told", { size: "4 in", angle: "60" }),
      wrong,
    },
    {
      name: "cloth",
      title: words.say(`cloth.${usual.cloth}.name`),
      told: words.say("page.slot.cloth_told", { length: "18 in", width: "20 in" }),
    },
  ];
  const inside = {
    cloth: () => made("cloth-picker", { cloth, kinds, amounts: choices.amounts, errors: {}, words }),
    piece: () =>
      made("piece-picker", {
        piece: usual.piece,
        angles: choices.angles,
        sizes: usual.sizes,
        measures: quilt.measures,
        measured: first[words.units].piece,
        errors: {},
        words,
      }),
  };
  const row = (state, wrong = false) =>
    live(
      state,
      ({ open, cloths }) => [
        made("count-slots", { parts: shown(wrong), open, cloths, most: 4, kinds: usualKinds, kind: cloth.kind, words }),
        open && h("div", { id: `part-${open}`, class: "pattern-opened" }, inside[open]()),
      ],
      {
        part: (name) => ({ open: state.open === name ? null : name }),
        stepped: ({ number }) => ({ cloths: number }),
      },
    );
  return [
    example("Slots: closed, in one something is wrong", row({ open: null, cloths: 2 }, true)),
    example("Slots: the piece open", row({ open: "piece", cloths: 1 })),
    example("Slots: the cloth open", row({ open: "cloth", cloths: 1 })),
  ];
}

function answered({ words, facts, answers, states: { usual } }) {
  const answer = facts.first[words.units].count;
  const view = (change) =>
    made("answer-view", { answer, way: "best", cloths: 1, kind: usual.cloth, waiting: false, words, ...change });
  const trouble = made("ask-trouble", { report: "cloth: out of memory", times: 1 }, words);
  return [
    example("Facts, figure and what it rests on", view({})),
    example("For sure, of several cloths", view({ way: "sure", cloths: 3 })),
    example("Waits", view({ waiting: true })),
    example("The guide is being begun", view({ starting: true })),
    example("No answer yet", view({ answer: null, waiting: true })),
    example("Python broke", view({ trouble })),
    wide("Which size wastes least", made("size-curve", { found: answers.best, back: 5, words })),
  ];
}

function installing(words) {
  return ENGINES.map((how) =>
    example(`Home screen: “${how}”`, made("install-offer", { how, canWait: how !== "done", words })),
  );
}
