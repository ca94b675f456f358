// What older versions of the page kept, by today's names.

/** Settings as they were kept, with today's names: how far a blade goes was once kept in meters alone. */
export function todaysSettings(kept) {
  if (typeof kept?.bladeMetres !== "number") return kept;
  const { bladeMetres, ...others } = kept;
  return { bladeAfter: bladeMetres, ...others };
}
