// The page's icons: lines on a grid 24 high, of what a thing looks like or what is done with it. Each stands beside its
// word; how thick and of which color it is, says where it stands.

import { svg } from "./dom.js";

export const ICONS = {
  // The tabs of the page.
  tab: {
    wide: 26,
    paths: {
      count: "M3 19 9 4h14l-6 15ZM12 4 6 19M18 4l-6 15",
      cut: "M3 20 23 4M5 6h12M9 12h12",
      quilt: "M13 3 23 12 13 21 3 12ZM8 7.5 18 16.5M18 7.5 8 16.5",
      basket: "M3 9h20l-3 11H6ZM8 9l4-6M18 9l-4-6",
      tools: "M3 8h20v8H3ZM7 8v4M11 8v3M15 8v4M19 8v3",
    },
  },
  // The parts of a quilt.
  part: {
    wide: 24,
    paths: {
      size: "M3 8V22H21V8ZM3 3H21M3 1V5M21 1V5",
      setting: "M12 2 16 9H8ZM8 9H16L12 22ZM8 9 3 15H21L16 9",
      fabrics: "M12 3 22 8 12 13 2 8ZM2 12 12 17 22 12M2 16 12 21 22 16",
      edges: "M3 3H21V21H3ZM8 8H16V16H8Z",
      cut: "M4 5H6M10 5H21M4 12H6M10 12H21M4 19H6M10 19H21",
      sew: "M2 12H6M9 12H13M16 12H20M3 5 9 19M15 5 21 19",
      buy: "M3 5H14V19H3ZM14 8C22 8 22 16 14 16",
      class:
        "M8 4A3 3 0 1 0 8 10 3 3 0 1 0 8 4M17 7A2 2 0 1 0 17 11 2 2 0 1 0 17 7M2 20C2 14 14 14 14 20M14 15C18 13 22 15 22 20",
      all: "M4 4H20M4 9H20M4 14H20M4 19H20",
    },
  },
  // What is to be looked for on the screen, as browsers draw it.
  sign: {
    wide: 24,
    paths: {
      share: "M12 15V3M8 7 12 3 16 7M8 10H5V21H19V10H16",
      add: "M4 4H20V20H4ZM12 8V16M8 12H16",
      dots: "M12 5V5.1M12 12V12.1M12 19V19.1",
    },
  },
  // Beside what is said or typed.
  mark: {
    wide: 24,
    paths: {
      tape: "M2 7H22V17H2ZM6 7V11M10 7V13M14 7V11M18 7V13",
      caution: "M12 3 22 20H2ZM12 10v4M12 17v.2",
    },
  },
};

/** An icon of a group by its name; a reader of screens passes it over. */
export function icon(group, name, className = null) {
  const { wide, paths } = ICONS[group];
  return svg(
    "svg",
    { class: className, viewBox: `0 0 ${wide} 24`, "aria-hidden": "true" },
    svg("path", { d: paths[name] }),
  );
}

/** The two pieces beside the page's name. */
export function wordmark() {
  return svg(
    "svg",
    { viewBox: "0 0 38 30", "aria-hidden": "true" },
    svg("path", { d: "M2 28 10 14h16l-8 14Z", fill: "var(--press)" }),
    svg("path", { d: "M12 12 20-2h16l-8 14Z", fill: "var(--next)", transform: "translate(0 2)" }),
  );
}
