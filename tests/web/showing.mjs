// What is shown of the guide's steps, by the page's own modules, for the tests: reads {app, words, scripts} from standard
// input and writes, for each script and step, its moves, its kinds, the poses at times, and the stills' lines.

import { text } from "node:stream/consumers";

const { app, words: catalogue, scripts, times } = JSON.parse(await text(process.stdin));
const { kindsOf, movesOf } = await import(`${app}/lib/mat/moves.js`);
const { filmOf } = await import(`${app}/lib/mat/poses.js`);
const { stillText } = await import(`${app}/lib/mat/still-words.js`);
const { Words } = await import(`${app}/lib/words/words.js`);

const words = new Words(catalogue, { locale: "en-US" });

process.stdout.write(JSON.stringify(scripts.map((script) => script.steps.map((step, i) => shown(script, step, i)))));

function shown(script, step, i) {
  const film = filmOf(script, i);
  return {
    moves: movesOf(script, i),
    kinds: kindsOf(script, i),
    lasts: film?.lasts ?? 0,
    poses: film ? times.map((share) => film.at(share * film.lasts)) : [],
    before: film && film.at(0),
    after: film && film.at(film.lasts),
    stills: film ? film.stills().map(({ move, pose }) => ({ move, pose, text: stillText({ move, step, words }) })) : [],
  };
}
