// Which color a fabric of a quilt has, those among them that nobody described.

const OWN = { sashing: "#d9cdb8", border: "#5b6680", binding: "#3b3547", backing: "#8d9a9e" };

/** The color of a fabric by its id, as #rrggbb; sashing, borders, binding and backing have one of their own. */
export function fabricColour(id, fabrics) {
  return fabrics.find((fabric) => fabric.id === id)?.colour ?? OWN[id.split("_")[0]] ?? "#999999";
}
