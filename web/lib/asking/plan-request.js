// From a basket and what is needed to the core's ask `plan`, and from its plan to the guide that cuts it.

import { fabricName } from "../words/cut-words.js";
import { sidesInUnits, sideUnit, typedLength, typedNumber, written } from "../words/measure.js";
import { buyingRequest } from "../quilt/quilt-request.js";

const SIDES = ["length", "width"];

/** A name for each of the quilt's fabrics by id, no two alike: cloths and pieces are matched by it. */
export function fabricLabels(quilt, words) {
  const ids = [
    ...new Set([...quilt.state.fabrics.map(({ id }) => id), ...(quilt.answer?.fabrics ?? []).map(({ id }) => id)]),
  ];
  const labels = {};
  for (const id of ids) labels[id] = unlike(fabricName(id, quilt.state.fabrics, words), Object.values(labels));
  return labels;
}

function unlike(name, others) {
  let found = name;
  for (let number = 2; others.includes(found); number += 1) found = `${name} ${number}`;
  return found;
}

/** The cloths of a basket as the core takes them; `ids` are names that the guide can say. */
export function clothsOf(cloths, labels, { kinds, words }) {
  const ids = [];
  return cloths.map((cloth) => {
    const kind = kinds.find(({ code }) => code === cloth.kind);
    const fabric = labels[cloth.fabric];
    const name = words.say(`cloth.${cloth.kind}.name`);
    const id = unlike(fabric ? words.say("join.with_fabric", { name, fabric }) : name, ids);
    ids.push(id);
    return {
      id,
      ...sidesOf(cloth, kind, words),
      count: cloth.count,
      selvage: kind.selvage ?? "none",
      selvages: kind.selvages,
      one_way: cloth.one_way,
      ...(fabric && { fabric }),
    };
  });
}

function sidesOf(cloth, kind, { units, locale }) {
  const side = (name) =>
    cloth[name].trim() ? typedLength(cloth[name], sideUnit(name, kind, units), locale) : kind[name];
  return { length: side("length"), width: side("width") };
}

/** The sides of a cloth with `meant` done to those that are typed in the usual `units`. */
export function sidesMeant(cloth, kind, units, meant) {
  const inUsual = sidesInUnits(kind, units);
  return Object.fromEntries(SIDES.map((side) => [side, (inUsual.includes(side) ? meant : written)(cloth[side])]));
}

/** A basket's state with `meant` done to every length in it that is typed in the usual `units`. */
export function withLengths({ cloths, typed, ...state }, { kinds, units }, meant) {
  const kindOf = (cloth) => kinds.find(({ code }) => code === cloth.kind);
  const of = (parts, names) => Object.fromEntries(names.map((name) => [name, meant(parts[name])]));
  return {
    ...state,
    cloths: cloths.map((cloth) => ({ ...cloth, ...sidesMeant(cloth, kindOf(cloth), units, meant) })),
    typed: typed.map((piece) => ({ ...piece, ...of(piece, ["size", "length"]) })),
  };
}

/** Pieces that were typed by hand, as the core takes them: each with what its shape is described by. */
export function typedNeeds(pieces, labels, { shapes, words: { units, locale } }) {
  const length = (text) => typedLength(text, units, locale);
  return pieces.map(({ shape, cut, angle, fabric, need, ...piece }, place) => {
    const told = { length: length(piece.length), angle: typedNumber(angle, locale), cut };
    return {
      id: `piece ${place + 1}`,
      shape,
      size: length(piece.size),
      need,
      ...Object.fromEntries((shapes[shape] ?? []).map((name) => [name, told[name]])),
      ...(labels[fabric] && { fabric: labels[fabric] }),
    };
  });
}

/**
 * Everything a quilt needs from a basket, as the core's ask `quilt_needs` says; here fabrics go by their labels. Gives
 * {needs, counts, not_cut}, or {error}.
 */
export async function quiltNeeds(quilt, { cloths, grain }, labels, { python, words }) {
  const { quilt: wanted, usable_width } = buyingRequest(quilt.state, words);
  const answer = await python.ask({
    ask: "quilt_needs",
    quilt: wanted,
    cloths: ownFabrics(cloths, labels),
    usable_width,
    grain,
  });
  if (!answer.ok) return { error: answer.error };
  return { ...answer, needs: answer.needs.map((need) => ({ ...need, fabric: labels[need.fabric] })) };
}

/** A plan's layouts to go on from: a new plan is never worse, where they can be cut still. */
export function startFrom(plan) {
  const bare = ({ along, x, y, piece, size, count }) => ({ along, x, y, piece, size, count });
  return (plan?.layouts ?? []).map(({ cloth, length, width, times, division, strips }) => ({
    cloth,
    length,
    width,
    times,
    division,
    strips: strips.map(bare),
  }));
}

/** Cloths with the quilt's own fabrics, by id, instead of their labels. */
export function ownFabrics(cloths, labels) {
  const ids = Object.fromEntries(Object.entries(labels).map(([id, label]) => [label, id]));
  return cloths.map((cloth) => ({ ...cloth, fabric: ids[cloth.fabric] }));
}

/**
 * How many pieces `numbers` (of what is cut, by id) come to for some needs: those of rectangles that are halved
 * count by their triangles, those of strips that are joined once all the strips are there. `counts` is the core's;
 * without it each is a piece.
 */
export function piecesIn(numbers, needs, counts) {
  return needs.reduce((sum, need) => sum + piecesOf(numbers[need.id] ?? 0, need, counts), 0);
}

/** How many pieces so many of one need come to. */
export function piecesOf(number, { id, need }, counts) {
  const { pieces, each } = counts?.[id] ?? { pieces: need, each: 1 };
  return each ? Math.min(pieces, number * each) : number < need ? 0 : pieces;
}

/** Whether what is cut for a need are strips that are joined first. */
export function isJoined({ id }, counts) {
  return counts?.[id]?.each === 0;
}

/** The request for the guide that cuts a plan. Layouts in `skipped` (by place) are cut elsewhere, by somebody else. */
export function guideRequest({ pieces, cloths, grain }, { layouts }, skipped = []) {
  const cut = (here) => layouts.filter((_, place) => skipped.includes(place) !== here).map(forGuide);
  return { ask: "guide", pieces, grain, cloths, layouts: cut(true), elsewhere: cut(false) };
}

/** A layout without its outlines: the guide draws its own. */
function forGuide({ cloth, times, division, strips }) {
  return { cloth, times, division, strips: strips.map(({ outlines, ...strip }) => strip) };
}
