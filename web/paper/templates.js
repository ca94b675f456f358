// Templates at their true size: pages as the core lays them out (the ask `templates`), in inches, each a picture as large as
// the paper.

import { h, svg } from "../lib/page/dom.js";

const INCH = 72; // points: letters of less than a unit are set badly
const LEADING = 1.2;
// How thick a line is in points, and its dashes, by its role.
const LINES = {
  cut: [1],
  wedge: [1],
  seam: [0.7, "6 3"],
  grain: [0.7],
  bar: [0.7],
  join: [0.6, "12 3 3 3"],
  mark: [0.6],
  rule: [0.6],
};

/** The pages as articles, each with nothing but its picture; with the plan's code and what the user says of it. */
export function templatePages({ pages }, { said, code, words }) {
  return pages.map((page) => h("article", { class: "sheet template-page" }, picture(page, { said, code, words })));
}

/** What has no template, each with why. */
export function leftOut({ left_out: left }, words) {
  return left.map(({ name, code, values }) => {
    const what = words.say(`handout.left_out.${code}`, values);
    return words.say("join.labeled", { label: words.say(name.code, name.values), what });
  });
}

function picture({ width, height, title, about, shapes, texts, ...page }, { said: told, code, words }) {
  return svg(
    "svg",
    {
      width: `${width}in`,
      height: `${height}in`,
      viewBox: `0 0 ${width * INCH} ${height * INCH}`,
      role: "img",
      "aria-label": [said(title, words), said(about, words)].join(" "),
    },
    shapes.map(shape),
    texts.flatMap((text) => lines(text, words)),
    lines({ ...page.said, text: [told.title, told.date, told.by].filter(Boolean).join(" · ") }, words),
    code && codeAt(page.code, code),
  );
}

function codeAt({ x, y, side: wide }, { side, path }) {
  return svg("path", {
    d: path,
    fill: "#000000",
    transform: `scale(${INCH}) translate(${x} ${y}) scale(${wide / side})`,
  });
}

function shape({ role, points, closed }) {
  const [thick, dashes] = LINES[role];
  return svg(closed ? "polygon" : "polyline", {
    "data-role": role,
    points: points.map(([x, y]) => `${x * INCH},${y * INCH}`).join(" "),
    fill: "none",
    stroke: "#000000",
    "stroke-width": thick,
    "stroke-dasharray": dashes,
    "stroke-linejoin": "round",
  });
}

function said(text, words) {
  return "text" in text ? text.text : words.say(text.code, text.values);
}

/** A text in as many lines as it may have. */
function lines(text, words) {
  const { size, anchor, turn, lines: most } = text;
  const [x, y, room] = [text.x, text.y, text.room].map((inches) => inches * INCH);
  const kept = wrapped(said(text, words), size, room).slice(0, most);
  return kept.map((line, number) =>
    svg(
      "text",
      {
        x,
        y: y + number * size * LEADING,
        "font-size": size,
        "text-anchor": anchor,
        transform: turn ? `rotate(${turn} ${x} ${y})` : null,
      },
      line,
    ),
  );
}

let pen;

/** A text in lines no wider than the room that there is, in points. */
function wrapped(text, size, room) {
  pen ??= document.createElement("canvas").getContext("2d");
  pen.font = `100px ${getComputedStyle(document.body).fontFamily}`;
  const wide = (line) => (pen.measureText(line).width / 100) * size;
  const found = [""];
  for (const word of text.split(/(?<=\s)/)) {
    if (found.at(-1) && wide((found.at(-1) + word).trimEnd()) > room) found.push("");
    found[found.length - 1] += word;
  }
  return found.map((line) => line.trimEnd());
}
