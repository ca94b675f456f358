// Other rulers in the middle of a strip: the core writes the guide anew for the same strips, and cutting
// goes on at the same step.

/** Why a sitting cannot go on with other rulers, for the user to read. */
export class NotWithThese extends Error {}

/**
 * Goes on with `rulers`; resolves to whether the change was taken: it is not when it is no longer `wanted` by then.
 * Rejects with `NotWithThese`: the core's refusal, or `otherStrips` when the strips would come out differently.
 */
export async function goOnWith(rulers, { python, sitting, words, wanted }) {
  const request = { ...sitting.script.request, rulers, chosen: null };
  const answer = await python.ask(request);
  if (!wanted()) return false;
  if (!answer.ok) throw new NotWithThese(words.refusal(answer.error));
  const script = { ...answer.script, request };
  if (!sameStrips(sitting.script, script)) throw new NotWithThese(words.say("rulers_screen.swap.other_strips"));
  const step = sameStep(sitting.script.steps, sitting.state.step, script.steps);
  return sitting.add("switch", { script: sitting.scripts.length, step, keep: true }, script);
}

/** Whether counts of one script's strips mean the same in another. */
export function sameStrips(one, other) {
  return JSON.stringify(one.strips) === JSON.stringify(other.strips);
}

/** The place of a step among other steps; of the next one that is there, where it is not. */
export function sameStep(steps, place, others) {
  const places = new Map(names(others).map((name, i) => [name, i]));
  const found = names(steps)
    .slice(place)
    .find((name) => places.has(name));
  return places.get(found);
}

/** A name for each step: what it does, to what, and the how-manieth of that. */
function names(steps) {
  const seen = new Map();
  return steps.map((step) => {
    const name = `${step.do} ${step.cloth} ${step.strip} ${step.at}`;
    seen.set(name, (seen.get(name) ?? 0) + 1);
    return `${name} ${seen.get(name)}`;
  });
}
