"""A page with nothing but the plumbing, to test it apart from the screens and from Python itself.

Its Pyodide is a stand-in of a few lines that answers at once with the request, and searches in slices of 5 ms, with
something to show `from` one of them on."""

import json
import shutil
from pathlib import Path

from steps.distribution import assemble
from steps.places import WEB

_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="matside-pyodide" content="pyodide/">
<meta name="matside-python" content="py/">
<title>Plumbing</title>
<link rel="manifest" href="manifest.webmanifest">
<link rel="icon" href="icons/icon.svg" type="image/svg+xml">
<script type="module" src="app/main.js"></script>
</head>
<body><p id="shown"></p></body>
</html>
"""

_SCRIPT = """
import {{ createPython }} from './worker/python.js';
import {{ offline }} from './offline.js';

const word = {word!r};
document.querySelector('#shown').textContent = word;
Object.assign(window, {{ createPython, offline, word }});
"""


_STAND_IN = """
const searches = new Map();
const busy = (ms) => { const end = performance.now() + ms; while (performance.now() < end); };

const bridge = {
  answer(text) {
    const request = JSON.parse(text);
    if (request.ask === 'break') throw Object.assign(new Error('ZeroDivisionError'), { name: 'PythonError' });
    if (request.ask === 'crash') throw new RangeError('out of memory');
    if (request.ask === 'busy') busy(request.ms);
    if (request.ask === 'hang') busy(Infinity);
    return JSON.stringify({ ok: true, ...request });
  },
  start_search(text) {
    const request = JSON.parse(text);
    searches.set(searches.size + 1, { slices: request.slices, from: request.from ?? 0, telling: request.telling ?? 0, at: 0, told: null });
    return searches.size;
  },
  next_slice(number, wish) {
    const search = searches.get(number);
    // Once a plan is to be told it may take some slices, and then comes whether or not it is asked for again.
    if (wish === 'show' && search.at >= search.from) search.told ??= 0;
    if (search.told !== null) {
      const plan = search.told === search.telling ? { plan: 'whole' } : {};
      search.told = plan.plan ? null : search.told + 1;
      return JSON.stringify({ progress: { at: search.at, ...plan } });
    }
    busy(5);
    search.at += 1;
    if (search.at < search.slices) return JSON.stringify({ progress: { at: search.at } });
    return JSON.stringify({ answer: { ok: true, slices: search.at } });
  },
  stop_search() { return true; },
};

export async function loadPyodide({ fsInit }) {
  await fsInit();
  return { pyimport: () => bridge };
}
"""


def plain_dist(folder: Path, word: str, real_python: bool = False) -> Path:
    """A distribution of a page that shows a word and has `createPython`, `offline` and `word` in `window`;
    each word's files all differ.
    """
    web = folder / f"web-{word}"
    shutil.copytree(WEB / "worker", web / "worker")
    shutil.copytree(WEB / "offline", web / "offline")
    shutil.copytree(WEB / "icons", web / "icons")
    page = Path("lib", "page")
    (web / page).mkdir(parents=True)
    shutil.copy(WEB / page / "latest-only.js", web / page)
    for name in ("offline.js", "sw.js", "manifest.webmanifest"):
        shutil.copy(WEB / name, web / name)
    icon = web / "icons" / "icon.svg"
    icon.write_text(f"{icon.read_text('utf-8')}<!-- {word} -->", "utf-8")
    (web / "index.html").write_text(_PAGE, "utf-8")
    (web / "main.js").write_text(_SCRIPT.format(word=word), "utf-8")
    assemble(folder / word, web, None if real_python else _stand_in(folder, word))
    return folder / word


def _stand_in(folder: Path, word: str) -> dict[str, dict[str, Path]]:
    (folder / f"python-{word}").mkdir()
    script = folder / f"python-{word}" / "pyodide.mjs"
    script.write_text(f"{_STAND_IN}// {word}\n", "utf-8")
    lock = folder / f"python-{word}" / "pyodide-lock.json"
    lock.write_text(json.dumps({"packages": {}, "of": word}), "utf-8")
    return {"py": {lock.name: lock}, "pyodide": {"pyodide.mjs": script}}
