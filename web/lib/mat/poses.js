// How a scene looks in the middle of its moves: where every point lies, what is seen yet and what is lit up. Plain
// data, worked out from the scene's own points; a scene-view draws it.

import {
  begun,
  between,
  boundsOf,
  flapped,
  middle,
  partBeside,
  shifted,
  sideOf,
  toward,
  turned,
} from "../page/planes.js";
import { movesOf } from "./moves.js";

const READ = 700; // ms before anything moves: the words are read first
const HOLD = 700; // ms that the last picture stays
const ROOM = 0.08; // round what turns or folds, as a share of its longer side
const AWAY = 0.05; // how far a piece comes off, as a share of the picture's two sides
const BAND = 0.1; // the iron's width, as a share of the cloth's
// Where in a move its still is taken, if not at its end.
const STILL_AT = { press: 0.55, fold: 0.72, open: 0.4, turn: 0.35, slide: 0.5 };

/**
 * A step's moves as they can be played: {moves, lasts, at(ms)}, `at` giving the pose at a time; and `stills()`, each
 * {move, pose}. Null where a step has nothing to show.
 */
export function filmOf(script, index) {
  const moves = movesOf(script, index);
  if (!moves.length) return null;
  const step = script.steps[index];
  const set = { step, scene: script.scenes[step.scene], hand: script.hand };
  const lasts = READ + moves.reduce((sum, { ms }) => sum + ms, 0) + HOLD;
  return {
    moves,
    lasts,
    at: (ms) => poseOf(set, moves, ...placeOf(moves, ms - READ)),
    stills: () =>
      moves
        .map((move, i) => ({ move, pose: () => poseOf(set, moves, i, eased(STILL_AT[move.kind] ?? 1), true) }))
        .filter(({ move }) => isTold(move))
        .map(({ move, pose }) => ({ move, pose: pose() })),
  };
}

/** Whether a move has a still of its own: a ruler that is laid by its lines is told with them. */
function isTold({ kind, alone }) {
  return kind !== "settle" && (alone ?? true);
}

/** Which move it is at a time, and how far it has come. */
function placeOf(moves, ms) {
  let left = Math.max(0, ms);
  for (const [i, move] of moves.entries()) {
    if (left < move.ms) return [i, eased(left / move.ms)];
    left -= move.ms;
  }
  return [moves.length - 1, 1];
}

function eased(share) {
  return share * share * (3 - 2 * share);
}

/** The picture in move `now` of the moves, so much of which is done; `held` where it stays so, as a still. */
function poseOf({ step, scene, hand }, moves, now, share, held = false) {
  const still = ({ points }) => ({ points, opacity: 1, label: 1, glow: 0 });
  const pose = {
    at: step.at,
    view: null,
    now: moves[now].kind,
    still: scene.still.map(still),
    over: (scene.over[step.over] ?? []).map(still),
    pieces: scene.pieces.map((points) => ({ points, opacity: 1 })),
    loose: [],
  };
  const set = { step, scene, hand, pose, held };
  moves.forEach((move, i) => MOVES[move.kind](set, move, i < now ? 1 : i > now ? 0 : share, i === now));
  return pose;
}

const MOVES = { press, place, fold, open, join, turn, settle, slide, ruler, light, mark: light, cut, off };

// --- What is done to the cloth

function press({ scene, pose, hand }, move, share, isNow) {
  if (share === 1) return;
  eachArea(scene, pose, ({ points, role }, state) => {
    const [x, y, wide, high] = boundsOf(points);
    const front = hand === "left" ? x + wide * (1 - share) : x + wide * share;
    const upright = (at) => [
      [at, y],
      [at, y + high],
    ];
    const side = hand === "left" ? -1 : 1;
    const done = partBeside(points, upright(front), side);
    state.opacity = 0.45;
    if (done.length) pose.loose.push({ role, points: done });
    const iron = partBeside(done, upright(front - side * BAND * wide), -side);
    if (isNow && iron.length) pose.loose.push({ role: "pressing", points: iron });
  });
}

