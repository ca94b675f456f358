// Another cloth lies on the mat than the one that was told: what the rest of the plan is then, and the guide that goes on with it.

import { sameStep } from "./another-ruler.js";
import { forGuide, madeBy } from "./plan-request.js";
import { added, isWhole, leftOf, promisedBy, restOf, restRequest, stillNeeded, toCome } from "./replanning.js";

/**
 * The cloths of the basket not yet cut that may lie there instead. While nothing has been cut off the cloth at hand, any that
 * differs from it in more than its name; after that, one of the same sides whose fabric is wanted for pieces alike.
 */
export function othersThere(sitting) {
  const { script, step } = sitting;
  const told = toldCloth(sitting);
  const others = leftOf(script.request.cloths, idsTo(sitting, step.cloth + 1)).filter((cloth) => differs(cloth, told));
  return isWhole(sitting) ? others : others.filter((cloth) => takesItsPlace(cloth, sitting));
}

/** What is left when the cloth of this id is the one at hand; as `restOf` gives it. */
export function restWith(id, sitting) {
  return isWhole(sitting) ? { ...restOf(sitting, { free: true }), here: id } : restOfCut(id, sitting);
}

/**
 * A plan for that rest, by `plan(pieces, cloths)`: the cloth at hand comes first, as the best plan cuts it, or else with
 * the most that it gives and the best plan for what remains. A refusal is given as it is.
 */
export async function planWith(rest, plan) {
  const best = await plan(rest.pieces, rest.cloths);
  if (!best?.ok || !rest.here) return best;
  if (best.layouts.some(({ cloth }) => cloth === rest.here)) return { ...best, layouts: withFirst(rest.here, best.layouts) };
  const alone = await plan(rest.pieces, rest.cloths.filter(({ id }) => id === rest.here).map((cloth) => ({ ...cloth, count: 1 })));
  if (!alone?.ok || !alone.layouts.length) return alone;
  const others = await plan(without(rest.pieces, alone.made), leftOf(rest.cloths, [rest.here]));
  return others?.ok ? { ...others, made: added(alone.made, others.made), layouts: [...alone.layouts, ...others.layouts] } : others;
}

/** The guide's request for it. A cloth that was cut into goes on being cut as it was, for the pieces of the other's fabric. */
export function requestWith(rest, sitting, plan) {
  if (rest.here) return restRequest(sitting, rest, plan);
  const { request } = sitting.script;
  return { ...request, layouts: [...rest.cut, ...plan.layouts.map(forGuide)], promised: promisedBy(rest, plan) };
}

/** The event that goes on with the guide written for that request. */
export function switchTo(script, rest, { scripts, script: old, state }) {
  const at = { script: scripts.length };
  return rest.here ? { ...at, step: 0 } : { ...at, step: sameStep(old.steps, state.step, script.steps), keep: true };
}

function restOfCut(id, sitting) {
  const { script, step } = sitting;
  const { request } = script;
  const likes = likesFor(request.cloths.find((cloth) => cloth.id === id), sitting);
  const here = added(madeOf(sitting, step.cloth), toCome(sitting, (cloth) => cloth === step.cloth));
  const all = added(sitting.madeById(), toCome(sitting, (cloth) => cloth <= step.cloth));
  const before = moved(all, here, likes);
  const layouts = request.layouts.flatMap((layout) => Array(layout.times ?? 1).fill({ ...layout, times: 1 }));
  return {
    pieces: stillNeeded(request, before),
    cloths: leftOf(request.cloths, [...idsTo(sitting, step.cloth), id]),
    planned: script.cloths.slice(step.cloth).map((cloth) => cloth.id),
    begun: [id],
    before,
    cut: [...layouts.slice(0, step.cloth), cutFrom(id, layouts[step.cloth], likes)],
  };
}

/** A layout cut from another cloth, for the pieces that are alike. */
function cutFrom(cloth, layout, likes) {
  return { ...layout, cloth, strips: layout.strips.map((strip) => ({ ...strip, piece: likes[strip.piece] })) };
}

/** The counts `all` with those of `here` counted for the pieces that are alike. */
function moved(all, here, likes) {
  const away = Object.fromEntries(Object.entries(here).map(([id, n]) => [id, -n]));
  const to = Object.entries(here).map(([id, n]) => ({ [likes[id]]: n }));
  return to.reduce(added, added(all, away));
}

/** Pieces made of the strips of one cloth of the script at hand, by the id of their kind. */
function madeOf({ script, state }, cloth) {
  return script.strips.reduce((sum, strip, i) => {
    const made = state.tallies[`${state.script}:${i}`]?.made ?? 0;
    return strip.cloth === cloth ? added(sum, { [strip.piece]: made }) : sum;
  }, {});
}

function takesItsPlace(cloth, sitting) {
  const told = toldCloth(sitting);
  const likes = likesFor(cloth, sitting);
  const sides = ({ length, width }) => JSON.stringify([length, width]);
  return sides(cloth) === sides(told) && sitting.script.strips.every((strip) => strip.cloth !== sitting.step.cloth || likes[strip.piece]);
}

/** For each kind of piece, the one of the same shape and size that is wanted of this cloth's fabric; itself, where any will do. */
function likesFor({ fabric }, { script }) {
  const { pieces } = script.request;
  const like = (piece) => (piece.fabric ? pieces.find((other) => other.fabric === fabric && shapeOf(other) === shapeOf(piece)) : piece);
  return Object.fromEntries(pieces.map((piece) => [piece.id, like(piece)?.id]));
}

function shapeOf({ id, fabric, need, joined, halved, ...shape }) {
  return JSON.stringify(Object.entries(shape).sort());
}

function differs({ id, count, ...cloth }, { id: _, count: __, ...told }) {
  return JSON.stringify(Object.entries(cloth).sort()) !== JSON.stringify(Object.entries(told).sort());
}

function toldCloth({ script, step }) {
  return script.request.cloths.find(({ id }) => id === script.cloths[step.cloth].id);
}

function idsTo({ script }, end) {
  return script.cloths.slice(0, end).map(({ id }) => id);
}

function withFirst(here, layouts) {
  return [...layouts.filter(({ cloth }) => cloth === here), ...layouts.filter(({ cloth }) => cloth !== here)];
}

function without(pieces, made) {
  return pieces.map((piece) => ({ ...piece, need: piece.need - (made[piece.id] ?? 0) }));
}
