// A ruler while it is described: all of it as text. And the same as the ask `rulers` takes it.

import { bareLength, typedLength, typedNumber } from "../words/measure.js";

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

/** A number of inches as a text that means the same in any units. */
function text(length) {
  if (length === undefined) return "";
  return typeof length === "string" ? length : `${bareLength(length, "in")} in`;
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
