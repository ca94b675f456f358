// What is cut from which cloth, as it is passed on: cloths by their place in the basket and pieces by their ids, so that it
// means the same in every language and stays short.
//
//   {kinds: [piece id, …], cut: [[cloth, times, [along, at] or 0, [along, kind, count, part], …], …]}
//
// `along` is 0 where strips run along the cloth's length, 1 across it; `part` is 1 beyond the division.

import { checksum } from "./checksum.js";

const WAYS = ["length", "width"];

/** A plan's layouts in that form; `request` is what it was asked by. */
export function packedLayouts({ layouts }, { cloths }) {
  const kinds = [...new Set(layouts.flatMap(({ strips }) => strips.map(({ piece }) => piece)))].sort();
  const cut = layouts.map(({ cloth, times, division, strips }) => [
    cloths.findIndex(({ id }) => id === cloth),
    times,
    division ? [WAYS.indexOf(division.along), division.at] : 0,
    ...strips.map((strip) => [
      WAYS.indexOf(strip.along),
      kinds.indexOf(strip.piece),
      strip.count,
      partOf(strip, division),
    ]),
  ]);
  return { kinds, cut };
}

function partOf({ x, y }, division) {
  const at = division?.along === "length" ? x : y;
  return division && at > division.at - 1e-6 ? 1 : 0;
}

/**
 * The layouts for the ask `plan` to start from, for the cloths and the pieces that they are of here; those that are of
 * others are left out.
 */
export function startOf({ kinds, cut }, { cloths, pieces }) {
  return cut.flatMap(([place, times, division, ...strips]) => {
    const cloth = cloths[place];
    const told = strips.map(([way, kind, count, part]) =>
      stripOf(pieces, { id: kinds[kind], way, count, part, division }),
    );
    if (!cloth || told.includes(null)) return [];
    const [along, at] = division || [];
    return [
      {
        cloth: cloth.id,
        length: cloth.length,
        width: cloth.width,
        times,
        division: division ? { along: WAYS[along], at } : null,
        strips: told,
      },
    ];
  });
}

function stripOf(pieces, { id, way, count, part, division }) {
  const piece = pieces.find((each) => each.id === id);
  if (!piece) return null;
  const [along, at] = division || [];
  const far = part ? at : 0;
  return { along: WAYS[way], x: along === 0 ? far : 0, y: along === 1 ? far : 0, piece: id, size: piece.size, count };
}

/** The plan with its layouts in the order of those that it was started from: shares are told by their places. */
export function inOrderOf(given, plan, request) {
  const keys = keysOf(packedLayouts(plan, request));
  const wanted = keysOf(given);
  const place = (key) => (wanted.includes(key) ? wanted.indexOf(key) : wanted.length);
  const order = keys.map((key, i) => [place(key), i]).sort(([a, i], [b, j]) => a - b || i - j);
  return { ...plan, layouts: order.map(([, i]) => plan.layouts[i]) };
}

/** What makes two plans cut the same: what is cut from each cloth, in whatever order it is told. */
export function likenessOfCut(packed) {
  return checksum(new TextEncoder().encode(keysOf(packed).sort().join())).toString(16);
}

function keysOf({ kinds, cut }) {
  return cut.map(([cloth, times, , ...strips]) =>
    JSON.stringify([cloth, times, strips.map(([, kind, count]) => [kinds[kind], count]).sort()]),
  );
}
