// Every way in at the mat, in one place: keys and pedals, and knocks on the table. Each gives an act; what becomes of
// it is decided once, where all acts arrive.

import { listenToKeys } from "./keys.js";
import { KnockDetector, listenToMotion } from "./knock.js";

/** Starts listening; `take(act)` hears "cut", "undo", "spoiled" or "repeat". Returns the function that stops it all. */
export function listen(settings, take) {
  const stops = [listenToKeys(settings, take)];
  if (settings().knock) stops.push(listenToKnocks(settings().knock, () => take("cut")));
  return () => stops.forEach((stop) => stop());
}

function listenToKnocks(threshold, take) {
  const detector = new KnockDetector(threshold);
  return listenToMotion((at, strength) => detector.feed(at, strength) && take());
}
