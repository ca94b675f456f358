// The sentences of a ruler way, in the order in which the hands need them. What is said comes from
// the core's codes and values.

import { sayNumber } from "./measure.js";

/** The names of the rulers of a way, as in “6 × 24” and “15 square”. */
export function rulerNames(way, words) {
  return way.rulers.map((text) => words.say("join.quoted", { text })).join(words.say("rulers_screen.and"));
}

/** What is done, one sentence a step. */
export function waySteps(way, words) {
  return [
    way.turn && words.say(`rulers.turn.${way.turn}`),
    ...rulersInHand(way, words),
    laid(way, words),
    slid(way, words),
    words.say(`rulers.cut_edge.${way.cut_edge}`),
  ].filter(Boolean);
}

/** How the rulers are held before any line is laid; guides that were begun on an older page do not tell it. */
export function rulersInHand({ held = [] }, words) {
  return held.map(({ say, ...values }) => words.say(`rulers.${say}`, values));
}

/** How the ruler is slid once its lines lie; null where it need not be. */
export function slid({ slid: how }, words) {
  return how ? words.say(`rulers.${how.say}`, how) : null;
}

/** What is to be known of it: [sentence, whether it is a warning]. */
export function wayFacts(way, words) {
  const line = way.angle_line;
  return [
    line?.printed && [
      words.say("rulers_screen.line_of", { ...line, from: words.say(`rulers.from.${line.from}`) }),
      false,
    ],
    line && !line.printed && [words.say("rulers.square_line"), false],
    line?.printed && [words.say("rulers.overlap", line), false],
    way.measure_on?.reads === "far_edge" && [words.say("rulers.far_edge_measures"), false],
    [words.say("rulers.over", { near: way.over[0], far: way.over[1] }), false],
    way.covers_piece === false && [words.say("rulers.covers_part"), true],
    way.check && [words.say(`rulers.check.${way.check.how}`, way.check), true],
    ...way.notes.map((code) => [
      words.say(`rulers.note.${code}`, way.measure_on ?? {}),
      /^(safer|more_exact)_/.test(code) === false,
    ]),
  ].filter(Boolean);
}

/** The two-mark way in numbers: [sentence, whether it is a warning]. */
export function twoMarksFacts(marks, words) {
  const told = ({ angle_error, ...more }) => ({ ...more, angle_error: sayNumber(angle_error, words.locale, 2) });
  return [
    [words.say("rulers.two_marks.offset", marks), false],
    [words.say("rulers.two_marks.step", marks), false],
    [words.say(`rulers.two_marks.${marks.good_enough ? "good" : "not_good"}`, told(marks)), !marks.good_enough],
    ...(marks.halved ? [[words.say("rulers.two_marks.halved", told(marks.halved)), false]] : []),
  ];
}

function laid(way, words) {
  const line = way.angle_line;
  const values = {
    ...line,
    laid_on: line && words.say(`rulers.laid_on.${line.laid_on}`),
    measure: way.measure,
    mark: way.mark?.nearest,
  };
  return words.say(`rulers.${way.step === "strip" ? "strip" : "way"}.${way.kind}`, values);
}
