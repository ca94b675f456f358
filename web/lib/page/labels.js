// Where the labels of a drawing go: by their line or in their area, in sight, and over nothing that matters.

const PLACES_ALONG = [0.5, 0.36, 0.64, 0.22, 0.78, 0.1, 0.9];
const COST = { label: 60, own: 7, line: 4, out: 2, along: 1.6, across: 0.4, pulled: 0.8 };

/**
 * The middle of every label, in order. A label is {points, area, width, height, tall}: its line's or area's points, its
 * own size, and how tall the lines are that its letters may reach into; `lines` are all lines that should stay free, as
 * points; `view` is [left, low, wide, high]; all in the drawing's units.
 */
export function placeLabels(labels, lines, view) {
  const placed = new Map();
  const others = (own) => lines.filter((line) => line !== own);
  for (const label of [...labels].sort((a, b) => a.area - b.area)) {
    const cost = ({ at, cost: asked }) => asked + costOf(at, label, [...placed.values()], others(label.points));
    const found = candidates(label, view).map((each) => ({ ...each, total: cost(each) }));
    const best = found.reduce((least, each) => (each.total < least.total ? each : least));
    placed.set(label, { ...label, at: best.at });
  }
  return labels.map((label) => placed.get(label).at);
}

function costOf(at, label, placed, lines) {
  const box = boxAt(at, label);
  const covered = placed.reduce(
    (sum, other) => sum + shared(box, boxAt(other.at, other)) / (label.width * label.height),
    0,
  );
  const over = (points) => segments(points).reduce((sum, [from, to]) => sum + inside(from, to, box), 0) / label.height;
  const own = label.area ? 0 : over(label.points);
  return (
    covered * COST.label + own * COST.own + lines.reduce((sum, line) => sum + Math.min(3, over(line)), 0) * COST.line
  );
}

/** Where a label may go, wholly in sight, each with what speaks against it. */
function candidates(label, view) {
  const found = label.area ? inArea(label, view) : besideLine(label, view);
  return found.map(({ at, cost }) => {
    const seen = pulledIn(at, label, view);
    return { at: seen, cost: cost + (Math.hypot(seen[0] - at[0], seen[1] - at[1]) / label.height) * COST.pulled };
  });
}

function besideLine({ points, width, height }, view) {
  const seen = clipped(points[0], points.at(-1), view) ?? [points[0], points.at(-1)];
  const [from, to] = seen;
  const [dx, dy] = unit(from, to);
  const gap = height * 0.2;
  const off = Math.abs(dy) * (width / 2) + Math.abs(dx) * (height / 2) + gap;
  const beyond = Math.abs(dx) * (width / 2) + Math.abs(dy) * (height / 2) + gap;
  const found = PLACES_ALONG.flatMap((t) =>
    [1, -1, 0].map((side) => {
      const [x, y] = between(from, to, t);
      return { at: [x - dy * off * side, y + dx * off * side], cost: Math.abs(t - 0.5) * COST.along * 2 };
    }),
  );
  const ends = [
    [to, 1],
    [from, -1],
  ].map(([[x, y], way]) => ({ at: [x + dx * beyond * way, y + dy * beyond * way], cost: COST.along }));
  return [...found, ...ends];
}

function inArea({ points, width, height }, view) {
  const [left, low, wide, high] = boundsWithin(points, view);
  const [cx, cy] = [left + wide / 2, low + high / 2];
  const grid = [0.5, 0.3, 0.7, 0.15, 0.85].flatMap((u) =>
    [0.5, 0.3, 0.7, 0.15, 0.85].map((v) => [left + u * wide, low + v * high]),
  );
  return grid.map((at) => {
    const corners = [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ].map(([x, y]) => [at[0] + (x * width) / 2, at[1] + (y * height) / 2]);
    const out = corners.filter((corner) => !holds(points, corner)).length;
    return { at, cost: out * COST.out + (Math.hypot(at[0] - cx, at[1] - cy) / height) * COST.across };
  });
}

function pulledIn([x, y], { width, tall }, [left, low, wide, high]) {
  return [within(x, left + width / 2, left + wide - width / 2), within(y, low + tall / 2, low + high - tall / 2)];
}

function within(value, least, most) {
  return least > most ? (least + most) / 2 : Math.max(least, Math.min(most, value));
}

function boxAt([x, y], { width, height }) {
  return [x - width / 2, y - height / 2, width, height];
}

function shared([x, y, w, h], [X, Y, W, H]) {
  return Math.max(0, Math.min(x + w, X + W) - Math.max(x, X)) * Math.max(0, Math.min(y + h, Y + H) - Math.max(y, Y));
}

function segments(points) {
  return points.slice(1).map((to, i) => [points[i], to]);
}

/** How much of a segment lies in a box. */
function inside(from, to, box) {
  const part = clipped(from, to, box);
  return part ? Math.hypot(part[1][0] - part[0][0], part[1][1] - part[0][1]) : 0;
}

/** The part of a segment that lies in a box; null where none does. */
function clipped(from, to, [left, low, wide, high]) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [start, end] = [0, 1];
  for (const [toward, room] of [
    [-dx, from[0] - left],
    [dx, left + wide - from[0]],
    [-dy, from[1] - low],
    [dy, low + high - from[1]],
  ]) {
    if (toward === 0 && room < 0) return null;
    if (toward < 0) start = Math.max(start, room / toward);
    if (toward > 0) end = Math.min(end, room / toward);
  }
  return start < end ? [between(from, to, start), between(from, to, end)] : null;
}

function between([x, y], [X, Y], t) {
  return [x + (X - x) * t, y + (Y - y) * t];
}

function unit([x, y], [X, Y]) {
  const long = Math.hypot(X - x, Y - y) || 1;
  return [(X - x) / long, (Y - y) / long];
}

function boundsWithin(points, [left, low, wide, high]) {
  const [xs, ys] = [
    points.map(([x]) => within(x, left, left + wide)),
    points.map(([, y]) => within(y, low, low + high)),
  ];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, Math.max(...xs) - x, Math.max(...ys) - y];
}

/** Whether a point lies in a polygon. */
function holds(points, [x, y]) {
  let odd = false;
  points.forEach(([ax, ay], i) => {
    const [bx, by] = points[(i + 1) % points.length];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  });
  return odd;
}

/** The middle of some points. */
export function middle(points) {
  const sum = points.reduce(([x, y], point) => [x + point[0], y + point[1]], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}
