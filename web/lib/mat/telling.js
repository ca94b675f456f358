// What the guide says at a step: sentences from the catalogue, filled with the step's values and the counts.

import { pieceCalled } from "../words/pile-text.js";
import { rulersInHand, slid } from "../words/way-words.js";

const COUNTED = new Set(["piece", "strip", "halve"]);

/** What is shown of a sitting: every text at the mat, and the scene to draw. */
export function told(sitting, settings) {
  const { words, values } = settings;
  const { step, script } = sitting;
  const counts = sitting.counts();
  const say = teller(sitting, settings);
  return {
    total: words.say("mat.total", counts),
    tally: tallyOf(sitting),
    count: countOf(sitting, counts, words),
    where: whereOf(sitting, counts, words),
    caution: due(step, words),
    cautions: cautions(step, words),
    sentence: say("short"),
    more:
      values.depth === "long"
        ? words.sentences(anotherRuler(step.values, words), say("long"), laidMore(step.values, words))
        : null,
    why: values.depth === "long" ? say("why") : null,
    tap: words.say(sitting.done ? "mat.tap_close" : COUNTED.has(step.do) ? "mat.tap_cut" : "mat.tap_done"),
    then: sitting.done ? null : next(sitting, words),
    past: past(sitting, words),
    scene:
      (step.scene ?? null) === null
        ? null
        : { scene: script.scenes[step.scene], over: step.over, at: step.at, next: step.next },
  };
}

/**
 * What is spoken at a step, by the user's choice: nothing, the count, the short form, or the short and the long one.
 */
export function spoken(sitting, settings) {
  const { words, values } = settings;
  const { step } = sitting;
  const counts = sitting.counts();
  const count = step.gives && !sitting.done ? words.say("mat.spoken_count", counts) : "";
  if (values.voice === "off") return "";
  if (values.voice === "count") return count;
  const say = teller(sitting, settings);
  const forms = values.voice === "long" ? ["short", "long"] : ["short"];
  return words.sentences(count, cautions(step, words), forms.map(say));
}

/**
 * Says a step's sentence in one of its forms; null where there is none, as for a step that an
 * older guide told otherwise.
 */
function teller(sitting, { words }) {
  const { step, script } = sitting;
  const [strip] = isPractice(sitting) ? script.strips : [];
  const filled = { ...sitting.counts(), ...inHand(sitting, words), ...named(step.values, script, words), ...strip };
  return (form) => {
    const path = strip ? `mat.practice_strip.${form}` : `guide.${step.say}.${form}`;
    if (words.fits(path, filled)) return words.say(path, filled);
    if (form !== "short") return null;
    return words.fits(`mat.old.${step.do}`, filled)
      ? words.say(`mat.old.${step.do}`, filled)
      : words.say("mat.bare", { step: words.say(`where.step.${step.do}`) });
  };
}

/** For practice, a strip of paper is prepared before anything is done with it. */
function isPractice({ script, state }) {
  return Boolean(script.request?.practice) && state.step === 0;
}

/** What the strip in hand gives, by its name, and its fabric. */
function inHand({ step, script }, words) {
  const piece = script.pieces.find(({ id }) => id === script.strips[step.strip]?.piece);
  return piece
    ? {
        name: pieceCalled(piece, words),
        of_fabric: piece.fabric ? words.say("join.fabric", { fabric: piece.fabric }) : "",
      }
    : {};
}

/** A step's values; where its name is a kind of piece, that kind's name. */
function named(values, { pieces }, words) {
  const piece =
    pieces.find(({ id }) => id === values?.name) ?? pieces.find(({ id }) => id === `${values?.name}/joined`);
  return piece ? { ...values, name: pieceCalled(piece, words) } : values;
}

/** The cautions that are due, in full. */
function cautions(step, words) {
  return (step.cautions ?? []).map((code) => words.say(`guide.caution.${code}`));
}

/** The cautions that are due, in one short line; null when there are none. */
function due({ cautions: codes = [] }, words) {
  if (codes.length < 2) return codes.length ? words.say(`mat.due.${codes[0]}`) : null;
  return codes.map((code) => words.say(`mat.due_brief.${code}`)).join(words.say("mat.due_and"));
}

/** The act after this one, with its value. */
function next({ script, state }, words) {
  const step = script.steps[state.step + 1];
  return step ? act("mat.then", step, script, words) : null;
}

/** The last act that stands, with its value; null when there is none. */
function past(sitting, words) {
  const last = sitting.last();
  if (!last) return null;
  return last.event === "cut"
    ? act("mat.past", last.step, last.script, words)
    : words.say(`mat.past_event.${last.event}`);
}

/** An act by what it does, with as many of its values as are there. */
function act(group, step, script, words) {
  const strip = script.strips[step.strip] ?? {};
  const values = { size: strip.size, ...named(step.values, script, words) };
  const path = [`${group}.${step.do}`, `${group}.${step.do}_number`].find((each) => words.fits(each, values));
  return words.say(path ?? `${group}.${step.do}_plain`, values);
}

function countOf({ step, table, done }, counts, words) {
  if (done) return { made: words.say("mat.count", { made: counts.total }), of: "" };
  if (step.do === "finish" && step.values.of)
    return {
      made: words.say("mat.count", { made: step.values.k - 1 }),
      of: words.say("mat.count_of", { of: step.values.of }),
    };
  if (!isInStrip(step, table)) return null;
  return { made: words.say("mat.count", counts), of: words.say("mat.count_of", counts) };
}

function whereOf({ step, table, done }, counts, words) {
  if (["strip", "finish"].includes(step.do) && words.fits("mat.cutting_of", step.values))
    return step.do === "strip" ? words.say("mat.cutting_of", step.values) : "";
  return !done && isInStrip(step, table) ? words.say("mat.strip_of", counts) : "";
}

/** Whether a step is one of those on a strip that gives pieces. */
function isInStrip(step, { rules }) {
  return Boolean(rules[step.do].spoiled_before) && step.do !== "done";
}

const MOST_MARKS = 24;

/** The pieces strip by strip, as {made, of}; null where they are too many to be seen at a glance. */
function tallyOf(sitting) {
  const strips = sitting.byStrip();
  return strips.reduce((sum, { of }) => sum + of, 0) > MOST_MARKS ? null : strips;
}

/** Which ruler to take up, where it is not the one that was in hand. */
function anotherRuler({ ruler, other_ruler: other } = {}, words) {
  return ruler && other ? words.say("mat.take_ruler", { ruler }) : null;
}

/** A ruler that must be turned over or slid, or two held together, is said in so many words. */
function laidMore({ way } = {}, words) {
  return way ? [...rulersInHand(way, words), slid(way, words)].filter(Boolean) : [];
}
