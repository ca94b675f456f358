// Telling a knock on the table from the cutter's own vibration, from the accelerations that a phone feels.
//
// A knock is one short blow out of quiet that is quiet again at once; a cut is a rumble that goes on. So: quiet before,
// a peak as high as the user's own knocks, quiet after. While blows come faster than anybody knocks, nothing counts.

const BEFORE = 250; // ms that must have been quiet before a knock
const BLOW = 140; // ms that a knock and its ringing may last
const AFTER = 120; // ms that must be quiet after that
const QUIET_SHARE = 0.3; // of the threshold: louder is not quiet
const BUSY_BLOWS = 4; // as many rejected blows …
const BUSY_TIME = 800; // … within this many ms mean that the cutter is running

/** Feeds on (time in ms, acceleration in m/s² without gravity). */
export class KnockDetector {
  #loudAt = -Infinity;
  #blow = null; // {at, last}: a peak that may become a knock
  #rejected = [];

  /** @param {number} threshold the least peak of a knock, in m/s² */
  constructor(threshold) {
    this.threshold = threshold;
  }

  /** Whether a knock is complete with this sample. */
  feed(at, strength) {
    const loud = strength > this.threshold * QUIET_SHARE;
    if (this.#blow) return this.#duringBlow(at, loud);
    if (strength >= this.threshold && at - this.#loudAt > BEFORE) this.#blow = { at };
    else if (strength >= this.threshold) this.#reject(at);
    if (loud) this.#loudAt = at;
    return false;
  }

  #duringBlow(at, loud) {
    const since = at - this.#blow.at;
    if (loud) this.#loudAt = at;
    if (loud && since > BLOW) {
      this.#blow = null;
      this.#reject(at);
      return false;
    }
    if (since < BLOW + AFTER) return false;
    this.#blow = null;
    return !this.#isBusy(at);
  }

  #reject(at) {
    this.#rejected = [...this.#rejected.filter((time) => at - time < BUSY_TIME), at];
  }

  #isBusy(at) {
    return this.#rejected.filter((time) => at - time < BUSY_TIME).length >= BUSY_BLOWS;
  }
}

/**
 * The threshold for a user from the peaks of their own knocks: half of the softest, and never
 * below a bump of the table.
 */
export function tuned(peaks, least = 0.6) {
  return Math.max(least, Math.min(...peaks) / 2);
}

/** The strengths of single blows in a run of samples [[at, strength], …]: for tuning by three knocks. */
export function peaksOf(samples, least = 0.6) {
  const peaks = [];
  let last = -Infinity;
  for (const [at, strength] of samples) {
    if (strength < least) continue;
    if (at - last > BEFORE) peaks.push(strength);
    else peaks[peaks.length - 1] = Math.max(peaks.at(-1), strength);
    last = at;
  }
  return peaks;
}

/** The strength of a motion event: acceleration without gravity where the device tells it, else its change. */
export function strengthOf(event, before) {
  const { acceleration: own, accelerationIncludingGravity: whole } = event;
  if (own && own.x !== null) return Math.hypot(own.x, own.y, own.z);
  if (!whole || whole.x === null || !before) return 0;
  return Math.hypot(whole.x - before.x, whole.y - before.y, whole.z - before.z);
}

/** Whether this device tells of motion at all, asking for leave where it must be asked for (inside a tap). */
export async function motionAllowed() {
  if (!("DeviceMotionEvent" in window)) return false;
  if (typeof DeviceMotionEvent.requestPermission !== "function") return true;
  return (await DeviceMotionEvent.requestPermission()) === "granted";
}

/** Calls `take(at, strength)` for every sample until the function that it returns is called. */
export function listenToMotion(take) {
  let before = null;
  const felt = (event) => {
    take(event.timeStamp, strengthOf(event, before));
    before = event.accelerationIncludingGravity;
  };
  addEventListener("devicemotion", felt);
  return () => removeEventListener("devicemotion", felt);
}
