// What every printed sheet has: its title, what its user says of it, and a code that brings the plan back to a phone.

import { h, svg } from "../lib/page/dom.js";

/**
 * A sheet of paper as an article.
 * @param {{title: string, said: {title: string, date: string, by: string}, code: object|null, words: object}} how
 */
export function sheetFrame({ title, said, code, words }, ...content) {
  const about = [said.title, said.date, said.by].filter(Boolean).join(" · ");
  return h(
    "article",
    { class: "sheet" },
    h(
      "header",
      { class: "sheet-head" },
      h("div", {}, h("h2", {}, title), about && h("p", { class: "sheet-about" }, about)),
      code && codeOnPaper(code, words),
    ),
    content,
  );
}

function codeOnPaper({ side, path }, words) {
  return h(
    "figure",
    { class: "sheet-code" },
    h("figcaption", {}, words.say("paper.code")),
    svg(
      "svg",
      {
        viewBox: `0 0 ${side} ${side}`,
        "shape-rendering": "crispEdges",
        role: "img",
        "aria-label": words.say("passing.code_told"),
      },
      svg("path", { d: path, fill: "#000000" }),
    ),
  );
}

/** So many boxes to tick, five of them together; a reader of screens hears their number. */
export function boxes(number, words) {
  const groups = [];
  for (let left = number; left > 0; left -= 5) groups.push(Math.min(5, left));
  return h(
    "span",
    { class: "boxes", role: "img", "aria-label": words.say("paper.boxes", { n: number }) },
    groups.map((many) =>
      h(
        "span",
        { class: "boxes-five" },
        Array.from({ length: many }, () => h("span", { class: "box" })),
      ),
    ),
  );
}
