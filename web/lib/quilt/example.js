// An example of our own: a lap quilt for a library's raffle, and the mixed basket of cloth that it is cut from.

import { freshFabric, freshQuilt } from "./quilt-state.js";

const FABRICS = [
  ["ink", "#28426f", "dots"],
  ["honey", "#dba242", "sprigs"],
  ["rose", "#a8495b", "lines"],
  ["oat", "#eee2c9", "plain"],
];

const cloth = (kind, count, fabric, sides = {}) => ({
  kind,
  count,
  length: "",
  width: "",
  fabric,
  one_way: false,
  ...sides,
});
const CLOTHS = [
  cloth("yardage", "1", "f1", { length: "1½ yd" }),
  cloth("fat_quarter", "6", "f2"),
  cloth("fat_quarter", "3", "f3"),
  cloth("full_width_strip", "2", "f3", { length: "6 in" }),
  cloth("fat_quarter", "1", "f4"),
  cloth("fat_eighth", "3", "f4"),
  cloth("ten_inch_square", "6", "f4"),
];

/** {quilt, basket} as their screens keep them, for the rest as is `usual`; `nameOf` gives the fabrics' names. */
export function exampleQuilt(usual, nameOf) {
  const fabrics = FABRICS.map(([code, colour, print], number) => ({
    ...freshFabric(`f${number + 1}`, number, () => nameOf(code)),
    colour,
    print,
    used: code !== "oat",
  }));
  const fresh = freshQuilt(usual, () => "");
  const quilt = {
    ...fresh,
    target: { size: "", width: "48 in", height: "60 in", drop: "" },
    piece: { angle: "60", measure: "size", text: "6 in", seam: "¼ in" },
    borders: [{ width: "3 in", fabric: "f1", corners: "butted", extra: "2 in", grain: "crosswise" }],
    fabrics,
    colouring: { ...fresh.colouring, rest: "f4" },
  };
  return { quilt, basket: { cloths: CLOTHS } };
}
