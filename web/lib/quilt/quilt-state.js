// What a quilt is described by on its screen: everything as typed, with sensible values to start from.

import { inUnits } from "../words/in-units.js";
import { lightness } from "./swatch.js";

const STARTS = {
  in: {
    width: "50",
    height: "65",
    size: "4",
    seam: "1/4",
    border: "3",
    extra: "2",
    bind: "3/8",
    bolt: "42",
    over: "4",
    straighten: "1",
    quarter: ["18", "20"],
    square: "1/2",
    round_to: "eighth_yard",
    by: "yd",
  },
  cm: {
    width: "130",
    height: "165",
    size: "10",
    seam: "0.75",
    border: "8",
    extra: "5",
    bind: "1",
    bolt: "106",
    over: "10",
    straighten: "3",
    quarter: ["50", "53"],
    square: "1.3",
    round_to: "ten_cm",
    by: "m",
  },
};

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

/** A quilt that nothing was said of yet: about a lap quilt in small diamonds of three fabrics. */
export function freshQuilt(units, nameOf) {
  const start = STARTS[units];
  return {
    units,
    by: "target",
    target: { size: "lap", width: start.width, height: start.height, drop: "" },
    steps: { columns: "9", rows: "7" },
    have: "41",
    fit: "nearest",
    piece: { angle: "60", measure: "size", text: start.size, seam: start.seam },
    setting: "grid",
    orientation: "standing",
    joined_by: "diamonds",
    edge: "filled",
    sashing: { width: "", style: "strips", fabric: "" },
    top: { width: "", height: "" },
    borders: [{ width: start.border, fabric: "f1", corners: "butted", extra: start.extra, grain: "any" }],
    binding: { on: true, grain: "straight", fold: "double", width: start.bind, fabric: "f1" },
    backing: { on: true, overlap: start.over, fabric: "" },
    batting: { on: true, overlap: start.over },
    seam_test: { measured: "" },
    sewn: {},
    fabrics: [0, 1, 2].map((number) => freshFabric(`f${number + 1}`, number, nameOf)),
    colouring: { way: "rings", seed: 1, rest: "", joining: "", changes: {}, chosen: false, apart: "", by_light: 0 },
    own: {},
    class: { weeks: "4", pace: "", share_an_iron: "4", swap: false, made_as: "strips", names: "" },
    batting_price: "",
    buying: {
      usable_width: start.bolt,
      straighten: start.straighten,
      shrink_length: "0",
      shrink_width: "0",
      spare_percent: "0",
      spare_pieces: "0",
      round_to: start.round_to,
      quarter_length: start.quarter[0],
      quarter_width: start.quarter[1],
      square: start.square,
      price_by: start.by,
      kits: false,
      money: "",
      people: "20",
      leader: "1",
      bolt_length: "",
      sizes: [],
    },
  };
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
  ["buying", "bolt_length"],
];

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
