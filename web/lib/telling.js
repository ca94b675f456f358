// What the guide says at a step: sentences from the catalogue, filled with the step's values and the counts.

import { rulersInHand, slid } from "./way-words.js";

const COUNTED = new Set(["piece", "strip"]);

/** What is shown of a sitting: every text at the mat, and the scene to draw. */
export function told(sitting, { words, values }) {
  const { step, script } = sitting;
  const counts = sitting.counts();
  const filled = { ...counts, ...step.values };
  const say = (form) => words.say(`guide.${step.say}.${form}`, filled);
  return {
    total: words.say("mat.total", counts),
    count: countOf(step, counts, words),
    where: whereOf(step, counts, words),
    caution: (step.cautions ?? []).map((code) => words.say(`guide.caution.${code}`)).join(" ") || null,
    sentence: say("short"),
    more: values.depth === "long" ? [say("long"), ...laidMore(step.values, words)].join(" ") : null,
    why: values.depth === "long" ? say("why") : null,
    tap: words.say(sitting.done ? "mat.tap_close" : COUNTED.has(step.do) ? "mat.tap_cut" : "mat.tap_done"),
    scene: step.scene === undefined ? null : { scene: script.scenes[step.scene], over: step.over, at: step.at, next: step.next },
  };
}

/** What is spoken at a step, by the user's choice: nothing, the count, the short or the long form. */
export function spoken(sitting, { words, values }) {
  const { step } = sitting;
  const counts = sitting.counts();
  const count = step.gives && !sitting.done ? words.say("mat.spoken_count", counts) : "";
  if (values.voice === "off") return "";
  if (values.voice === "count") return count;
  const filled = { ...counts, ...step.values };
  const cautions = (step.cautions ?? []).map((code) => words.say(`guide.caution.${code}`));
  return [count, ...cautions, words.say(`guide.${step.say}.${values.voice}`, filled)].filter(Boolean).join(" ");
}

function countOf(step, counts, words) {
  if (step.do === "done") return { made: words.say("mat.count", { made: counts.total }), of: "" };
  if (!step.gives) return null;
  return { made: words.say("mat.count", counts), of: words.say("mat.count_of", counts) };
}

function whereOf(step, counts, words) {
  if (step.do === "strip") return words.say("mat.cutting_of", step.values);
  return step.gives ? words.say("mat.strip_of", counts) : "";
}

/** A ruler that must be turned over or slid, or two held together, is said in so many words. */
function laidMore({ way }, words) {
  return way ? [...rulersInHand(way, words), slid(way, words)].filter(Boolean) : [];
}
