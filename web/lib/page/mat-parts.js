// What several parts of the guide's screens are made of.

import { h } from "./dom.js";
import { icon } from "./icons.js";

const SLACK = 6; // px by which letters may reach beyond the lines that they stand in

/** Whether not all of an element can be seen. */
export function spills(element) {
  return element.scrollHeight > element.clientHeight + SLACK || element.scrollWidth > element.clientWidth + 1;
}

/** The sign before a caution. */
export function warning() {
  return icon("mark", "caution", "mat-warning");
}

// A number and its unit, such as "4⅝ in" or "2³⁄₁₆ in".
const MEASURE = /([\d\p{No}][\d\p{No}⁄.,]* \p{L}{1,2}(?!\p{L}))/u;

/** A text whose measures are not broken at the end of a line. */
export function unbroken(text, whole = MEASURE) {
  return text.split(whole).map((part, i) => (i % 2 ? h("span", { class: "whole" }, part) : part));
}
