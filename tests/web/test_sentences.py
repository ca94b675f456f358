"""The catalogue's syntax, as the page reads it: the same examples as Python is held to (tests/core/test_saying.py). And
the trade's words, which the page finds in sentences of every language."""

import json
import subprocess
from functools import partial
from pathlib import Path

import pytest

from catalogues import sentences, texts
from matside.words import saying
from matside.words.catalogue import languages, subjects
from matside.words.saying import PLACE
from steps.places import WEB, tool

HERE = Path(__file__).parent
EXAMPLES = json.loads((HERE.parent / "words" / "examples.json").read_text("utf-8"))


def node(script: str, asked: dict):
    """What a script of this folder makes of a request."""
    command = [tool("node"), "--no-warnings", HERE / script]
    done = subprocess.run(command, input=json.dumps(asked), capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def told() -> list[str | None]:
    """What the page's own module makes of every example, all in one Node process."""
    return told_by_the_page(EXAMPLES)


def told_by_the_page(examples: list[dict]) -> list[str | None]:
    """What the page makes of examples; None where it throws."""
    catalogues = {language: subjects(language) for language in languages()}
    module = (WEB / "lib" / "words" / "words.js").as_uri()
    return node("sentences.mjs", {"module": module, "examples": examples, "catalogues": catalogues})


@pytest.mark.parametrize("place", range(len(EXAMPLES)))
def test_every_example_is_told_as_it_is_listed(told, place):
    assert told[place] == EXAMPLES[place].get("text"), EXAMPLES[place]


@pytest.mark.parametrize("language", languages())
def test_the_page_tells_a_refusal_without_the_codes_of_the_core(language):
    say = partial(saying.say, values={}, language=language)
    cases = [
        ("columns", "quilt_size_twice", {"other": "target"}, [say("quilt_screen.by_target")]),
        ("piece.edge", "measures_too_many", {"first": "size", "second": "edge"}, [say("page.measure.size.short"), say("page.measure.edge.short")]),
        ("edge", "edge_not_here", {"given": "filled", "choices": "pointed, trimmed"}, [say(f"quilt.edge.{code}") for code in ("filled", "pointed", "trimmed")]),
        ("ask", "choice", {"given": "x", "choices": "one, two"}, ["one", "two"]),
    ]  # fmt: skip
    refused = [
        {"refusal": {"field": field, "code": code, "values": values}, "language": language, "units": "in"}
        for field, code, values, _ in cases
    ]
    for text, (_, code, _, named) in zip(told_by_the_page(refused), cases, strict=True):
        assert text and all(word in text for word in named), code


def terms_in(*calls: list) -> list[list[str]]:
    """The codes of the terms that each text uses."""
    module = (WEB / "lib" / "words" / "terms.js").as_uri()
    return node("measuring.mjs", {"module": module, "calls": [["termsIn", *call] for call in calls]})


@pytest.mark.parametrize("language", languages())
def test_every_term_is_found_in_the_sentences_of_its_language(language):
    """By its own expression, which is one that the page can read; the glossary itself left aside."""
    told = {name: part for name, part in subjects(language).items() if name != "terms"}
    terms = subjects(language)["terms"]
    shown = " | ".join(PLACE.sub("", text) for _, found in sentences(told) for text in texts(found))
    alone = [[shown, {code: term}, language] for code, term in terms.items()]
    assert [code for code, found in zip(terms, terms_in(*alone), strict=True) if not found] == []


def test_a_term_is_a_whole_word_in_any_letters_where_words_are_apart():
    terms = {"edge": {"match": "Kanten?"}, "star": {"match": "Sternen?|étoiles?"}}
    found_in = ["Überkante", "Kanten, Sternen", "une étoiles", "détoiles", "Kante1", "Kante Kante"]
    assert terms_in(*([text, terms, "de"] for text in found_in)) == [[], ["edge", "star"], ["star"], [], [], ["edge"]]
    assert terms_in(["斜めの布目です", {"grain": {"match": "布目"}}, "ja"]) == [["grain"]]


def test_a_language_that_is_loaded_is_whole_though_its_file_has_no_names(dist):
    """Sentence by sentence what the core has, whatever the order in which a program comes to the names of an object."""
    (app,) = dist.glob("app-*")
    for language, found in node("loading.mjs", {"app": app.as_uri(), "languages": languages()}).items():
        draft = found["words"].pop("draft", False)
        assert {**found["words"], "terms": found["terms"]} == subjects(language)
        assert draft == (language != "en")
