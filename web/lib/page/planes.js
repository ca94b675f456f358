// Plane geometry for pictures that move: points that are shifted, turned, folded over a line, cut along one.

import { middle } from "./labels.js";

/** Points moved by [dx, dy]. */
export function shifted(points, [dx, dy]) {
  return points.map(([x, y]) => [x + dx, y + dy]);
}

/** Points turned about a center, anticlockwise as they are seen. */
export function turned(points, degrees, [cx, cy]) {
  const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return points.map(([x, y]) => [cx + (x - cx) * cos - (y - cy) * sin, cy + (x - cx) * sin + (y - cy) * cos]);
}

/** Points with their distance from a line so many times as large; below 0 they lie on its other side. */
export function flapped(points, line, times) {
  return points.map(([x, y]) => {
    const [nx, ny] = normal(line);
    const away = sideOf([x, y], line) * (times - 1);
    return [x + nx * away, y + ny * away];
  });
}

/** How far a point lies to the left of a line, as one goes along it; below 0 where it lies to the right. */
export function sideOf([x, y], line) {
  const [nx, ny] = normal(line);
  return (x - line[0][0]) * nx + (y - line[0][1]) * ny;
}

/** The part of a convex area that lies on one side of a line: the left one for 1, the right one for -1; may be empty. */
export function partBeside(points, line, side) {
  const away = points.map((point) => side * sideOf(point, line));
  const found = points.flatMap((point, i) => {
    const [next, after] = [points[(i + 1) % points.length], away[(i + 1) % points.length]];
    const crossed = away[i] * after < 0 ? [between(point, next, away[i] / (away[i] - after))] : [];
    return [...(away[i] >= 0 ? [point] : []), ...crossed];
  });
  return away.some((each) => each > NEAR) ? found : [];
}

/** The first part of a line, by its share of the whole. */
export function begun([from, to], share) {
  return [from, between(from, to, share)];
}

/** What just holds some points: [x, y, width, height]. */
export function boundsOf(points) {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, Math.max(...xs) - x, Math.max(...ys) - y];
}

/** A place between two, or between the places of two lists, by its share of the way. */
export function between(from, to, share) {
  return from.map((each, i) => each + (to[i] - each) * share);
}

/** From one point toward another, so far. */
export function toward([x, y], [X, Y], far) {
  const long = Math.hypot(X - x, Y - y) || 1;
  return [((X - x) / long) * far, ((Y - y) / long) * far];
}

export { middle };

const NEAR = 1e-6; // inches: what is thinner is nothing

function normal([[x, y], [X, Y]]) {
  const long = Math.hypot(X - x, Y - y) || 1;
  return [(y - Y) / long, (X - x) / long];
}
