// The judge of a copy's shape, and of all that is passed on; loaded only when something is to be read.

import { Refused } from "./refused.js";

/** {schema, validate}. Throws `Refused` where a part of the page that reads copies is missing. */
export async function means() {
  try {
    const [{ Validator }, answer] = await Promise.all([
      import("../vendor/json-schema/index.js"),
      fetch(new URL("./schema.json", import.meta.url)),
    ]);
    const schema = await answer.json();
    const validator = new Validator(schema, "2020-12");
    return { schema, validate: (value) => validator.validate(value) };
  } catch (error) {
    throw new Refused("unready", {}, String(error));
  }
}
