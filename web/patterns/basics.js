// What every screen is made of: choices, acts, fields, numbers, tabs, icons, the frame with how the page stands.

import { h } from "../lib/page/dom.js";
import { icon, ICONS } from "../lib/page/icons.js";
import { chips } from "../components/chips.js";
import { choiceField, tickField } from "../components/choice-field.js";
import { Folds } from "../components/fold-open.js";
import { lengthField, plainField } from "../components/length-field.js";
import { frame } from "../components/page-frame.js";
import { partTabs } from "../components/part-tabs.js";
import { stepper } from "../components/stepper.js";
import { TABS } from "../start/tabs.js";
import { FORM_PARTS } from "../lib/quilt/quilt-parts.js";
import "../components/ask-trouble.js";
import "../components/notice-bar.js";
import "../components/take-back.js";
import { example, live, made, part, wide } from "./show.js";

export const TAPED = "pattern.taped"; // the name of the field whose tape stands open

export function basics({ words, facts, answers }) {
  return [
    part("choices", "Choices", ...choices(words, facts)),
    part("acts", "Acts", ...acts(words)),
    part("fields", "Fields", ...fields(words, answers)),
    part("frame", "Frame, standing and notices", ...standings(words)),
    part("icons", "Icons", ...icons()),
  ];
}

function choices(words, { choices: { angles, grains } }) {
  const taken = { angle: angles[0], part: "size" };
  const parts = FORM_PARTS.map((name) => ({
    name,
    title: words.say(`quilt_screen.part.${name}`),
    wrong: name === "edges",
  }));
  const tabs = (open) => h("div", { class: "quilt-tabs" }, partTabs(words.say("quilt_screen.form_parts"), parts, open));
  return [
    example(
      "Choice: rest and chosen",
      live(
        taken,
        ({ angle }) =>
          chips(
            words.say("page.angle"),
            angles.map((each) => [each, `${each}°`]),
            angle,
          ),
        { chosen: (angle) => ({ angle }) },
      ),
    ),
    example(
      "Choice: focus, not now",
      h(
        "div",
        { class: "chips" },
        h("button", { type: "button", class: "chip as-focused" }, "60°"),
        h("button", { type: "button", class: "chip", disabled: true }, "75°"),
      ),
    ),
    example(
      "Parts: open, and one in which something is wrong",
      live(taken, ({ part: open }) => tabs(open), {
        part: (name) => ({ part: name }),
      }),
    ),
    example(
      "Number",
      live(
        { number: 2 },
        ({ number }) =>
          stepper({
            name: "cloths",
            label: words.say("page.cloths"),
            number,
            least: 1,
            most: 4,
            fewer: words.say("page.cloths_fewer"),
            more: words.say("page.cloths_more"),
          }),
        { stepped: ({ number }) => ({ number }) },
      ),
    ),
    example(
      "List, and a box to tick",
      choiceField({
        name: "pattern.grain",
        label: words.say("basket_screen.grain"),
        taken: grains[0],
        choices: grains.map((grain) => [grain, words.say(`basket_screen.grains.${grain}`)]),
      }),
      tickField({ name: "pattern.on", label: words.say("quilt_screen.binding"), on: true }),
    ),
  ];
}

function acts(words) {
  const button = (look, text, more = {}) =>
    h("div", { class: "chips" }, h("button", { type: "button", class: look, ...more }, text));
  const [start, waits] = ["page.start", "page.starting"].map((code) => words.say(code));
  return [
    example("Main act: one a screen, its end at 60°", button("button main", start)),
    example("Main act: focus", button("button main as-focused", start)),
    example("Main act: waits, and says for what", button("button main", waits, { disabled: true })),
    example("Side act", button("button", words.say("quilt_screen.to_basket"))),
    example("Side act: focus", button("button as-focused", words.say("quilt_screen.to_basket"))),
    example("Side act: not now", button("button", words.say("quilt_screen.to_basket"), { disabled: true })),
    example("Plain act, in a list", button("button plain", words.say("quilt_screen.fabric_change"))),
  ];
}

function fields(words, { wrong }) {
  const label = words.say("page.measure.size.label");
  const hint = words.say("page.measure.size.hint");
  return [
    example("Length, its tape open", lengthField({ name: TAPED, label, hint, text: "4" })),
    example(
      "Length, refused: what was typed stays",
      lengthField({ name: "pattern.wrong", label, text: "4 1/0", error: words.refusal(wrong.error) }),
    ),
    example(
      "Count or name: no tape",
      plainField({ name: "pattern.plain", label: words.say("page.cloths"), text: "2" }),
    ),
    example(
      "Fold",
      new Folds().fold("pattern", words.say("page.seam_summary", { seam: "¼ in" }), false, h("p", {}, hint)),
    ),
    example("Python broke at it", made("ask-trouble", { report: "cloth: out of memory", times: 2 }, words)),
  ];
}

const READY = { stage: "ready" };
const STANDINGS = [
  ["Python is loaded", { python: { stage: "loading" }, offline: { state: "waiting", trouble: {} } }],
  ["Ready", { python: READY, offline: { state: "ready", trouble: {} } }],
  ["A new version", { python: READY, offline: { state: "update", trouble: {} } }],
  ["A new version, while cutting", { python: READY, offline: { state: "update", trouble: {} }, underWay: true }],
  ["Python failed", { python: { stage: "failed", message: "out of memory" } }],
];

function standings(words) {
  return [
    ...STANDINGS.map(([note, standing]) => wide(note, framed(note, standing, words))),
    wide("Notice", made("notice-bar", { code: "mended", values: { what: words.say("start.part.settings") } }, words)),
    wide(
      "Taken out",
      made("take-back", words.say("quilt_screen.fabric_number", { number: 2 }), words, () => {}),
    ),
    wide("Notice with a way on", made("notice-bar", { code: "fault", values: {} }, words)),
  ];
}

/** The frame's head and tabs; its place for a screen stays empty. */
function framed(note, standing, words) {
  const root = h("div");
  const page = frame(root, { words, tabs: TABS });
  page.links[0].setAttribute("aria-current", "page");
  page.tabs.setAttribute("aria-label", `${words.say("page.tabs")}: ${note}`);
  page.standing(standing);
  return root;
}

function icons() {
  return Object.entries(ICONS).map(([group, { paths }]) =>
    example(
      `Group “${group}”`,
      h(
        "ul",
        { class: "pattern-icons" },
        Object.keys(paths).map((name) => h("li", {}, icon(group, name), h("span", {}, name))),
      ),
    ),
  );
}

/** Opens what is opened by a tap, once it stands in the page. */
export function openTape(root) {
  root.querySelector(`[data-key="tape-${TAPED}"]`).click();
}
