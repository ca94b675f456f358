"""Every language of the catalogue says what the English one says, in the one syntax, and tells how far it is reviewed."""

import json
from pathlib import Path

import pytest

import matside
from catalogues import Comparison, is_plural, places, sentences, texts
from matside.words.catalogue import languages, subjects
from matside.words.plurals import WRITING

WORDS = Path(matside.__file__).parent / "words"
OTHERS = languages()[1:]


def test_the_folders_are_the_languages():
    assert {path.name for path in WORDS.iterdir() if path.is_dir() and not path.name.startswith("_")} == set(
        languages()
    )


@pytest.mark.parametrize("language", languages())
def test_a_language_has_the_files_of_english_and_each_subject_in_the_same(language):
    def subjects_by_file(of: str) -> dict[str, set[str]]:
        return {path.name: set(json.loads(path.read_text("utf-8"))) for path in (WORDS / of).glob("*.json")}

    assert subjects_by_file(language) == subjects_by_file("en")


@pytest.mark.parametrize("language", languages())
def test_a_language_says_what_english_says_with_the_same_values(language):
    assert Comparison(language, subjects("en"), subjects(language)).faults() == []


#: What is changed in a small made-up language, and what is then found.
ENGLISH = {
    "error": {"a": "{given} is bad."},
    "page": {
        "n": {"one": "One, {size:length}", "other": "{n}, {size:length}"},
        "at": "{at:side}",
        "none": "",
        "m": "{n}",
    },
    "lie": {"side": {"left": "left", "right": "right"}},
}
GERMAN = {
    "error": {"a": "{given} ist schlecht."},
    "page": {
        "n": {"one": "Eins, {size:length}", "other": "{n}, {size:length}"},
        "at": "{at:seite}",
        "none": "",
        "m": "{n:mal}",
    },
    "lie": {
        "side": {"left": "links", "right": "rechts"},
        "seite": {"left": "linke", "right": "rechte"},
        "mal": {"one": "{n} Mal", "other": "{n} Male"},
    },
}


@pytest.mark.parametrize(
    "path, other, fault",
    [
        ("error.a", None, "error.a: missing"),
        ("error.b", "Neu", "error.b: not in English"),
        ("error.a", "Schlecht.", "error.a: lacks ['given']"),
        ("error.a", "{given} {more}", "error.a: shows more, which English does not"),
        ("error.a", "{given:length}", "error.a: shows given as 'length' instead of ''"),
        ("error.a", "{given} {", "error.a: a brace that belongs to no place"),
        ("error.a", "", "error.a: empty in one language alone"),
        ("page.none", "Nichts", "page.none: empty in one language alone"),
        ("page.n", "{n}, {size:length}", "page.n: plural forms in one language alone"),
        ("page.n.one", None, "page.n: lacks the forms ['one']"),
        ("page.n.few", "{n}, {size:length}", "page.n: forms that the language has not: ['few']"),
        ("page.n.other", "{n}", "page.n: lacks ['size']"),
        ("page.at", "{at}", "page.at: shows at as '' instead of 'side'"),
        ("page.at", "{at:weg}", "page.at: shows at as 'weg' instead of 'side'"),
        ("lie.weg", {"hin": "hin"}, "lie.weg.hin: not in English"),
    ],
)
def test_what_is_wrong_with_a_language_would_be_found(path, other, fault):
    own = json.loads(json.dumps(GERMAN))
    assert Comparison("de", ENGLISH, own).faults() == []
    *above, last = path.split(".")
    at = own
    for name in above:
        at = at[name]
    if other is None:
        del at[last]
    else:
        at[last] = other
    assert fault in Comparison("de", ENGLISH, own).faults()


@pytest.mark.parametrize("language", languages())
def test_every_subject_that_is_named_within_a_sentence_has_what_it_may_be(language):
    lie = subjects(language)["lie"]
    named = {
        how
        for _, found in sentences(subjects(language))
        for text in texts(found)
        for how in places(text).values()
        if how not in ("", "length", "far", "moment", "percent", "exact")
    }
    assert named <= lie.keys()
    assert lie.keys() - named - subjects("en")["lie"].keys() == set()
    assert all(is_plural(lie[name]) or all(isinstance(text, str) for text in lie[name].values()) for name in named)


def test_how_far_each_translation_is_reviewed_stands_in_one_place():
    review = json.loads((WORDS / "_review.json").read_text("utf-8"))
    assert list(review) == OTHERS
    for language, told in review.items():
        assert told["state"] in ("draft", "reviewed"), language
        assert (told["state"] == "reviewed") == bool(told["reviewed_by"]), language
        assert told["terms"]


def test_developers_md_tells_it_as_well():
    told = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text("utf-8")
    review = json.loads((WORDS / "_review.json").read_text("utf-8"))
    rows = [f"| `{language}` | {found['state']} | {found['terms']} |" for language, found in review.items()]
    assert [row for row in rows if row not in told] == []


def test_every_language_can_write_its_numbers_and_counts():
    assert set(WRITING) == set(languages())
