// The quilt of the screen as the core takes it. Lengths go as they were typed; whether they are
// lengths is for the core to say.

import { plainDigits, typedLength, typedNumber } from "../words/measure.js";
import { inOrder, saleOf } from "./quilt-state.js";

/** The request of the ask `quilt`, without its name. */
export function quiltRequest(state, { units, locale }) {
  const length = (text) => typedLength(text, units, locale);
  const geometry = {
    piece: {
      shape: "diamond",
      angle: typedNumber(state.piece.angle, locale),
      [state.piece.measure]: state.piece.inches ?? length(state.piece.text),
      seam: length(state.piece.seam),
    },
    ...sizeOf(state, length),
    setting: state.setting,
    orientation: state.orientation,
    joined_by: state.joined_by,
    edge: state.edge,
    ...(isWanted(state.sashing.width) && {
      sashing: { width: length(state.sashing.width), style: state.sashing.style, ...fabricOf(state.sashing) },
    }),
    borders: bordersOf(state).map((border) => ({
      width: length(border.width),
      corners: border.corners,
      extra: length(border.extra),
      grain: border.grain,
      ...fabricOf(border),
    })),
  };
  return {
    ...geometry,
    ...partsOf(state, length),
    fabrics: state.fabrics.map(({ id, one_way: oneWay }) => ({ id, ...(oneWay && { one_way: true }) })),
    coloring: colouringOf(state, geometryKey(geometry)),
  };
}

/** The request of the ask `seam_test` for what was measured, without its name; null where nothing was. */
export function seamRequest(state, words) {
  const { measured } = state.seam_test;
  if (!measured.trim()) return null;
  return { quilt: quiltRequest(state, words), measured: typedLength(measured, words.units, words.locale) };
}

/** What names a quilt's pieces, so that tapped colours stay with the pieces they were tapped on. */
export function geometryKey({
  piece,
  target,
  columns,
  rows,
  have,
  fit,
  setting,
  orientation,
  joined_by,
  edge,
  sashing,
  borders,
}) {
  const all = [
    piece,
    target,
    columns,
    rows,
    have,
    fit,
    setting,
    orientation,
    joined_by,
    edge,
    sashing?.width,
    borders.map(({ width }) => width),
  ];
  return plainDigits(JSON.stringify(all)); // as older pages wrote it
}

/** The borders that the quilt can have: none round a pointed edge. */
export function bordersOf(state) {
  return state.edge === "pointed" ? [] : state.borders.filter(({ width }) => isWanted(width));
}

function sizeOf({ by, target, steps, have, fit }, length) {
  if (by === "steps") return { columns: steps.columns, rows: steps.rows };
  if (by === "have") return { have };
  const side = (name) => target.inches?.[name] ?? length(target[name]);
  return { target: { width: side("width"), height: side("height") }, fit };
}

function partsOf(state, length) {
  const { top, binding, backing, batting, buying } = state;
  const wide = saleOf(state, backing.fabric || "backing").sale.usable_width.trim() || buying.usable_width;
  return {
    ...(isWanted(top.width) &&
      isWanted(top.height) && { top: { width: length(top.width), height: length(top.height) } }),
    ...(binding.on && {
      binding: {
        grain: binding.grain,
        fold: binding.fold,
        width: length(binding.width),
        strip_length: length(buying.usable_width),
        ...fabricOf(binding),
      },
    }),
    ...(backing.on && {
      backing: { overlap: length(backing.overlap), usable_width: length(wide), ...fabricOf(backing) },
    }),
    ...(batting.on && { batting: { overlap: length(batting.overlap) } }),
  };
}

function colouringOf(state, key) {
  const { colouring, setting } = state;
  const { way, seed, rest, joining, changes } = colouring;
  const used = inOrder(state).map(({ id }) => id);
  return {
    way,
    seed,
    fabrics: used,
    ...(rest && { rest }),
    ...(joining && setting === "stars" && { joining }),
    ...(changes[key]?.length && { changes: changes[key] }),
  };
}

function fabricOf({ fabric }) {
  return fabric ? { fabric } : {};
}

function isWanted(text) {
  return !/^\s*(0([.,/]0*)?)?\s*$/.test(text);
}

/** The request of the ask `buying` for the same quilt, without its name. */
export function buyingRequest(state, words, sizes = []) {
  const { buying } = state;
  const length = (text) => typedLength(text, words.units, words.locale);
  const number = (text) => typedNumber(text.trim() || "0", words.locale);
  return {
    quilt: { ...quiltRequest(state, words), drawing: false },
    usable_width: length(buying.usable_width),
    straighten: length(buying.straighten),
    shrink: { length: number(buying.shrink_length), width: number(buying.shrink_width) },
    spare: { percent: number(buying.spare_percent), pieces: buying.spare_pieces || "0" },
    round_to: buying.round_to,
    fat_quarter: { length: length(buying.quarter_length), width: length(buying.quarter_width) },
    square: length(buying.square),
    fabrics: soldIds(state).map((id) => saleRequest(id, state, { length, number })),
    ...(state.batting_price.trim() && { batting_price: number(state.batting_price) }),
    ...(buying.kits && {
      kits: {
        people: buying.people,
        leader: buying.leader || "0",
        ...(buying.bolt_length.trim() && { bolt_length: boltLength(buying, words) }),
        sizes: sizesRequest(buying.sizes, sizes, words),
      },
    }),
  };
}

/** The other sizes of a class, as large as the core says that they usually are. */
function sizesRequest(others, usual, words) {
  return others.flatMap(({ size, people }) => {
    const found = usual.find(({ code }) => code === size);
    if (!found) return [];
    const { width, height } = found.hung ?? found;
    const inches = (number) => `${number} in`;
    const target = { width: inches(width), height: inches(height) };
    return [{ name: words.say(`quilt.size.${size}`), people, target, fit: "nearest" }];
  });
}

/** The request of the ask `class_plan` for a class that makes the same quilt, without its name. */
export function classRequest(state, words, hand, sizes) {
  const { weeks, pace, share_an_iron: share, swap } = state.class;
  return {
    ...buyingRequest(state, words, sizes),
    weeks,
    swap,
    share_an_iron: share,
    hand,
    ...(pace.trim() && { pace: typedNumber(pace, words.locale) }),
  };
}

/** The fabrics that something is said of, in the order in which the request names them. */
export function soldIds({ fabrics, own }) {
  return [...fabrics.map(({ id }) => id), ...Object.keys(own)];
}

function saleRequest(id, state, { length, number }) {
  const { sold, price, usable_width: width } = saleOf(state, id).sale;
  const by = sold === "fat_quarter" ? "fat_quarter" : state.buying.price_by;
  return {
    id,
    sold,
    ...(width.trim() && { usable_width: length(width) }),
    ...(price.trim() && { price: number(price), price_by: by }),
  };
}

/** A bolt's length is typed in yards or metres. */
function boltLength({ bolt_length: text, price_by: by }, { locale }) {
  return typedLength(text, by, locale);
}
