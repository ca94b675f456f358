// What is settled once for all, what is kept, and what is said where something is broken.

import "../components/copy-keeper.js";
import "../components/distance-check.js";
import "../components/language-choice.js";
import "../components/keeping-state.js";
import "../components/key-teacher.js";
import "../components/knock-tuner.js";
import "../components/past-list.js";
import { sittingAt } from "./cutting.js";
import { example, made, part } from "./show.js";

export function settling(given) {
  const { words, values } = given;
  const [half, whole] = [sittingAt(given, "piece", 3), sittingAt(given, "done")];
  const entries = [
    ...[half, whole].map((sitting, place) => ({ id: `past-${place}`, touched: sitting.events.at(-1).at, sitting })),
    { id: "unread", touched: half.started, sitting: null },
  ];
  const kept = (state) => made("keeping-state", { state, words });
  const copies = (state) => made("copy-keeper", { state: { own: true, ...state }, words });
  return [
    part(
      "tools",
      "Tools",
      example("Earlier cutting", made("past-list", { entries, words })),
      example("Keys and pedals", made("key-teacher", { values, words })),
      example("Knocks: off", made("knock-tuner", { values, words })),
      example("Knocks: on", made("knock-tuner", { values: { ...values, knock: 12 }, words })),
      example("Language", made("language-choice", { taken: null, state: null, words })),
      example("How far away the phone is", made("distance-check", { values, words })),
    ),
    part(
      "keeping",
      "What is kept",
      example("Promised", kept({ promised: true, cleared: false, used: 2.4e6, room: 9e8 })),
      example(
        "Not promised, and cleared after a while",
        kept({ promised: false, cleared: true, used: null, room: null }),
      ),
      example("Copies", copies({})),
      example("A copy was taken", copies({ result: { new: 2, longer: 1, beside: 0, same: 4, kept: true } })),
      example("A copy was refused", copies({ refused: { code: "damaged", values: {}, detail: "no sittings" } })),
    ),
  ];
}
