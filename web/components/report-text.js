// What is wrong in the words of the machine, folded away: for a report.

import { h } from "../lib/page/dom.js";

/** The text under "For a report"; selected as a whole by a tap. */
export function reportText(text, words) {
  return h(
    "details",
    { class: "report" },
    h("summary", { "data-key": "report" }, words.say("trouble.report")),
    h("pre", { tabindex: "0" }, text),
  );
}
