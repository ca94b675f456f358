// The ways to cut one cloth, by the names that the core's answer to `cloth` gives them, and what is said of them.

/** The ways whose strips all run alike, and the side that they run along. */
export const ONE_WAY = { along_length: "length", along_width: "width" };

/** The ways that there are to choose from; what is sure is one of them where it is fewer than the most. */
export function waysOf({ best, sure }) {
  return [...Object.keys(ONE_WAY), ...(sure.pieces && sure.pieces < best.pieces ? ["sure"] : []), "best"];
}

/** What a way is called beside its number. */
export function wayLabel({ cloth, best }, name, words) {
  if (name === "sure") return words.say("page.way_sure");
  if (name in ONE_WAY) return words.say("page.way_one", { side: cloth[ONE_WAY[name]] });
  return words.say(best.way === "mixed" ? "page.way_mixed" : "page.way_no_mix");
}

/** What is drawn of a way, for those who do not see it. */
export function clothTold(answer, name, words) {
  const { cloth } = answer;
  const { way, pieces: n, layout } = answer[name];
  const { per_strip: per, spare } = answer[way] ?? {};
  const drawn = { ...cloth, n, strips: layout.strips.length };
  return way in ONE_WAY && n
    ? words.say("page.drawn.one_way", { ...drawn, per, spare })
    : words.say("page.drawn.mixed", drawn);
}
