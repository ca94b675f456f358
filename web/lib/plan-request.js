// From a basket and what is needed to the core's ask `plan`, and from its plan to the guide that cuts it.

import { fabricName } from "./cut-words.js";
import { sidesInUnits, sideUnit, typedLength, typedNumber } from "./measure.js";
import { buyingRequest } from "./quilt-request.js";

const PIECE = ["shape", "size", "angle", "cut", "across", "length"];

/** A name for each of the quilt's fabrics by id, no two alike: cloths and pieces are matched by it. */
export function fabricLabels(quilt, words) {
  const ids = [...new Set([...quilt.state.fabrics.map(({ id }) => id), ...(quilt.answer?.fabrics ?? []).map(({ id }) => id)])];
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
    const id = unlike([words.say(`cloth.${cloth.kind}.name`), fabric].filter(Boolean).join(", "), ids);
    ids.push(id);
    return { id, ...sidesOf(cloth, kind, words), count: cloth.count, selvage: kind.selvage ?? "none", one_way: cloth.one_way, ...(fabric && { fabric }) };
  });
}

function sidesOf(cloth, kind, { units, locale }) {
  const side = (name) => (cloth[name].trim() ? typedLength(cloth[name], sideUnit(name, kind, units), locale) : kind[name]);
  return { length: side("length"), width: side("width") };
}

/** A basket's state with `meant` done to every length in it that is typed in the usual `units`. */
export function withLengths({ cloths, typed, ...state }, { kinds, units }, meant) {
  const sides = (cloth) => sidesInUnits(kinds.find(({ code }) => code === cloth.kind), units);
  const of = (parts, names) => Object.fromEntries(names.map((name) => [name, meant(parts[name])]));
  return {
    ...state,
    cloths: cloths.map((cloth) => ({ ...cloth, ...of(cloth, sides(cloth)) })),
    typed: typed.map((piece) => ({ ...piece, ...of(piece, ["size", "length"]) })),
  };
}

/** Pieces that were typed by hand, as the core takes them. */
export function typedNeeds(pieces, labels, { units, locale }) {
  const length = (text) => typedLength(text, units, locale);
  return pieces.map(({ shape, cut, angle, fabric, need, ...piece }, place) => ({
    id: `piece ${place + 1}`, shape, size: length(piece.size), need,
    ...(shape === "rectangle" ? { length: length(piece.length) } : { angle: typedNumber(angle, locale) }),
    ...(shape === "half-diamond" && { cut }),
    ...(labels[fabric] && { fabric: labels[fabric] }),
  }));
}

/**
 * Everything a quilt needs from a basket: its cut list, with what is longer than the cloth, and the binding, as strips that are
 * joined from the widest cloth of their fabric; how many that takes the core says. Backings are not cut from a basket.
 */
export async function quiltNeeds(quilt, cloths, labels, { python, words }) {
  const request = buyingRequest(quilt.state, words);
  const widths = widest(cloths);
  const fabrics = quilt.answer.fabrics.map(({ id }) => ({ id, ...(widths[labels[id]] && { usable_width: widths[labels[id]] }) }));
  const { backing, ...bare } = request.quilt;
  const answer = await python.ask({ ask: "buying", quilt: bare, usable_width: request.usable_width, fabrics, straighten: 0 });
  if (!answer.ok) return { error: answer.error };
  const joined = answer.fabrics.flatMap((line) => line.strips.filter((strip) => strip.joined).map((strip) => joinedNeed(strip, line, labels)));
  const ids = new Set(joined.map(({ id }) => id));
  const cut = quilt.answer.cut.filter(({ id, need }) => need && !ids.has(id)).map((entry) => ({ id: entry.id, ...pieceOf(entry), need: entry.need, fabric: labels[entry.fabric] }));
  return { needs: [...cut, ...joined] };
}

function joinedNeed({ size, times, gives }, { id: fabric, width_after: length }, labels) {
  return { id: Object.keys(gives)[0], shape: "rectangle", size, length, need: times, fabric: labels[fabric], joined: true };
}

/** The fields that describe a piece. */
function pieceOf(entry) {
  return Object.fromEntries(PIECE.filter((name) => entry[name] !== undefined).map((name) => [name, entry[name]]));
}

/** The widest cloth of each fabric, across: strips are joined from what it gives. A width that was typed counts where none is usual. */
function widest(cloths) {
  const found = {};
  for (const { fabric, width } of cloths) {
    const before = found[fabric];
    if (before === undefined || (typeof width === "number" && (typeof before !== "number" || width > before))) found[fabric] = width ?? undefined;
  }
  return found;
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
