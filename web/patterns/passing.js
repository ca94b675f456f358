// What is passed on and taken in: codes, plans, and the ways by which they come.

import "../components/code-picture.js";
import "../components/plan-beside.js";
import "../components/plan-finder.js";
import "../components/plan-told.js";
import { exampleQuilt } from "../lib/quilt/example.js";
import { codeOf } from "../passing/codes.js";
import { framesOf, RATE } from "../passing/stream.js";
import { example, made, part } from "./show.js";

const DAY = 1_700_000_000_000;

export function passing({ words, facts }) {
  const told = words.say("passing.code_told");
  const { frame } = framesOf("a plan ".repeat(200));
  const stream = { rate: RATE, codeOf: (number) => codeOf(frame(number)) };
  const { quilt, basket } = exampleQuilt(facts.usual.in, (code) => words.say(`quilt_screen.example.${code}`));
  const plan = { id: "example", units: "in", title: "", quilt, basket, rulers: [{ name: "6 × 24" }] };
  const finder = (state) =>
    made("plan-finder", { camera: "off", progress: 0, refused: null, busy: false, ...state, words });
  const refused = { code: "cut_short", values: {}, from: "pasted" };
  return [
    part(
      "passing",
      words.say("passing.title"),
      example("A plan in one code", made("code-picture", { code: codeOf("1abcdefghij"), told, words })),
      example("A plan in a stream of codes", made("code-picture", { stream, told, words })),
      example("What a plan is", made("plan-told", { plan, title: words.say("passing.came"), words })),
      example("How a plan comes in", finder({})),
      example("The camera was not given", finder({ camera: "refused" })),
      example("No camera here, and a text that is not whole", finder({ camera: "none", refused })),
      example("Plans that are kept", made("plan-beside", { plans: [{ at: DAY, plan }], words })),
    ),
  ];
}