/** It comes from where the body is. */
function place({ scene, pose }, move, share) {
  moveCloth(pose, (points) => shifted(points, [0, (share - 1) * scene.view[3]]), share < 1);
}

function turn({ scene, pose }, { quarters }, share) {
  const areas = areasOf(scene);
  const [x, y, wide, high] = boundsOf(areas);
  moveCloth(pose, (points) => turned(points, (share - 1) * quarters * 90, [x + wide / 2, y + high / 2]), share < 1);
  pose.wide = isWithin(areas, scene.view) ? null : roomFor(areas);
  if (share < 1) pose.view = pose.wide;
}

/** The layer that comes over lay on the fold's other side. */
function fold({ scene, pose }, move, share, isNow) {
  const line = nearest(scene.still.filter(({ role }) => role === "fold"))?.points;
  if (!line) return;
  const area = scene.still.find(isArea);
  pose.wide = roomFor([...area.points, ...flapped(area.points, line, -1)]);
  if (share === 1) return;
  pose.view = pose.wide;
  hideLines(scene, pose);
  const times = -Math.cos(Math.PI * share);
  pose.loose.push({ role: times < 0 || !isNow ? area.role : "back", points: flapped(area.points, line, times) });
}

/** Each strip's near half lay on its far one. */
function open({ scene, pose }, move, share) {
  if (share === 1) return;
  hideLines(scene, pose);
  const times = -Math.cos(Math.PI * share);
  eachArea(scene, pose, ({ points, role }, state) => {
    const [x, y, wide, high] = boundsOf(points);
    const line = [
      [x, y + high / 2],
      [x + wide, y + high / 2],
    ];
    state.points = partBeside(points, line, 1);
    pose.loose.push({ role: times > 0 ? role : "back", points: flapped(partBeside(points, line, -1), line, times) });
  });
}

function join({ scene, pose }, move, share) {
  let nth = 0;
  eachArea(scene, pose, ({ points }, state) => {
    const [, , wide] = boundsOf(points);
    state.points = shifted(points, [(1 - share) * wide * 0.15 * nth, 0]);
    nth += 1;
  });
}

/** From the picture that held all of a move back to the scene's own. */
function settle({ scene, pose }, move, share) {
  if (pose.view || !pose.wide || share === 1) return;
  pose.view = between(pose.wide, scene.view, share);
  hideLabels(pose);
}

function slide({ pose }, { from, to, moves }, share) {
  pose.at = between([from], [to], share)[0];
  if (moves === "strip" && pose.pieces[to - 1]) pose.pieces[to - 1].opacity = 1 - share;
  if (moves === "strip" && share < 1) for (const state of pose.over) hide(state);
}

// --- What lies on it

/** It comes from the side that it lies on, as seen from the cut. */
function ruler({ step, scene, pose }, { shapes }, share) {
  const over = scene.over[step.over];
  const cut = over.find(({ role }) => role === "cut");
  const far = Math.max(scene.view[2], scene.view[3]) * (1 - share);
  const way = toward(middle(cut?.points ?? []), middle(over[shapes[0].index].points), far);
  for (const { index } of shapes) {
    pose.over[index].points = shifted(over[index].points, way);
    if (share === 0) hide(pose.over[index]);
  }
}

function light({ pose, held }, { shapes }, share, isNow) {
  for (const { of, index } of shapes) {
    const state = pose[of][index];
    state.opacity = Math.min(state.opacity, 2 * share);
    state.label = state.opacity < 1 ? 0 : state.label;
    if (isNow) state.glow = held ? 1 : Math.sin(Math.PI * share);
  }
}

function cut({ pose }, { shapes }, share) {
  for (const { of, index } of shapes) {
    const state = pose[of][index];
    state.points = begun(state.points, share);
    if (share === 0) hide(state);
  }
}

