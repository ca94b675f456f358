// From a sitting to the core's ask `replan`: how far the guide is, by the folded log and the facts of its steps.

/** Whether a plan for a basket is being cut, so that its rest can be planned anew. */
export function isPlanned({ script }) {
  return Boolean(script.request?.layouts && !script.request.piece);
}

/** Pieces that were promised and will not come any more; 0 when all goes well. */
export function lost(sitting) {
  const { promised, request } = sitting.script;
  const [made, coming] = [sitting.cutById(), sitting.comingById()];
  return Object.entries(promised ?? request.promised).reduce(
    (sum, [id, n]) => sum + Math.max(0, n - (made[id] ?? 0) - (coming[id] ?? 0)),
    0,
  );
}

/** Whether nothing has been cut off the cloth at hand. Scripts of before say nothing of it. */
export function isWhole({ script, state, step }) {
  return !script.steps.slice(0, state.step).some((before) => before.cloth === step.cloth && before.cuts_into);
}

/** Whether strips are still to be cut off a cloth that has been cut into. */
export function stripsToCome(sitting) {
  const { script, state, step } = sitting;
  const toCome = script.steps.slice(state.step).some((ahead) => ahead.cloth === step.cloth && ahead.do === "strip");
  return toCome && (!isWhole(sitting) || stripsCut(sitting) > 0);
}

/** The request that asks what a change (see the ask) makes of the rest. */
export function replanRequest(sitting, change) {
  return { ask: "replan", guide: sitting.script.request, done: done(sitting), change };
}

/** The request that asks which cloths of the basket may lie there instead of the one at hand. */
export function othersRequest(sitting) {
  return { ask: "replan_cloths", guide: sitting.script.request, done: done(sitting) };
}

function done(sitting) {
  const { script, state, step } = sitting;
  return {
    cloth: sitting.done ? script.cloths.length : step.cloth,
    whole: isWhole(sitting),
    strips: stripsCut(sitting),
    made: sitting.cutById(),
    here: sitting.cutById((strip, at) => at === state.script && script.strips[strip].cloth === step.cloth),
    coming: sitting.comingById(({ cloth }) => cloth <= step.cloth),
    later: sitting.comingById(({ cloth }) => cloth > step.cloth),
  };
}

/** How many strips have been cut off the cloth at hand. */
function stripsCut({ script, state, step }) {
  return script.steps.slice(0, state.step).filter((before) => before.cloth === step.cloth && before.do === "strip")
    .length;
}
