"""A language that nobody speaks, made of the English one, to find what a translation would meet: every sentence in brackets,
with accented letters, about 40 % longer, six plural forms, written from right to left. For the tests only."""

import json
import re
from pathlib import Path

from matside.words.saying import PLACE
from near import near_dist
from steps.fromcore import in_order

CODE = "ar"  # whose plural forms and direction it has
FORMS = ("zero", "one", "two", "few", "many", "other")
_ACCENTED = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", "áƀćďéƒǵĥíĵķĺḿńóṕɋŕśťúṽẃẋýžÁƁĆĎÉƑǴĤÍĴĶĹḾŃÓṔɊŔŚŤÚṼẂẊÝŽ"
)
_LONGER = 0.4


def pseudo(text: str) -> str:
    """A sentence of the language; what has no letters of its own stays as it is.

    >>> pseudo("{n} cuts")
    '⟦{n} ćúťś ·⟧'
    >>> pseudo("; ")
    '; '
    """
    own = PLACE.sub("", text)
    if not re.search("[A-Za-z]", own):
        return text
    parts, last = [], 0
    for place in PLACE.finditer(text):
        parts += [text[last : place.start()].translate(_ACCENTED), place[0]]
        last = place.end()
    parts.append(text[last:].translate(_ACCENTED))
    more = " ·" * max(1, round(len(own) * _LONGER / 2))
    return f"⟦{''.join(parts)}{more}⟧"


def _spoken(found):
    if isinstance(found, str):
        return pseudo(found)
    if isinstance(found.get("other"), str):
        return {form: pseudo(found["other"]) for form in FORMS}
    return {name: _spoken(inside) for name, inside in found.items()}


def pseudo_dist(dist: Path, out: Path) -> Path:
    """A distribution, with Python beside its page, that has the language."""
    near_dist(dist, out)
    (app,) = out.glob("app-*")
    for name in ("words", "glossary"):
        english = json.loads((app / name / "en.json").read_text("utf-8"))
        own = {subject: told if subject == "unit" else _spoken(told) for subject, told in english.items()}
        for code, term in own.get("terms", {}).items():
            term["match"] = english["terms"][code]["match"]
        text = json.dumps(in_order(own, english), ensure_ascii=False)
        (app / name / f"{CODE}.json").write_text(text, "utf-8")
    _replaced(app / "lib" / "words" / "language.js", 'en: "English",', f'en: "English", {CODE}: "⟦ṕśéúďó⟧",')
    _replaced(out / "index.html", 'data-languages="', f'data-languages="{CODE} ')
    _replaced(out / "index.html", "<html ", '<html dir="rtl" ')
    return out


def _replaced(path: Path, before: str, after: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(before) == 1
    path.write_text(text.replace(before, after), "utf-8")