/** What the cut frees, or takes off, comes away from what is left; the ruler is lifted. */
function off({ step, scene, pose }, move, share) {
  if (share === 0) return;
  const [dx, dy] = scene.advance;
  const line = shifted(scene.over[step.over][move.cut.index].points, [dx * step.at, dy * step.at]);
  const freed = step.next === null ? null : pose.pieces[step.next];
  const side = sideOff(scene, line, freed);
  const away = (points) =>
    shifted(points, toward(middle(line), middle(points), share * AWAY * (scene.view[2] + scene.view[3])));
  if (freed) freed.points = away(freed.points);
  else takeOff(scene, pose, line, side, away);
  for (const [i, { role }] of scene.over[step.over].entries()) {
    pose.over[i].opacity *= 1 - (role === "cut" ? 0 : share);
    pose.over[i].label = 0;
  }
}

function takeOff(scene, pose, line, side, away) {
  const parts = [];
  eachArea(scene, pose, ({ role }, state) => parts.push([role, state, partBeside(state.points, line, side)]));
  const whole = parts.flatMap(([, , loose]) => loose);
  if (!whole.length) return;
  const by = shiftOf(whole, away);
  const covered = parts.some(([role, , loose]) => isTaken(role) && loose.length); // it is drawn as what it becomes
  for (const [role, state, loose] of parts.filter((part) => part[2].length)) {
    const kept = partBeside(state.points, line, -side);
    if (kept.length) {
      state.points = kept;
      if (!covered) pose.loose.push({ role, points: shifted(loose, by) });
    } else state.points = shifted(state.points, by);
    state.label = 0;
  }
}

function shiftOf(points, away) {
  const [x, y] = middle(points);
  const [X, Y] = middle(away(points));
  return [X - x, Y - y];
}

/** The side of a cut on which lies what comes off: the piece, the waste, the part, or the selvage beyond the cut. */
function sideOff(scene, line, freed) {
  const named = scene.still.find(({ role }) => isTaken(role));
  if (freed ?? named) return Math.sign(sideOf(middle((freed ?? named).points), line)) || 1;
  const cloth = scene.still.find(({ role }) => role === "cloth" || role === "strip");
  return cloth ? -Math.sign(sideOf(middle(cloth.points), line)) || 1 : 1;
}

function isTaken(role) {
  return role === "waste" || role === "part";
}

// --- All of it

function isArea({ role }) {
  return AREAS.has(role);
}

const AREAS = new Set(["cloth", "strip", "waste", "part", "selvage", "piece"]);

function eachArea(scene, pose, act) {
  scene.still.forEach((shape, i) => isArea(shape) && act(shape, pose.still[i]));
}

function areasOf(scene) {
  return [...scene.still.filter(isArea).flatMap(({ points }) => points), ...scene.pieces.flat()];
}

function moveCloth(pose, way, moving) {
  for (const state of [...pose.still, ...pose.pieces]) state.points = way(state.points);
  if (moving) hideLabels(pose);
}

/** Everything that is no area waits until the cloth lies. */
function hideLines(scene, pose) {
  scene.still.forEach((shape, i) => isArea(shape) || hide(pose.still[i]));
  hideLabels(pose);
}

function hideLabels(pose) {
  for (const state of [...pose.still, ...pose.over]) state.label = 0;
}

function hide(state) {
  state.opacity = state.label = 0;
}

function isWithin(points, [x, y, wide, high]) {
  return points.every(([px, py]) => px >= x && px <= x + wide && py >= y && py <= y + high);
}

/** A view that holds all of these points. */
function roomFor(points) {
  const [x, y, wide, high] = boundsOf(points);
  const room = ROOM * Math.max(wide, high);
  return [x - room, y - room, wide + 2 * room, high + 2 * room];
}

/** The line that lies nearest to the body. */
function nearest(lines) {
  return [...lines].sort((a, b) => middle(a.points)[1] - middle(b.points)[1])[0];
}
