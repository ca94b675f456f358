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

/** Whether nothing has been cut off the cloth at hand, so that it can still be used otherwise. */
export function isWhole(sitting) {
  const { step, script } = sitting;
  const divided = script.request.layouts.some(({ cloth, division }) => division && cloth === script.cloths[step.cloth].id);
  return ["swap", "press", "selvage", "fold", "divide"].includes(step.do) || (["square", "strip"].includes(step.do) && !step.at && !divided);
}

/**
 * What is left: {pieces, cloths} for the ask `plan`, the cloths of the old plan that are still whole, and what will lie in
 * the piles before them. With `smaller` ({id, length, width}) the cloth at hand is as large as that and counts as whole.
 */
export function restOf(sitting, smaller = null) {
  const { script, step } = sitting;
  const { request } = script;
  const first = step.do === "swap" || smaller ? step.cloth : step.cloth + 1;
  const taken = script.cloths.slice(0, smaller ? first + 1 : first);
  const coming = toCome(sitting, (cloth) => cloth < first);
  const made = sitting.madeById();
  const before = Object.fromEntries(request.pieces.map(({ id }) => [id, (made[id] ?? 0) + (coming[id] ?? 0)]));
  const left = request.cloths.map((cloth) => ({ ...cloth, count: cloth.count - taken.filter(({ id }) => id === cloth.id).length }));
  return {
    pieces: request.pieces.map((piece) => ({ ...piece, need: Math.max(0, request.target[piece.id] - before[piece.id]) })),
    cloths: [...(smaller ? [smallerCloth(sitting, smaller)] : []), ...left].filter(({ count }) => count > 0),
    planned: script.cloths.slice(first).map(({ id }, place) => (smaller && place === 0 ? smaller.id : id)),
    before,
  };
}

function smallerCloth({ script, step }, { id, length, width }) {
  const { id: name } = script.cloths[step.cloth];
  return { ...script.request.cloths.find((cloth) => cloth.id === name), id, length, width, count: 1 };
}

/** The guide's request for a new plan of the rest. */
export function restRequest(sitting, rest, plan) {
  const made = madeBy(plan.layouts);
  const promised = Object.fromEntries(Object.entries(rest.before).map(([id, n]) => [id, n + (made[id] ?? 0)]));
  return { ...sitting.script.request, cloths: rest.cloths, layouts: plan.layouts.map(forGuide), promised };
}

/** What a new plan changes: {more, fewer} names of cloths, `missing` by id, and the cloth that comes next (or none). */
export function changes({ planned }, plan) {
  const wanted = plan.layouts.flatMap(({ cloth, times }) => Array(times).fill(cloth));
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
function toCome({ script, state }, fits = () => true) {
  const found = {};
  for (const { do: act, gives, strip, cloth } of script.steps.slice(state.step)) {
    if (act !== "piece" || !fits(cloth)) continue;
    const { piece } = script.strips[strip];
    found[piece] = (found[piece] ?? 0) + gives;
  }
  return found;
}
