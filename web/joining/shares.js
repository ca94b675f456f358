// A plan shared out: who cuts which cloths, or for which kits. Pure: no page, no store.
//
// A share is plain data, {who, items}; with the plan they are kept and passed on as {by, people: [{name, items}]}. An item is
// one cloth of the plan, {layout, time}: a layout by its place in the plan, and which of its `times`; one strip of such a
// cloth, {layout, time, strip}; or one of several kits, {kit, of}.

/** The ways to share out. */
export const WAYS = ["cloth", "strip", "kit"];
const MOST = 100_000; // a place that is further on is none

/**
 * Shares a plan's layouts out to people: every cloth, every strip, or every kit, exactly once.
 * @param {object[]} layouts of the plan
 * @param {string[]} people at least one
 * @param {{way: string, kits?: number, whole?: string[]}} how without `kits` there are as many as people; strips of the
 *   kinds in `whole` are joined later, and all go to one of them
 * @returns {{who: string, items: object[]}[]} one for each of them, in their order
 */
export function sharedOut(layouts, people, { way, kits = people.length, whole = [] }) {
  if (!people.length) return [];
  if (way === "kit") return kitsOut(kits, people);
  return evenly(way === "strip" ? stripsOf(layouts, whole) : clothsOf(layouts), people);
}

/** So many kits one after another; the first people get one more where they do not come out even. */
function kitsOut(kits, people) {
  const from = (place) => Math.ceil((kits * place) / people.length);
  return people.map((who, place) => ({
    who,
    items: range(from(place), from(place + 1)).map((kit) => ({ kit, of: kits })),
  }));
}

/** Every cloth with its work: [{items, work}]. */
function clothsOf(layouts) {
  return layouts.flatMap((layout, place) =>
    range(0, layout.times ?? 1).map((time) => ({ items: [{ layout: place, time }], work: workOf(layout) })),
  );
}

/** Every strip with its work, those that are joined later together. */
function stripsOf(layouts, whole) {
  const found = new Map();
  layouts.forEach(({ times = 1, strips }, layout) =>
    range(0, times).forEach((time) =>
      strips.forEach(({ piece, count }, strip) => {
        const key = whole.includes(piece) ? piece : `${layout} ${time} ${strip}`;
        const { items, work } = found.get(key) ?? { items: [], work: 0 };
        found.set(key, { items: [...items, { layout, time, strip }], work: work + 1 + count });
      }),
    ),
  );
  return [...found.values()];
}

/**
 * What is given out whole, evenly by work: the one with the most work goes first, each to whoever has least by then. That is
 * at most a third more work for one than the best there is (R. L. Graham: Bounds on multiprocessing timing anomalies, 1969).
 */
function evenly(wholes, people) {
  const shares = people.map((who) => ({ who, items: [], work: 0 }));
  for (const { items, work } of wholes.sort((a, b) => b.work - a.work)) {
    const least = shares.reduce((found, each) => (each.work < found.work ? each : found));
    least.items.push(...items);
    least.work += work;
  }
  return shares.map(({ who, items: mine }) => ({ who, items: mine.sort(inOrder) }));
}

function inOrder(one, other) {
  return one.layout - other.layout || one.time - other.time || (one.strip ?? 0) - (other.strip ?? 0);
}

/** How many cuts a cloth takes: its division, each strip off it, and each piece off a strip. */
export function workOf({ division, strips }) {
  return strips.reduce((cuts, { count }) => cuts + 1 + count, division ? 1 : 0);
}

/** How many cloths of each layout a share has: a list with a number for each layout. */
export function clothsIn(layouts, { items }) {
  return layouts.map((_, place) => items.filter(({ layout, strip }) => layout === place && strip === undefined).length);
}

/** The strips of a share, those that are alike together: {cloth, strip, n}. */
export function stripsIn(layouts, { items }) {
  const found = new Map();
  for (const { layout, strip: place } of items.filter(({ strip }) => strip !== undefined)) {
    const { cloth, strips = [] } = layouts[layout] ?? {};
    if (!strips[place]) continue; // the plan is another one by now
    const { piece, size, run, count } = strips[place];
    const key = JSON.stringify([cloth, piece, size, run, count]);
    found.set(key, { cloth, strip: strips[place], n: (found.get(key)?.n ?? 0) + 1 });
  }
  return [...found.values()];
}

