// Which events of a log stand: an undo takes back those before it, and names them.

/** Takes one more event into the list of those that stand; gives what an undo took back, in the order in which it stood. */
export function stand(standing, event) {
  if (event.event === "undo") return standing.splice(-(event.n ?? 1));
  standing.push(event);
  return [];
}

/** The marks of what so many undos would take back now. */
export function marksUndone(standing, n = 1) {
  return standing.slice(-n).map(({ mark }) => mark);
}

/**
 * Whether each undo of a log that folds names just what it takes back. One that names nothing, as those of older pages,
 * takes back the last ones.
 */
export function namesItsUndos(events) {
  const standing = [];
  return events.every((event) => {
    const taken = stand(standing, event).map(({ mark }) => mark);
    return event.undoes === undefined || JSON.stringify(event.undoes) === JSON.stringify(taken);
  });
}
