// What a quilt is described by on its screen: everything as typed, with sensible values to start from.

import { inUnits } from "../words/in-units.js";
import { withUnit } from "../words/measure.js";
import { lightness } from "./swatch.js";

/** The usual colours to start from, each with a print of its own. */
export const PALETTE = [
  ["#2f4a86", "dots"],
  ["#e2a63b", "plain"],
  ["#a23a4c", "sprigs"],
  ["#efe3cc", "plain"],
  ["#3f7a5b", "lines"],
  ["#7d5aa0", "dots"],
  ["#d8794f", "checks"],
  ["#46535e", "plain"],
];

/**
 * A quilt that nothing was said of yet: about a lap quilt in small diamonds of three fabrics, as the core says is
 * `usual` in the units of now.
 */
export function freshQuilt({ units, piece, quilt: usual }, nameOf) {
  return {
    units,
    by: "target",
    target: { ...usual.target, drop: "" },
    steps: usual.steps,
    have: usual.have,
    fit: usual.fit,
    piece,
    setting: usual.setting,
    orientation: usual.orientation,
    joined_by: usual.joined_by,
    edge: usual.edge,
    sashing: { width: "", style: usual.sash_style, fabric: "" },
    top: { width: "", height: "" },
    borders: [{ ...usual.border, fabric: "f1" }],
    binding: { on: true, ...usual.binding, fabric: "f1" },
    backing: { on: true, overlap: usual.overlap, fabric: "" },
    batting: { on: true, overlap: usual.overlap },
    seam_test: { measured: "" },
    sewn: {},
    fabrics: [0, 1, 2].map((number) => freshFabric(`f${number + 1}`, number, nameOf)),
    colouring: { way: "rings", seed: 1, rest: "", joining: "", changes: {}, chosen: false, apart: "", by_light: 0 },
    own: {},
    class: { ...usual.class, pace: "", swap: false, names: "" },
    batting_price: "",
    buying: {
      ...usual.buying,
      shrink_length: "0",
      shrink_width: "0",
      spare_percent: "0",
      spare_pieces: "0",
      kits: false,
      money: "",
      bolt_length: "",
      sizes: [],
    },
  };
}

/** A further border, as the core says is `usual`. */
export function nextBorder({ border, next_border: width }) {
  return { ...border, width, fabric: "" };
}

/** A new fabric: the next of the palette. */
export function freshFabric(id, number, nameOf) {
  const [colour, print] = PALETTE[number % PALETTE.length];
  return {
    id,
    name: nameOf(number + 1),
    colour,
    print,
    photo: null,
    photo_width: "8 in",
    photo_inches: 8,
    used: true,
    one_way: false,
    ...freshSale(),
  };
}

/** How a fabric is sold, and how wide it is where that is not as the others are. */
function freshSale() {
  return { sold: "bolt", price: "", usable_width: "" };
}

/**
 * How a fabric is sold, by its id, and where that stands in the state. Sashing, binding and backing have fabrics of
 * their own where none was chosen for them.
 */
export function saleOf(state, id) {
  const place = state.fabrics.findIndex((fabric) => fabric.id === id);
  const [found, path] = place < 0 ? [state.own[id], ["own", id]] : [state.fabrics[place], ["fabrics", place]];
  return { sale: { ...freshSale(), ...found }, path };
}

/** An id that no fabric has yet. */
export function nextId(fabrics) {
  return `f${1 + Math.max(0, ...fabrics.map(({ id }) => Number(id.slice(1))))}`;
}

/**
 * The state without a fabric: what it was used for goes back to what is usual, pieces tapped in
 * it follow the pattern again.
 */
export function withoutFabric(state, id) {
  const other = (fabric) => (fabric === id ? "" : fabric);
  const free = (part) => ({ ...part, fabric: other(part.fabric) });
  const changes = Object.entries(state.colouring.changes).map(([key, pairs]) => [
    key,
    pairs.filter(([, fabric]) => fabric !== id),
  ]);
  const fabrics = state.fabrics.filter((fabric) => fabric.id !== id);
  return {
    ...state,
    fabrics: fabrics.some(({ used }) => used) ? fabrics : fabrics.map((fabric) => ({ ...fabric, used: true })),
    sashing: free(state.sashing),
    borders: state.borders.map(free),
    binding: free(state.binding),
    backing: free(state.backing),
    colouring: {
      ...state.colouring,
      apart: other(state.colouring.apart),
      rest: other(state.colouring.rest),
      joining: other(state.colouring.joining),
      changes: Object.fromEntries(changes),
    },
  };
}

/** The quilt with an angle and an edge that its setting is possible with, as the core tells it. */
export function withPossible(state, { angle, edges }) {
  return {
    ...state,
    piece: { ...state.piece, angle: angle ? String(angle) : state.piece.angle },
    edge: edges.includes(state.edge) ? state.edge : edges[0],
  };
}

