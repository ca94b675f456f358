// The parts that a quilt's page is changed and read by, one at a time beside the picture.

/** What the quilt is to be, and what comes of it. "all" shows every part below the other. */
export const FORM_PARTS = ["size", "setting", "fabrics", "edges"];
export const LIST_PARTS = ["cut", "sew", "buy", "class", "all"];

const FIELDS = {
  setting: /^(setting|orientation|edge|joined_by|sashing)/,
  fabrics: /^(fabrics|colou?ring)/,
  edges: /^(borders|top|binding|backing|batting)/,
  sew: /^seam_test/,
  buy: /^(buying|prices|own)/,
  class: /^class/,
};

/** The part that a field of the request is in. */
export function partOf(field) {
  return Object.keys(FIELDS).find((part) => FIELDS[part].test(field)) ?? "size";
}
