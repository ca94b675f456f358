// A ruler while it is described: all of it as text. And the same as the ask `rulers` takes it.

import { bareLength, typedLength, typedNumber, written } from "../words/measure.js";

const LENGTHS = ["width", "length", "tick"];
const LINE_LENGTHS = ["at", "line_length"];

/** What stands in the fields for a ruler that nothing is known of yet; its finest `tick` is a usual one. */
export function freshDraft({ tick }) {
  return {
    name: "",
    width: "",
    length: "",
    tick,
    reads_through: true,
    angles: [],
  };
}

/** What stands in the fields for a ruler that is known. */
export function draftOf({ name, reads_through = true, angles = [], ...ruler }) {
  const lengths = Object.fromEntries(LENGTHS.map((part) => [part, text(ruler[part])]));
  return { name, reads_through, ...lengths, angles: angles.map(lineDraft) };
}

/** The draft with `meant` done to every length in it. */
export function withLengths(draft, meant) {
  const of = (parts, names) => ({ ...parts, ...Object.fromEntries(names.map((name) => [name, meant(parts[name])])) });
  return { ...of(draft, LENGTHS), angles: draft.angles.map((line) => of(line, LINE_LENGTHS)) };
}

function lineDraft(line) {
  return {
    ...line,
    degrees: String(line.degrees),
    lean: line.lean ?? "both",
    hard_to_see: line.hard_to_see ?? false,
    at: text(line.at),
    line_length: text(line.line_length),
  };
}

const SAME = 1e-9; // inches

/** A number of inches as a text that means the same in any units: as it is marked, or else with all its decimals. */
function text(length) {
  if (length === undefined) return "";
  if (typeof length === "string") return written(length);
  if (Number.isInteger(length * 64)) return `${bareLength(length, "in")} in`;
  const tenths = Math.round(length * 25.4);
  return Math.abs(tenths / 25.4 - length) < SAME ? `${tenths / 10} cm` : `${length} in`;
}

/** The ruler that a draft describes; empty fields are left out, for the core to ask for or to do without. */
export function rulerOf(draft, { units, locale }) {
  const lengths = (of, parts) =>
    Object.fromEntries(
      parts.filter((part) => of[part].trim()).map((part) => [part, typedLength(of[part], units, locale)]),
    );
  const angles = draft.angles.map(({ degrees, from, lean, hard_to_see, ...line }) => ({
    ...(degrees.trim() && { degrees: typedNumber(degrees.trim(), locale) }),
    from,
    lean,
    hard_to_see,
    ...lengths(line, LINE_LENGTHS),
  }));
  return { name: draft.name.trim(), reads_through: draft.reads_through, ...lengths(draft, LENGTHS), angles };
}
