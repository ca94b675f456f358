// What one person passes on of a plan: who has counted what, on which devices. Pure: no page, no store.
//
// It comes from a picture, a file or a text that anybody may have made, so that nothing of it is believed before it was
// read whole.

import { COUNTED, joined, setOf } from "./logs.js";

/** What a report goes by; another number would be another form. */
export const FORM = 1;
/** A longer text is not even looked at. */
export const MOST_TEXT = 1_000_000;
const MOST = { sequences: 500, kinds: 60, places: 2000, count: 1e6, length: 1e6 };
const LONGEST = { kind: 200, who: 80, plan: 100 };
const ID = /^[A-Za-z0-9_-]{1,60}$/;
const LATEST = 8_640_000_000_000_000; // ms; no clock shows more

/** A report that is not taken in. `code` has its sentence under "group.refused". */
export class NotTaken extends Error {
  constructor(code, detail = "") {
    super(`${code} ${detail}`);
    Object.assign(this, { code, detail });
  }
}

/**
 * What a person passes on: the sequences of a plan that are known to this device, its own and those of the copies that it
 * has taken back.
 * @param {{plan: string, who: string, device: string, sequences: object[]}} own of all sittings; other plans' are left out
 */
export function reportOf({ plan, who, device, sequences }) {
  const ofPlan = Object.values(setOf(sequences.filter((each) => each.plan === plan)));
  return { matside_report: FORM, plan, who, device, sequences: ofPlan.map(passedOn) };
}

function passedOn({ id, device, length, at, counts, undone, back }) {
  return {
    id,
    ...(device && { device }),
    length,
    at,
    counts,
    ...(undone.length && { undone }),
    ...(back.length && { back }),
  };
}

/** The report that a text is; throws `NotTaken` where it is none. */
export function readText(text) {
  if (text.length > MOST_TEXT) throw new NotTaken("large");
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new NotTaken("foreign", String(error));
  }
}

/**
 * A report with what belongs to it and nothing else; throws `NotTaken`, and nothing else, for any value that is not one, or
 * is of another plan.
 */
export function readReport(value, plan) {
  try {
    return whole(value, plan);
  } catch (error) {
    if (error instanceof NotTaken) throw error;
    throw new NotTaken("damaged", String(error));
  }
}

/** A set of sequences with those of a report; throws `NotTaken`, and the set is as it was. */
export function takeIn(set, report, plan) {
  return joined(set, setOf(readReport(report, plan).sequences));
}

function whole(value, plan) {
  if (!isObject(value) || !("matside_report" in value)) throw new NotTaken("foreign");
  if (Number.isInteger(value.matside_report) && value.matside_report > FORM) throw new NotTaken("newer");
  must(value.matside_report === FORM, "form");
  must(isText(value.plan, LONGEST.plan) && value.plan, "plan");
  if (value.plan !== plan) throw new NotTaken("other_plan");
  must(isText(value.who, LONGEST.who), "who");
  must(isId(value.device), "device");
  const sequences = list(value.sequences, MOST.sequences, "sequences").map((each) => sequence(each, plan));
  must(new Set(sequences.map(({ id }) => id)).size === sequences.length, "two sequences of one id");
  return { matside_report: FORM, plan, who: value.who.trim(), device: value.device, sequences };
}

function sequence({ id, device = null, length, at, counts: counted, undone = [], back = [] }, plan) {
  must(isId(id), "id");
  must(device === null || isId(device), "device");
  must(isWithin(length, 1, MOST.length), "length");
  must(isWithin(at, 0, LATEST), "at");
  const places = list(undone, MOST.places, "undone");
  must(places.every((place) => isWithin(place, 0, length - 1)) && new Set(places).size === places.length, "undone");
  const taken = list(back, MOST.places, "back").map(takenBack);
  must(new Set(taken.map((each) => `${each.at} ${each.id}`)).size === taken.length, "one event taken back twice");
  return { id, device, sitting: "", plan, length, at, counts: counts(counted), undone: [...places], back: taken };
}

function takenBack({ id, at, counts: counted }) {
  must(isId(id) && isWithin(at, 0, MOST.length), "back");
  return { id, at, counts: counts(counted) };
}

function counts(value) {
  must(isObject(value), "counts");
  const kinds = Object.entries(value);
  must(kinds.length <= MOST.kinds, "kinds");
  return Object.fromEntries(kinds.map(([kind, numbers]) => [named(kind), numbersOf(numbers)]));
}

/** The name of a kind; one that every object has could be taken for what stands under it. */
function named(kind) {
  must(isText(kind, LONGEST.kind) && kind && !(kind in Object.prototype), "kind");
  return kind;
}

function numbersOf(numbers) {
  must(isObject(numbers), "numbers");
  const found = COUNTED.filter((name) => Object.hasOwn(numbers, name)).map((name) => [name, numbers[name]]);
  must(
    found.every(([, n]) => isWithin(n, -MOST.count, MOST.count)),
    "numbers",
  );
  return Object.fromEntries(found);
}

function must(holds, about) {
  if (!holds) throw new NotTaken("damaged", about);
}

function list(value, most, about) {
  must(Array.isArray(value) && value.length <= most, about);
  return value;
}

function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isText(value, longest) {
  return typeof value === "string" && value.length <= longest;
}

function isId(value) {
  return typeof value === "string" && ID.test(value) && !(value in Object.prototype);
}

function isWithin(value, least, most) {
  return Number.isInteger(value) && value >= least && value <= most;
}
