// The plan that is cut now, by an id that everybody who cuts it has: {id, title, shares}.

import { newId } from "../lib/kept/ids.js";

/** The name that it is kept under. */
export const PLAN_IN_HAND = "plan-in-hand";

/** The plan in hand; where there is none, a new one. */
export async function planInHand(store) {
  const kept = await store.get(PLAN_IN_HAND);
  if (typeof kept?.id === "string") return kept;
  const fresh = { id: newId(), title: null, shares: null };
  await store.put(PLAN_IN_HAND, fresh);
  return fresh;
}

/** There is another plan from now on, or none. */
export function forgetPlanInHand(store) {
  return store.put(PLAN_IN_HAND, null);
}
