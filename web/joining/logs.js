// Counts of several devices, joined. Pure: no page, no store.
//
// What one device counts in a log without another in between is a sequence, which only ever grows. A set of sequences is
// a grow-only set in which, of two with one id, the longer stays (M. Shapiro, N. Preguiça, C. Baquero, M. Zawirski: A
// comprehensive study of convergent and commutative replicated data types, INRIA RR-7506, 2011): joined in any order, any
// number of times, it comes to one total.

import { extendTrail, START } from "../lib/mat/fold.js";
import { cutByKind } from "../lib/mat/kinds-cut.js";
import { segmentsOf } from "../lib/mat/segments.js";
import { stand } from "../lib/mat/standing.js";

/** What is counted of a kind of piece. */
export const COUNTED = ["made", "spoiled", "lost"];

/**
 * The sequences of a sitting (a record with its events): one for each segment, folded alone.
 *
 * `id` is the mark of its first event, so that the log, wherever it is copied to and whatever it is kept as there, gives
 * the same ones. `counts` is what the counters stood at when it ended less what they stood at when it began, by kind; an
 * undo that reaches across its beginning leaves numbers below 0. `undone` are the places in it of its own events that it
 * took back itself, and `back` tells of other sequences' events that it took back: {id, at (its place there), counts}.
 * @param {object} table the guide's
 * @param {string|null} own the id of the device that an older page counted on, as far as it is known
 * @returns {{id: string, device: string|null, sitting: string, plan: string|null, length: number, at: number, counts:
 *   object, undone: number[], back: object[]}[]}
 */
export function sequencesOf({ id: sitting, title, scripts, events }, table, own = null) {
  const segments = segmentsOf(events);
  const sequences = segments.map(({ device, from }, i) => ({
    id: events[from].mark,
    device: device ?? own,
    sitting,
    plan: title?.plan?.id ?? null,
    length: (segments[i + 1]?.from ?? events.length) - from,
    at: 0,
    counts: {},
    undone: [],
    back: [],
  }));
  const [trail, standing] = [[START], []];
  let kinds = {};
  let number = 0;
  for (const [i, event] of events.entries()) {
    if (segments[number + 1]?.from === i) number += 1;
    const sequence = sequences[number];
    extendTrail(table, scripts, trail, event);
    const now = cutByKind(scripts, trail.at(-1));
    const gave = sum(now, times(kinds, -1));
    kinds = now;
    sequence.at = event.at;
    sequence.counts = sum(sequence.counts, gave);
    for (const taken of stand(standing, { ...event, gave, number, place: i - segments[number].from }))
      noteUndone(sequence, taken, { sequences, number });
  }
  return sequences;
}

/** Notes in a sequence that it took an event back: one of its own, or another's. */
function noteUndone(sequence, { gave, number: whose, place }, { sequences, number }) {
  if (whose === number) sequence.undone.push(place);
  else if (Object.keys(gave).length) sequence.back.push({ id: sequences[whose].id, at: place, counts: gave });
}

/** Two sets of sequences, {id: sequence}, as one. */
export function joined(one, other) {
  const found = new Map(Object.entries(one));
  for (const [id, sequence] of Object.entries(other))
    if (!found.has(id) || isMore(sequence, found.get(id))) found.set(id, sequence);
  return Object.fromEntries(found);
}

/** Sequences as a set. */
export function setOf(sequences) {
  return sequences.reduce((set, sequence) => joined(set, Object.fromEntries([[sequence.id, sequence]])), {});
}

/** Of two sequences of one id the longer counts; of two that are as long, and differ all the same, always the same one. */
function isMore(one, other) {
  return one.length === other.length ? plain(one) > plain(other) : one.length > other.length;
}

/** A value as a text that does not depend on the order of names. */
function plain(value) {
  if (typeof value !== "object" || value === null) return JSON.stringify(value) ?? "";
  if (Array.isArray(value)) return `[${value.map(plain).join()}]`;
  const names = Object.keys(value).sort();
  return `{${names.map((name) => `${JSON.stringify(name)}:${plain(value[name])}`).join()}}`;
}

/**
 * What all sequences of a set come to: {kind: {made, spoiled, lost}}. An event that was taken back on several devices, or
 * by its own and another, is taken back once.
 */
export function totals(set) {
  const sequences = Object.keys(set)
    .sort()
    .map((id) => set[id]);
  const counted = sequences.reduce((all, { counts }) => sum(all, counts), {});
  return takenBackTooOften(set, sequences).reduce((all, { counts, more }) => sum(all, times(counts, more)), counted);
}

/** Events that were taken back more than once: {counts, more}, what one gave and how many times too often. */
function takenBackTooOften(set, sequences) {
  const taken = new Map();
  for (const { id, at, counts } of sequences.flatMap(({ back }) => back)) {
    const key = `${at} ${id}`;
    const byItself = Object.hasOwn(set, id) && set[id].undone.includes(at) ? 1 : 0;
    const before = taken.get(key) ?? { counts, more: byItself - 1 };
    taken.set(key, { ...before, more: before.more + 1 });
  }
  return [...taken.values()].filter(({ more }) => more > 0);
}

/** Pieces beyond what is needed, {kind: n}; `needs` is how many are needed, by kind. */
export function surplus(found, needs) {
  return beyond(Object.entries(found).map(([kind, { made = 0 }]) => [kind, made - (own(needs, kind) ?? 0)]));
}

/** Pieces that are still missing, {kind: n}. */
export function missing(found, needs) {
  return beyond(Object.entries(needs).map(([kind, need]) => [kind, need - (own(found, kind)?.made ?? 0)]));
}

function beyond(numbers) {
  return Object.fromEntries(numbers.filter(([, n]) => n > 0));
}

function own(object, name) {
  return Object.hasOwn(object, name) ? object[name] : undefined;
}

/** Counts by kind, added; where nothing is left of a counter, or of a kind, it is left out. */
export function sum(one, other) {
  const kinds = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  const of = (counts, kind, name) => own(counts, kind)?.[name] ?? 0;
  const added = kinds.map((kind) => [kind, some((name) => of(one, kind, name) + of(other, kind, name))]);
  return Object.fromEntries(added.filter(([, counts]) => Object.keys(counts).length));
}

function times(counts, factor) {
  return Object.fromEntries(
    Object.entries(counts).map(([kind, each]) => [kind, some((name) => (each[name] ?? 0) * factor)]),
  );
}

function some(number) {
  return Object.fromEntries(COUNTED.map((name) => [name, number(name)]).filter(([, n]) => n !== 0));
}