/** The request of the guide for the strips of a share, each a cloth of its own by now: somebody has cut them off theirs. */
export function stripGuide({ pieces, cloths, grain }, layouts, share) {
  const own = stripsIn(layouts, share);
  const ids = own.map(({ cloth }, i) =>
    own.filter((each) => each.cloth === cloth).length > 1 ? `${cloth} ${i + 1}` : cloth,
  );
  return {
    ask: "guide",
    pieces,
    grain,
    cloths: own.map(({ cloth, strip: { size, run }, n }, i) => {
      const { fabric, one_way: oneWay } = cloths.find(({ id }) => id === cloth) ?? {};
      const sides = { length: size, width: run, count: n, selvage: "none", one_way: Boolean(oneWay) };
      return { id: ids[i], ...sides, ...(fabric && { fabric }) };
    }),
    layouts: own.map(({ strip: { size, run, piece, count }, n }, i) => ({
      cloth: ids[i],
      length: size,
      width: run,
      times: n,
      division: null,
      strips: [{ along: "width", x: 0, y: 0, run, size, piece, count }],
    })),
    elsewhere: [],
  };
}

/**
 * A plan's layouts as one person has them: {layouts, skipped}, for `guideRequest`. Those that are cut in part here and in
 * part by somebody else are two; `skipped` are the places of what somebody else cuts.
 */
export function cutHere(layouts, share) {
  const mine = clothsIn(layouts, share);
  const parts = layouts.flatMap((layout, place) => [
    { layout: { ...layout, times: mine[place] }, here: true },
    { layout: { ...layout, times: (layout.times ?? 1) - mine[place] }, here: false },
  ]);
  const some = parts.filter(({ layout }) => layout.times > 0);
  return {
    layouts: some.map(({ layout }) => layout),
    skipped: some.flatMap(({ here }, place) => (here ? [] : [place])),
  };
}

/**
 * How many pieces of each kind, as cut, a share comes to: {id: n}.
 * @param {object[]} layouts of the plan
 * @param {{id: string, need: number}[]} pieces that the plan is for: kits share them out, wherever they are cut from
 */
export function piecesIn(layouts, pieces, share) {
  const cloths = clothsIn(layouts, share);
  const made = layouts.flatMap(({ strips }, place) => strips.map(({ piece, count }) => [piece, count * cloths[place]]));
  const inStrips = stripsIn(layouts, share).map(({ strip: { piece, count }, n }) => [piece, count * n]);
  const kits = share.items.filter(({ kit }) => kit !== undefined);
  const inKits = pieces.flatMap(({ id, need }) => kits.map((kit) => [id, ofKit(Number(need), kit)]));
  const found = new Map();
  for (const [id, n] of [...made, ...inStrips, ...inKits]) found.set(id, (found.get(id) ?? 0) + n);
  return Object.fromEntries([...found].filter(([, n]) => n > 0));
}

/** Of so many pieces those of one kit: all kits together have just so many. */
function ofKit(need, { kit, of }) {
  return Math.floor((need * (kit + 1)) / of) - Math.floor((need * kit) / of);
}

function range(from, to) {
  return Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i);
}

/** Shares as they are kept with a plan. */
export function keptShares(shares, by) {
  return { by, people: shares.map(({ who, items }) => ({ name: who, items })) };
}

/** The shares of what is kept with a plan, which may have come from anywhere: what is no share is left out. */
export function readShares(kept) {
  const people = Array.isArray(kept?.people) ? kept.people : [];
  return people
    .filter((each) => typeof each?.name === "string" && Array.isArray(each.items))
    .map(({ name, items }) => ({ who: name, items: items.filter(isItem) }));
}

function isItem(item) {
  const isPlace = (n) => Number.isInteger(n) && n >= 0 && n <= MOST;
  const { layout, time, strip = 0, kit, of } = item ?? {};
  return kit === undefined
    ? isPlace(layout) && isPlace(time) && isPlace(strip)
    : isPlace(kit) && isPlace(of) && kit < of;
}