/**
 * The quilt with the placing that its setting starts with, as the core tells it, unless one was chosen: the parts that
 * are the background are then of the lightest fabric, which the diamonds are not of meanwhile (`apart`).
 */
export function withStart(state, { start, colorings }) {
  const { colouring } = state;
  if (colouring.chosen)
    return withWay(state, colorings.some(({ way }) => way === colouring.way) ? colouring.way : start.way, colorings);
  const others = state.fabrics.map((one) => (one.id === colouring.apart ? { ...one, used: true } : one));
  const [lightest] = others.toSorted((one, other) => lightness(other.colour) - lightness(one.colour));
  const background = (start.rest || start.joining) && others.length > 1 ? lightest.id : "";
  const fabrics = others.map((one) => (one.id === background ? { ...one, used: false } : one));
  const apart = lightest.used ? background : "";
  const part = (name) => (start[name] ? background : "");
  const begun = withWay({ ...state, fabrics }, start.way, colorings);
  return put(begun, { rest: part("rest"), joining: part("joining"), apart, chosen: false });
}

/** The fabrics of the diamonds in the order in which a way takes them: as many as have roles from light to dark. */
export function inOrder({ fabrics, colouring }) {
  const used = fabrics.filter((fabric) => fabric.used);
  const first = used.slice(0, colouring.by_light).sort((one, other) => lightness(other.colour) - lightness(one.colour));
  return [...first, ...used.slice(colouring.by_light)];
}

/** The quilt with a way to place the fabrics; `colorings` are those that its setting offers. */
export function withWay(state, way, colorings = []) {
  return put(state, { way, by_light: colorings.find((one) => one.way === way)?.roles.length ?? 0, chosen: true });
}

function put(state, colouring) {
  return { ...state, colouring: { ...state.colouring, ...colouring } };
}

/** What is kept, where an older page did not note whether the placing was chosen: any but the first one was. */
export function withChosenWay(kept) {
  return kept?.state ? { ...kept, state: noted(kept.state), mine: noted(kept.mine) } : kept;
}

function noted(state) {
  const { colouring } = state ?? {};
  if (!colouring?.way || colouring.chosen !== undefined) return state;
  return put(state, { chosen: colouring.way !== "rings" || Boolean(colouring.rest || colouring.joining) });
}

/** A quilt as an older page kept it, by the names that sizes and corners have now; a size that is gone is one's own. */
export function withNewNames(state) {
  const named = (code) => ({ crib: "baby", crib_interior: "" })[code] ?? code;
  const size = named(state.target.size);
  const sizes = state.buying.sizes.map((one) => ({ ...one, size: named(one.size) }));
  const borders = state.borders.map((one) => (one.corners === "mitred" ? { ...one, corners: "mitered" } : one));
  return { ...state, target: { ...state.target, size }, borders, buying: { ...state.buying, sizes } };
}

const LENGTHS = [
  ["target", "width"],
  ["target", "height"],
  ["target", "drop"],
  ["piece", "text"],
  ["piece", "seam"],
  ["sashing", "width"],
  ["top", "width"],
  ["top", "height"],
  ["seam_test", "measured"],
  ["binding", "width"],
  ["backing", "overlap"],
  ["batting", "overlap"],
  ["buying", "usable_width"],
  ["buying", "straighten"],
  ["buying", "quarter_length"],
  ["buying", "quarter_width"],
  ["buying", "square"],
];

/**
 * The quilt before something is typed at a path: what was shown there rounded and meant exactly is now what is typed.
 */
export function withoutExact(state, [part, name]) {
  if (part === "piece" && name === "text") return { ...state, piece: { ...state.piece, inches: null } };
  if (part !== "target" || !state.target.inches?.[name]) return state;
  return { ...state, target: { ...state.target, inches: { ...state.target.inches, [name]: null } } };
}

/** The quilt before its prices go by another length: a bolt's length stays in the one that it was typed in. */
export function withBoltMeant(state) {
  const { bolt_length: text, price_by: by } = state.buying;
  return { ...state, buying: { ...state.buying, bolt_length: withUnit(text, by) } };
}

/** The same quilt where other units may be the usual ones now. */
export function quiltInUnits(state, units) {
  return inUnits(state, units, withLengths);
}

function withLengths(state, meant) {
  const found = structuredClone(state);
  for (const [part, name] of LENGTHS) found[part][name] = meant(found[part][name]);
  for (const border of found.borders) for (const name of ["width", "extra"]) border[name] = meant(border[name]);
  found.fabrics.forEach((fabric) => (fabric.photo_width = meant(fabric.photo_width)));
  for (const sale of [...found.fabrics, ...Object.values(found.own)])
    sale.usable_width = meant(sale.usable_width ?? "");
  return found;
}
