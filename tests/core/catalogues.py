"""What a language of the catalogue has otherwise than English: nothing is to be found."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from matside.words.plurals import WRITING

FORMS = {"zero", "one", "two", "few", "many", "other"}
#: What shows a value in a way of its own; any other word behind the colon is a subject of `lie`.
SHOWN = {"", "length", "far", "moment", "percent", "exact"}
_PLACE = re.compile(r"\{(\w+)(?::(\w+))?\}")
_DOUBLED = re.compile(r"\{\{|\}\}")


def is_plural(found) -> bool:
    """Whether an object of the catalogue is a sentence in plural forms, not a group of sentences."""
    return isinstance(found, dict) and isinstance(found.get("other"), str) and found.keys() <= FORMS


def sentences(tree: dict, path: str = "") -> Iterator[tuple[str, str | dict]]:
    """Every sentence with its dotted path; one in plural forms is one."""
    for name, inside in tree.items():
        here = f"{path}.{name}".lstrip(".")
        if isinstance(inside, dict) and not is_plural(inside):
            yield from sentences(inside, here)
        else:
            yield here, inside


def texts(found: str | dict) -> list[str]:
    """The texts of a sentence: its forms, or itself."""
    return list(found.values()) if isinstance(found, dict) else [found]


def places(text: str) -> dict[str, str]:
    """How each value of a text is shown, by its name."""
    return dict(_PLACE.findall(_DOUBLED.sub("", text)))


def stray(text: str) -> bool:
    """Whether a brace of a text belongs to no place and is not doubled."""
    return bool(re.search(r"[{}]", _PLACE.sub("", _DOUBLED.sub("", text))))


@dataclass(frozen=True)
class Comparison:
    """A language's catalogue beside the English one."""

    language: str
    english: dict
    own: dict

    def faults(self) -> list[str]:
        """What is wrong, as "path: what"."""
        theirs, ours = dict(sentences(self.english)), dict(sentences(self.own))
        found = [f"{path}: missing" for path in theirs.keys() - ours.keys()]
        found += [f"{path}: not in English" for path in ours.keys() - theirs.keys() if not self.is_own_subject(path)]
        for path in sorted(theirs.keys() & ours.keys()):
            found += [f"{path}: {what}" for what in self.told(theirs[path], ours[path])]
        return found

    def is_own_subject(self, path: str) -> bool:
        """Whether a path is of a subject of `lie` that the language has besides, with the codes of an English one."""
        first, _, rest = path.partition(".")
        subject, has = rest.split(".")[0], self.own.get("lie", {})
        codes = [set(each) for each in self.english.get("lie", {}).values()]
        return first == "lie" and (is_plural(has[subject]) or set(has[subject]) in codes)

    def told(self, english, own) -> Iterator[str]:
        if type(english) is not type(own):
            yield "plural forms in one language alone"
            return
        if isinstance(own, dict):
            yield from self.forms(own)
        known = {name: how for text in texts(english) for name, how in places(text).items()}
        for form, text in own.items() if isinstance(own, dict) else [("", own)]:
            of_it = english.get(form, english["other"]) if form else english
            yield from self.text(of_it, text, known, free={"n"} if form else set())

    def forms(self, own: dict) -> Iterator[str]:
        has = WRITING[self.language].forms
        if foreign := sorted(own.keys() - set(has)):
            yield f"forms that the language has not: {foreign}"
        # A form for round millions is needed only where it differs.
        if lacking := sorted(set(has) - own.keys() - {"many"}):
            yield f"lacks the forms {lacking}"

    def text(self, english: str, own: str, known: dict[str, str], free: set[str]) -> Iterator[str]:
        shown = places(own)
        if bool(english.strip()) != bool(own.strip()):
            yield "empty in one language alone"
        if stray(own):
            yield "a brace that belongs to no place"
        if lacking := sorted(places(english).keys() - shown.keys() - free):
            yield f"lacks {lacking}"
        for name, how in shown.items():
            if name not in known:
                yield f"shows {name}, which English does not"
            elif how != known[name] and not self.nested(how, known[name]):
                yield f"shows {name} as {how!r} instead of {known[name]!r}"

    def nested(self, how: str, english: str) -> bool:
        """Whether a value may be shown by another subject of `lie`: where English has one, or a count."""
        return how in self.own.get("lie", {}) and (english not in SHOWN or is_plural(self.own["lie"][how]))
