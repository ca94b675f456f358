// What is settled once for all, what is kept, and what is said where something is broken.

import "../components/copy-keeper.js";
import "../components/distance-check.js";
import "../components/group-list.js";
import "../components/group-passing.js";
import "../components/language-choice.js";
import "../components/keeping-state.js";
import "../components/key-teacher.js";
import "../components/knock-tuner.js";
import "../components/past-list.js";
import { overview } from "../joining/group.js";
import { keptShares, sharedOut } from "../joining/shares.js";
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
    part("group", "Who cuts what", ...grouped(given)),
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

/** Three who share a plan out, one of whom has cut more than was needed. */
function grouped({ words, answers }) {
  const { layouts, made: gave } = answers.plan;
  const pieces = Object.entries(gave).map(([id, need]) => ({ id, need }));
  const [people, [{ id }]] = [["Ann", "Berta"], pieces];
  const report = (who, device, n, at) => ({
    ...{ plan: "plan", who, device, taken: at },
    sequences: [{ id: device, device, length: n, at, counts: { [id]: { made: n, spoiled: 1 } }, undone: [], back: [] }],
  });
  const list = (way, reports) => {
    const shares = way && keptShares(sharedOut(layouts, ["Maud", ...people], { way }), way);
    const own = { device: "own", sequences: [] };
    const group = { me: "Maud", people, way, reports };
    return made("group-list", {
      overview: overview(group, own, { id: "plan", shares }, { layouts, pieces }),
      layouts,
      pieces,
      me: "Maud",
      people,
      words,
    });
  };
  const passing = (state) => made("group-passing", { me: "Maud", state, words });
  const day = 1_700_000_000_000;
  return [
    example("Nothing is shared out yet", list(null, [])),
    example("By cloths; one has cut too many", list("cloth", [report("Ann", "a", gave[id] + 3, day)])),
    example("By kits", list("kit", [report("Ann", "a", 2, day), report("", "b", 1, day)])),
    example("Counts come and go", passing({ said: words.say("group.taken", { who: "Ann", n: 12 }) })),
    example("A count was refused", passing({ refused: words.say("group.refused.other_plan") })),
  ];
}
