// At the mat and before a room: the guide at its steps, the drawing of a step and its moves, rulers, and a drifting angle.

import { h } from "../lib/page/dom.js";
import { filmOf } from "../lib/mat/poses.js";
import { Sitting } from "../lib/mat/sitting.js";
import { told } from "../lib/mat/telling.js";
import { draftOf } from "../lib/kept/ruler-draft.js";
import { pileText } from "../lib/words/pile-text.js";
import { rulerDrawing } from "../components/ruler-drawing.js";
import "../components/drift-before.js";
import "../components/drift-measures.js";
import "../components/drift-result.js";
import "../components/mat-view.js";
import "../components/room-view.js";
import "../components/ruler-editor.js";
import "../components/ruler-list.js";
import "../components/scene-view.js";
import "../components/ways-list.js";
import { example, made, part, wide } from "./show.js";

const START = Date.UTC(2026, 1, 28, 15, 30);
const PACE = 40_000; // ms from cut to cut

export function cutting(given) {
  return [
    part("mat", "At the mat", ...atMat(given)),
    part("scenes", "Drawings of steps", ...scenes(given)),
    part("room", "Before a room", ...inRoom(given)),
    part("rulers", "Rulers", ...rulers(given)),
    part("drift", "When the angle drifts", ...drift(given)),
  ];
}

/** A sitting with the example's guide, at the so-manieth step that does something; nothing of it is stored. */
export function sittingAt({ facts: { table }, answers }, does, time = 1) {
  const { script } = answers.guide;
  const begun = { id: "", title: null, started: START, scripts: [script] };
  const wanted = script.steps.filter((step) => step.do === does)[time - 1];
  if (!wanted) throw new Error(`the example's guide has no step ${does} number ${time}`);
  const events = [];
  let sitting = new Sitting({ ...begun, events }, { store: null, table });
  while (sitting.step !== wanted) {
    events.push({ event: "cut", at: START + events.length * PACE });
    sitting = new Sitting({ ...begun, events: [...events] }, { store: null, table });
  }
  return sitting;
}

function matOf({ words, values }, sitting, change = {}) {
  const view = made("mat-view", {
    ...told(sitting, { words, values }),
    words,
    hand: values.hand,
    known: false,
    problem: null,
    following: false,
    canUndo: true,
    canCheck: sitting.step.do === "recheck",
    canShow: true,
    end: null,
    ...change,
  });
  return h("div", { class: "mat pattern-mat" }, view);
}

function atMat(given) {
  const { words, values } = given;
  const at = (does, time) => sittingAt(given, does, time);
  const short = { ...given, values: { ...values, depth: "short" } };
  const ended = at("done");
  const piles = ended.piles().map((pile) => ({
    text: pileText(pile, words),
    outline: pile.piece.outline,
    high: pile.piece.size,
  }));
  return [
    example("A cut, in the middle of a strip", matOf(given, at("piece", 3))),
    example("With a caution, in short", matOf(short, at("strip"))),
    example(
      "With a problem, in two lengths",
      matOf(given, at("piece", 1), { problem: [words.say("mat.sitting_caution"), words.say("mat.sitting_brief")] }),
    ),
    example("Left-handed, at a check", matOf({ ...given, values: { ...values, hand: "left" } }, at("recheck"))),
    example("Another window counts", matOf(given, at("starter"), { following: true })),
    example("At the end", matOf(given, ended, { end: { piles, again: true, check: true } })),
  ];
}

function sceneOf({ script, step }, words) {
  return {
    scene: script.scenes[step.scene],
    over: step.over,
    at: step.at,
    next: step.next,
    words,
    description: step.do,
  };
}

function scenes(given) {
  const { words } = given;
  const still = (does, time) => made("scene-view", sceneOf(sittingAt(given, does, time), words));
  const cut = sittingAt(given, "piece", 2);
  const posed = made("scene-view", sceneOf(cut, words));
  posed.pose(filmOf(cut.script, cut.state.step).stills().at(-1).pose);
  return [
    example("The whole cloth", still("measure")),
    example("Strips", still("strip", 2)),
    example("Pieces", still("piece", 2)),
    example("In the middle of a move", posed),
  ];
}

function inRoom(given) {
  const { words, values } = given;
  const view = (sitting) =>
    h(
      "div",
      { class: "pattern-room" },
      made("room-view", {
        ...told(sitting, { words, values }),
        words,
        hand: values.hand,
        canBack: true,
        canNext: true,
        canShow: true,
      }),
    );
  return [wide("A step, as wide as the screen", view(sittingAt(given, "strip")))];
}

function rulers({ words, facts, answers }) {
  const drawn = answers.rulers.rulers;
  const entries = drawn.map((ruler, place) => ({ ruler: facts.rulers[place], have: place === 0, drawn: ruler }));
  const [first] = drawn;
  const description = words.say("rulers_screen.drawn", {
    width: words.length(first.width),
    length: words.length(first.length),
  });
  return [
    example("A ruler, its lines named", rulerDrawing(first, { words, labels: true, description })),
    example("Rulers", made("ruler-list", { entries, words })),
    example(
      "A ruler described",
      made("ruler-editor", {
        draft: draftOf(facts.rulers[0]),
        drawn: first,
        known: true,
        choices: facts.choices,
        errors: {},
        words,
      }),
    ),
    wide(
      "Where to lay them",
      made("ways-list", { answer: answers.ways, pictures: answers.waysDrawn, picked: {}, words }),
    ),
  ];
}

function drift({ words, facts, answers, states: { form, measured } }) {
  const { after, afterDrawn } = answers;
  return [
    example(
      "How often to check",
      made("drift-before", {
        form,
        placings: facts.drift.placings[words.units],
        expected: after.expected,
        errors: {},
        words,
      }),
    ),
    example("A piece in hand", made("drift-measures", { measured, strip: null, drawn: afterDrawn, errors: {}, words })),
    example(
      "What that says",
      made("drift-result", { found: after, trim: afterDrawn.trim, cost: null, waiting: false, words }),
    ),
  ];
}
