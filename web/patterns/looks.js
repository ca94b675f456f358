// The tokens themselves, as the style sheet has them: palette with its contrast, type, spacing and touch, motion.

import { h } from "../lib/page/dom.js";
import { example, part, wide } from "./show.js";

/** What stands on what, and the contrast that it needs: 4.5 for words, 3 for lines and shapes (WCAG 2.2, AA). */
const PAIRS = [
  ...["ink", "ink-soft", "press", "bad", "good", "measure-line", "angle-line"].map((one) => [one, "paper", 4.5]),
  ...["ink", "ink-soft", "press"].map((one) => [one, "card", 4.5]),
  ...["ink", "ink-soft"].map((one) => [one, "sunk", 4.5]),
  ...["ink", "ink-soft", "press"].map((one) => [one, "press-tint", 4.5]),
  ["bad", "bad-tint", 4.5],
  ["on-press", "press", 4.5],
  ["on-bad", "bad", 4.5],
  ["line", "paper", 3],
  ["line", "card", 3],
  ["piece", "cloth", 3],
  ["cloth-edge", "sunk", 3],
  ["piece-edge", "piece", 3],
  ["hatch", "waste", 3],
  ["ruler-edge", "paper", 3],
  ["cut", "paper", 3],
];
const GROUPS = {
  spacing: /^--gap-/,
  touch: /^--(round|touch|thumb|slant|mat-key|mat-touch)/,
  motion: /^--(quick|slide|ease|focus)/,
};

export function looks() {
  const tokens = tokensOf(document.styleSheets);
  const isColor = ([, value]) => CSS.supports("color", value.replace(/var\([\w-]+\)/g, "red"));
  const colors = tokens.filter(isColor);
  const rest = tokens.filter((token) => !isColor(token) && token[0] !== "--face");
  const of = (group) => rest.filter(([name]) => GROUPS[group].test(name));
  const type = rest.filter(([name]) => !Object.values(GROUPS).some((names) => names.test(name)));
  return [
    part(
      "palette",
      "Palette",
      wide("Each with its name and what it is now", h("ul", { class: "swatches" }, colors.map(swatch))),
    ),
    part("contrast", "Contrast", wide("What stands on what, worked out as it is now", contrasts())),
    part("type", "Type", wide("Each with its name", h("ul", { class: "type-scale" }, type.map(typed)))),
    part(
      "spacing",
      "Spacing, touch, focus and motion",
      example("Spacing", h("ul", { class: "spaces" }, of("spacing").map(spaced))),
      example("Touch and corners", h("ul", { class: "spaces" }, of("touch").map(spaced))),
      example(
        "Focus, and motion: none where less is wished",
        h(
          "ul",
          {},
          of("motion").map(([name, value]) => h("li", {}, h("code", {}, name), ` ${value}`)),
        ),
      ),
    ),
  ];
}

/** The tokens as they stand in the style sheet's first rule of all: [name, value]. */
function tokensOf(sheets) {
  const rules = [...sheets].flatMap((sheet) => [...sheet.cssRules]);
  const { style } = rules.find(
    ({ selectorText, style: own }) => selectorText === ":root" && own.getPropertyValue("--paper"),
  );
  return [...style].filter((name) => name.startsWith("--")).map((name) => [name, style.getPropertyValue(name)]);
}

function swatch([name]) {
  const color = h("span", { class: "swatch" });
  color.style.background = `var(${name})`;
  return h("li", {}, color, h("code", {}, name.slice(2)), h("span", { class: "soft small" }, hex(rgbaOf(name))));
}

function typed([name, value]) {
  const sample = h("span", {}, "4⅝ in");
  sample.style.fontSize = `var(${name})`;
  return h("li", {}, h("code", {}, name.slice(2)), h("span", { class: "soft small" }, value), sample);
}

function spaced([name, value]) {
  const bar = h("span", { class: "space" });
  bar.style.width = `var(${name})`;
  return h("li", {}, bar, h("code", {}, name.slice(2)), h("span", { class: "soft small" }, value));
}

function contrasts() {
  const row = ([one, other, needed]) => {
    const ratio = contrast(rgbaOf(`--${one}`), rgbaOf(`--${other}`));
    const sample = h("span", { class: "pair", "aria-hidden": "true" }, needed > 3 ? "3½" : "—");
    Object.assign(sample.style, { color: `var(--${one})`, background: `var(--${other})` });
    return h(
      "li",
      { class: ratio < needed ? "falls-short" : null },
      sample,
      h("code", {}, `${one} on ${other}`),
      h("b", {}, ratio.toFixed(1)),
      h("span", { class: "soft small" }, `${needed} needed`),
    );
  };
  return h("ul", { class: "pairs" }, PAIRS.map(row));
}

/** A token's color as it is now: [red, green, blue, alpha]. */
function rgbaOf(name) {
  const probe = document.body.appendChild(h("span"));
  probe.style.color = `var(${name})`;
  const parts = getComputedStyle(probe)
    .color.match(/[\d.]+/g)
    .map(Number);
  probe.remove();
  return [...parts, 1].slice(0, 4);
}

function hex([red, green, blue, alpha]) {
  const two = (part) => Math.round(part).toString(16).padStart(2, "0");
  return `#${[red, green, blue].map(two).join("")}${alpha < 1 ? ` at ${Math.round(alpha * 100)} %` : ""}`;
}

/** By WCAG 2.2: relative luminance of both, the lighter over the darker. */
function contrast(one, other) {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

function luminance([red, green, blue]) {
  const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
}
