// Planning the rest of a sitting anew: what is still needed, what cloth is left for it, and what a new plan changes.

import { forGuide, madeBy } from "./plan-request.js";

/** Whether a plan for a basket is being cut, so that its rest can be planned anew. */
export function isPlanned(sitting) {
  return Boolean(sitting?.script.request?.target);
}

/** Pieces that were promised by the plan and will not come of it any more; 0 when all goes well. */
export function lost(sitting) {
  const { promised } = sitting.script.request;
  const made = sitting.madeById();
  const coming = toCome(sitting);
  return Object.entries(promised).reduce((sum, [id, n]) => sum + Math.max(0, n - (made[id] ?? 0) - (coming[id] ?? 0)), 0);
}

/** What takes a cloth's wholeness: pressed, trimmed at its edges and folded it can still be used otherwise. */
const CUT_INTO = new Set(["divide", "strip", "starter", "piece"]);

/** Whether nothing has been cut off the cloth at hand, so that it can still be used otherwise. */
export function isWhole({ script, state, step }) {
  return !script.steps.slice(0, state.step).some((before) => before.cloth === step.cloth && CUT_INTO.has(before.do));
}

/**
 * What is left: {pieces, cloths} for the ask `plan`, the cloths of the old plan that are still whole, and what will lie in
 * the piles before them. With `smaller` ({id, length, width}) the cloth at hand is as large as that and counts as whole;
 * where it is `free`, it is whole and goes back to the others.
 */
export function restOf(sitting, { smaller = null, free = false } = {}) {
  const { script, step } = sitting;
  const first = step.do === "swap" || smaller || free ? step.cloth : step.cloth + 1;
  const taken = script.cloths.slice(0, smaller ? first + 1 : first).map(({ id }) => id);
  const before = added(sitting.madeById(), toCome(sitting, (cloth) => cloth < first));
  return {
    pieces: stillNeeded(script.request, before),
    cloths: [...(smaller ? [smallerCloth(sitting, smaller)] : []), ...leftOf(script.request.cloths, taken)],
    planned: script.cloths.slice(first).map(({ id }, place) => (smaller && place === 0 ? smaller.id : id)),
    before,
  };
}

/** The pieces of a request with what is still needed of them. */
export function stillNeeded({ pieces, target }, before) {
  return pieces.map((piece) => ({ ...piece, need: Math.max(0, target[piece.id] - (before[piece.id] ?? 0)) }));
}

/** The cloths that are left when those of these ids are taken. */
export function leftOf(cloths, taken) {
  return cloths.map((cloth) => ({ ...cloth, count: cloth.count - taken.filter((id) => id === cloth.id).length })).filter(({ count }) => count > 0);
}

/** The sums of two counts by id. */
export function added(one, other) {
  const ids = new Set([...Object.keys(one), ...Object.keys(other)]);
  return Object.fromEntries([...ids].map((id) => [id, (one[id] ?? 0) + (other[id] ?? 0)]));
}

function smallerCloth({ script, step }, { id, length, width }) {
  const { id: name } = script.cloths[step.cloth];
  return { ...script.request.cloths.find((cloth) => cloth.id === name), id, length, width, count: 1 };
}

/** The guide's request for a new plan of the rest. */
export function restRequest(sitting, rest, plan) {
  return { ...sitting.script.request, cloths: rest.cloths, layouts: plan.layouts.map(forGuide), promised: promisedBy(rest, plan) };
}

/** What will lie in the piles in the end, by id. */
export function promisedBy(rest, plan) {
  return added(rest.before, madeBy(plan.layouts));
}

/** What a new plan changes: {more, fewer} names of cloths, `missing` by id, and the cloth that comes next (or none). */
export function changes({ planned, begun = [] }, plan) {
  const wanted = [...begun, ...plan.layouts.flatMap(({ cloth, times }) => Array(times).fill(cloth))];
  return { more: without(wanted, planned), fewer: without(planned, wanted), missing: plan.missing, next: plan.layouts[0] ?? null };
}

function without(names, others) {
  const left = [...others];
  return names.filter((name) => {
    const place = left.indexOf(name);
    if (place >= 0) left.splice(place, 1);
    return place < 0;
  });
}

/** Pieces by kind that the cuts still to come will free, of the cloths that fit. */
export function toCome({ script, state }, fits = () => true) {
  const found = {};
  for (const { do: act, gives, strip, cloth } of script.steps.slice(state.step)) {
    if (act !== "piece" || !fits(cloth)) continue;
    const { piece } = script.strips[strip];
    found[piece] = (found[piece] ?? 0) + gives;
  }
  return found;
}
