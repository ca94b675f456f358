// The dialogs, each as it stands once it is opened, and what stands in a screen's place or at its foot.

import { h } from "../lib/page/dom.js";
import { allowed } from "../lib/mat/fold.js";
import { filmOf } from "../lib/mat/poses.js";
import { stillText } from "../lib/mat/still-words.js";
import { pileText } from "../lib/words/pile-text.js";
import "../components/mend-dialog.js";
import "../components/repair-view.js";
import "../components/replan-dialog.js";
import "../components/ruler-swap.js";
import "../components/say-dialog.js";
import "../components/show-me.js";
import "../components/term-list.js";
import "../components/trouble-dialog.js";
import "../components/under-way-dialog.js";
import "../components/where-dialog.js";
import { sittingAt } from "./cutting.js";
import { made, part, standing } from "./show.js";

export function asking(given) {
  return part("dialogs", "Dialogs", ...small(given), ...atMat(given));
}

function small({ words }) {
  const said = ["kept", "sent", "newer"].map((code) => h("p", {}, words.say(`updates.ready_told.${code}`)));
  return [
    standing("Said, on a screen", "say-dialog", (dialog) =>
      dialog.tell(words.say("updates.ready_told.title"), words, ...said),
    ),
    standing("A guide is under way", "under-way-dialog", (dialog) => dialog.open({ total: 7, all: 15 }, words)),
  ];
}

function atMat(given) {
  const { words, answers } = given;
  const sitting = sittingAt(given, "piece", 3);
  const counts = sitting.counts();
  const replan = (code, values) => words.say(`basket_screen.replan.${code}`, values);
  return [
    standing("Said, at the mat", "say-dialog", (dialog) => dialog.open(words.say("mat.sitting_caution"), words)),
    standing("Python broke", "trouble-dialog", (dialog) => {
      dialog.again({ report: "guide: out of memory", times: 2 }, words);
    }),
    standing("What happened?", "mend-dialog", (dialog) =>
      dialog.open({
        limits: (event) => allowed(sitting.table, sitting.scripts, sitting.state, event),
        would: (event, n) => sitting.would(event, n),
        counts,
        gives: sitting.step.gives,
        others: [["replan", replan("open"), replan("open_hint", { n: 2 })]],
        later: Promise.resolve([]),
        words,
      }),
    ),
    standing("Where am I", "where-dialog", (dialog) =>
      dialog.open({
        counts,
        history: sitting.history(),
        piles: sitting.piles().map((pile) => ({ ...pile, text: pileText(pile, words) })),
        cloth: { name: words.say("cloth.fat_quarter.name"), made: counts.total, of: counts.all },
        colour: null,
        words,
      }),
    ),
    standing("Plan the rest anew?", "replan-dialog", (dialog) =>
      dialog.open({
        words,
        title: replan("title"),
        facts: [replan("same"), replan("nothing_missing")],
        yes: replan("yes"),
      }),
    ),
    standing("Which rulers now?", "ruler-swap", (dialog) => {
      const names = answers.rulers.rulers.map(({ name }) => name);
      dialog.open({ names, taken: names.slice(0, 1), words });
    }),
    standing("A step's moves, as stills", "show-me", (dialog) => showStills(dialog, sitting, words)),
  ];
}

function showStills(dialog, { script, state, step }, words) {
  const stills = filmOf(script, state.step).stills();
  dialog.open({
    stills: stills.map(({ move, pose }) => ({ text: stillText({ move, step, words }), pose })),
    scene: { scene: script.scenes[step.scene], over: step.over, at: step.at, next: step.next },
    words,
    moving: true,
  });
}

/** What is a landmark of its own, and stands beside the parts of the page. */
export function besides({ words, glossary }) {
  const repair = made("repair-view", {
    title: words.say("repair.title"),
    about: words.say("repair.about"),
    report: "page: a module did not load",
    canRepair: true,
    words,
  });
  const screen = h("p", {}, "fat quarter, selvage, grain");
  const here = document.createElement("words-here").under(screen, { glossary, words });
  return [here, repair];
}
