// Of the kept values, what goes into a copy: rulers and settings, so that a new phone is set up. Pure.

import { todaysSettings } from "../lib/kept/older.js";

// What belongs to one device and not to its user.
const OF_THE_DEVICE = ["pxPerInch", "knock", "tapped"];
/** The kept values that a copy has, by the names that they are kept under. */
export const KEPT = ["settings", "shelf"];

/** The kept values as a copy has them; what was never set is left out. */
export function forCopy({ settings, shelf }) {
  const own = Object.entries(settings ?? {}).filter(([name]) => !OF_THE_DEVICE.includes(name));
  return { ...(own.length && { settings: Object.fromEntries(own) }), ...(shelf && { shelf }) };
}

/** Whether anything of one's own is there that a copy's would take the place of. */
export function hasOwn(values) {
  return Object.keys(forCopy(values)).length > 0;
}

/** A copy's settings as they are taken: those that this version knows, by the schema. */
export function known(settings, schema) {
  const today = todaysSettings(settings);
  const names = Object.keys(schema.$defs.settings.properties);
  return Object.fromEntries(Object.entries(today).filter(([name]) => names.includes(name)));
}
