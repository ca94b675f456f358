// How a piece of the quilt is cut, in a sentence.

/** What an entry of the core's cut list is called. */
export function kindName(kind, words) {
  return words.say(`quilt.kind.${kind}`);
}

/**
 * What a piece is called by its id: "kind/fabric/number" of a quilt, a part of one, or "piece
 * 2" of those typed by hand.
 */
export function pieceName(id, words) {
  const [kind] = id.split("/");
  if (words.has(`quilt.kind.${kind}`)) return kindName(kind, words);
  if (words.has(`quilt_screen.${kind}`)) return words.say(`quilt_screen.${kind}`);
  return words.say("basket_screen.piece_number", { number: kind.replace("piece ", "") });
}

/** So many pieces by their id; where `each` that is cut gives several, so many rectangles for them. */
export function countedPieces(id, n, each, words) {
  const what = pieceName(id, words);
  return each > 1
    ? words.say("quilt_screen.gives_halved", { n, count: n * each, what })
    : words.say("quilt_screen.gives", { count: n, what });
}

/** How it is cut: the strip and what is taken off it, and whatever else is to be known, a sentence each. */
export function cutSentence(entry, words) {
  const say = (code, values = entry) => words.say(`quilt_screen.cut.${code}`, values);
  const [one, other] = entry.each_way ?? [];
  const how = entry.triangle ? say("triangles", { ...entry, n: entry.need, one, other }) : say(shapeOf(entry));
  const more = [];
  if (entry.custom) more.push(say(`custom.${entry.custom.method}`, { ...entry.custom, n: entry.custom.squares }));
  if (entry.mirrored) more.push(say("mirrored"));
  if (entry.grain) more.push(say(`grain.${entry.grain}`));
  if (entry.extra) more.push(say("extra"));
  if (entry.ends) more.push(say("ends", { one: entry.ends[0], other: entry.ends[1] }));
  return more.length ? say("with_more", { how, more: words.sentences(more) }) : how;
}

function shapeOf({ shape, cut }) {
  return shape === "half-diamond" ? `half_${cut}` : shape;
}

/** The names of the quilt's fabrics by id: the user's own, and those of parts that have a fabric of their own. */
export function fabricName(id, fabrics, words) {
  const own = fabrics.find((fabric) => fabric.id === id);
  if (own) return own.name;
  const [part, number] = id.split("_");
  return words.has(`quilt_screen.own_fabric.${part}`) ? words.say(`quilt_screen.own_fabric.${part}`, { number }) : id;
}
