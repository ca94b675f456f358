// What the hands do at a step, move by move, read from the scene that the core gives for it and from the one before.
// Shapes go by their roles alone: nothing here knows a piece, a ruler or a hand.

// How long each kind of move takes, in ms.
const LASTS = {
  press: 1000,
  place: 600,
  fold: 1000,
  open: 1000,
  join: 600,
  turn: 800,
  slide: 420,
  ruler: 600,
  light: 300,
  cut: 600,
  off: 420,
  settle: 300,
};
// What the hands do to the cloth itself at a step, where it is no cut.
const HANDLED = {
  press: "press",
  place: "place",
  swap: "place",
  lay: "place",
  fold: "fold",
  unfold: "open",
  half_turn: "turn",
  turn: "turn",
  join: "join",
};
const QUARTERS = { clockwise: -1, anticlockwise: 1 };
const SHOWN = 2; // times that a kind of move is shown unasked

/**
 * The moves of a step, in order: {kind, ms, …}. A move's shapes are {of: "still" or "over", index}; a move that lights
 * one up has its `role` and its `label`. None where nothing is to be shown.
 */
export function movesOf(script, index) {
  const step = script.steps[index];
  const scene = script.scenes[step.scene];
  if (!scene) return [];
  const at = { script, step, scene, index, over: refs(scene.over[step.over] ?? [], "over") };
  const cut = at.over.find(({ role }) => role === "cut");
  const ruled = at.over.some(({ role }) => role === "ruler");
  return [
    ...handled(at),
    ...(ruled || cut ? [] : refs(scene.still, "still").filter(isFound).map(light)),
    ...laid(at, ruled),
    ...(cut ? [{ kind: "cut", ms: LASTS.cut, shapes: [cut], aside: isAside(at, cut) }] : []),
    ...(cut ? [{ kind: "off", ms: LASTS.off, cut }] : []),
  ];
}

/** A strip that runs away from the body is cut from side to side. */
function isAside({ script, step, scene }, { index }) {
  const [[from], [to]] = scene.over[step.over][index].points;
  return script.lay === "away" && from !== to;
}

/** What a step is to a beginner: the kinds of move that he meets at it. */
export function kindsOf(script, index) {
  const { over, scene } = script.steps[index];
  const name = ({ kind }) => {
    if (kind === "slide") return `slide_${script.scenes[scene].moves}`;
    return ["cut", "off", "ruler", "mark"].includes(kind) ? over : kind === "light" || kind === "settle" ? null : kind;
  };
  const moves = movesOf(script, index);
  const found = new Set(moves.map(name).filter(Boolean));
  if (!found.size && moves.length) found.add("check"); // nothing is moved: something is looked at
  return [...found];
}

/** Whether a kind of move among these is still shown unasked. */
export function isNew(kinds, seen) {
  return kinds.some((kind) => (seen[kind] ?? 0) < SHOWN);
}

/** How often each kind was seen, once these were seen once more. */
export function seenOnceMore(kinds, seen) {
  return { ...seen, ...Object.fromEntries(kinds.map((kind) => [kind, Math.min(SHOWN, (seen[kind] ?? 0) + 1)])) };
}

function refs(shapes, of) {
  return shapes.map(({ role, label }, index) => ({ of, index, role, label }));
}

/** An edge or a length that is looked at. */
function isFound({ role }) {
  return role === "edge" || role === "side";
}

function light(shape) {
  return { kind: "light", ms: LASTS.light, role: shape.role, label: shape.label, shapes: [shape] };
}

/** What is done to the cloth. */
function handled({ script, step, scene, index }) {
  const { turn } = step.values;
  const kind = step.do === "take_part" ? (turn ? "turn" : "place") : HANDLED[step.do];
  if (isPaper(script, index)) return [{ kind: "place", ms: LASTS.place }];
  if (kind === "turn") {
    const quarters = QUARTERS[turn] ?? (script.hand === "left" ? -2 : 2);
    return [
      { kind, ms: LASTS.turn, quarters },
      { kind: "settle", ms: LASTS.settle },
    ];
  }
  if (kind === "fold")
    return [
      { kind, ms: LASTS.fold },
      { kind: "settle", ms: LASTS.settle },
    ];
  if (kind) return [{ kind, ms: LASTS[kind] }];
  return slid(script, index, step, scene);
}

/** The strip slid on to its next piece, or the ruler to its next strip. */
function slid(script, index, step, scene) {
  if (step.next === null) return [];
  const earlier = script.steps
    .slice(0, index)
    .filter(({ scene: number }) => number === step.scene)
    .at(-1);
  if (!earlier || earlier.at >= step.at) return [];
  return [{ kind: "slide", ms: LASTS.slide, moves: scene.moves, from: earlier.at, to: step.at }];
}

/** Practice begins with a strip of paper: it is laid down, not pressed. */
function isPaper(script, index) {
  return Boolean(script.request?.practice) && index === 0;
}

/** What is measured and marked, the ruler laid, and each of its lines where it lies. */
function laid({ script, step, scene, index, over }, ruled) {
  const of = (...roles) => over.filter(({ role }) => roles.includes(role));
  const marks = of("mark");
  // Where nothing lies on the cloth, or a ruler is laid by marks, a length is measured along an edge.
  const along = marks.length || !ruled ? of("measure-line") : [];
  const slides = scene.moves === "ruler" && slid(script, index, step, scene).length;
  const ruler = {
    kind: "ruler",
    ms: LASTS.ruler,
    shapes: of("ruler", "ruler-slid", "ruler-line"),
    alone: !of("measure-line", "angle-line").length,
  };
  return [
    ...of("last-cut").map(light),
    ...along.map((shape) => ({ ...light(shape), along: true })),
    ...(marks.length ? [{ kind: "mark", ms: LASTS.light, shapes: marks, alone: !along.length }] : []),
    ...(ruled && !slides ? [ruler] : []),
    ...(along.length ? [] : of("measure-line").map(light)),
    ...of("angle-line", "side").map(light),
  ];
}
