// Who counted what in a log: it is cut into segments, each counted on one device.
//
// The first event of a segment has the `device` that it begins with; those after it have none. So it is stored, copied and
// read back with the event, whatever happens in between.

/**
 * The segments of a log in their order: {device, from}, `from` being the place of its first event. What comes before any
 * that is named was counted by an older page: `device` is null.
 */
export function segmentsOf(events) {
  const named = events.map(({ device }, from) => ({ device, from })).filter(({ device }) => device !== undefined);
  const unnamed = events.length > 0 && events[0].device === undefined;
  return unnamed ? [{ device: null, from: 0 }, ...named] : named;
}
