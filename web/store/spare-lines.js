// How a sitting is written in the second place: a line of JSON for the sitting with its first
// script, then one for each event.
//
// A line ends with a line feed. What a kill left half written at the end is no line, and what follows a line that
// cannot be read is not looked at: a log has no holes.

const FORMAT = 1;

/** The lines of a whole sitting {id, title, started, scripts, events}. */
export function linesOf({ events, ...sitting }) {
  return [lineOf({ format: FORMAT, sitting }), ...events.map((event) => eventLine(event))];
}

/** The line of one event, with a script when it switches to a new one. Whose event it is, the first line says. */
export function eventLine({ sitting, ...event }, script) {
  return lineOf(script ? { event, script } : { event });
}

/**
 * The sitting that the text holds, as far as it can be read: {id, title, started, scripts, events}; null
 * without a whole first line.
 */
export function readSitting(text) {
  const [first, ...rest] = text.split("\n").slice(0, -1).map(readLine);
  if (first?.format !== FORMAT || !Array.isArray(first.sitting?.scripts)) return null;
  const events = [];
  const scripts = [...first.sitting.scripts];
  for (const line of rest) {
    if (line?.event?.sequence !== events.length) break;
    events.push({ ...line.event, sitting: first.sitting.id });
    if (line.script) scripts.push(line.script);
  }
  return { ...first.sitting, scripts, events };
}

function lineOf(value) {
  return `${JSON.stringify(value)}\n`;
}

function readLine(line) {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}
