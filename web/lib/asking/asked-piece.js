// The piece that was asked for last, as the core measured it, from what the screen "how many do I get?" keeps.

const KEPT = "count";
const USUAL = { shape: "diamond", size: 4, angle: 60 };

/** A piece as a request takes it, in inches and degrees. */
export async function askedPiece(store) {
  const kept = await store.get(KEPT);
  const measured = kept?.answers?.piece;
  return measured ? { shape: "diamond", size: measured.size, angle: measured.angle, seam: measured.seam } : USUAL;
}
