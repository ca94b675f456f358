"""The glossary: every word of the trade that is shown anywhere has a meaning and a picture, and the pictures are true."""

import json
import math
import re
from pathlib import Path

import pytest
from shapely import Polygon, unary_union

import matside
from matside.glossary import pictures

WORDS = Path(matside.__file__).parent / "words" / "en"
TERMS = json.loads((WORDS / "terms.json").read_text("utf-8"))["terms"]
PICTURES = pictures()
LINES = {"cut", "angle-line", "measure-line", "ruler-line", "fold", "edge", "side"}

#: Words of the trade as they are written, in any form of theirs. Common practice, no published source.
TRADE = """
strips? | diamonds? | half-diamonds? | starter cuts? | selvages? | straight grain | lengthwise grain | crosswise grain |
bias | fold(ed|s)? | fat quarters? | fat eighths? | bolts? | yardage | width of fabric | usable width | scraps? | pinked |
(right|wrong) side | prewash | shrinks? | shrinking | straighten(s|ing)? | rotary cutters? | cutters? | blades? |
cutting mats? | rulers? | angle lines? | square lines? | smallest marks | squar(ed|ing) | slivers? | stacks? | layers? |
starch(ed)? | leans? | mirror images? | drift(s|ed)? | wastes? | finished | as cut | (sharp|blunt) points? |
half-hexagons? | trapezoids? | parallelograms? | rectangles? | corner quarters? | halves for | background triangles |
seam allowances? | patchwork | quilt tops? | sewn tops? | setting | grid | zigzag rows | hexagons? | tumbling blocks |
six-pointed stars? | eight-pointed stars? | standing | lying | sashings? | cornerstones? | set-in seams? | stay-stitch |
pinwheels? | seams lock | joined | (diagonal|straight) seams | borders? | mitered | miters? | bindings? |
(double|single)-fold | straight-grain | backings? | panels? | battings? | hangs down | kits? | spare kits? | cut-alongs? |
swaps?
"""


def shown() -> list[str]:
    """Every text of the catalogue but the glossary's own, what is put in taken out."""

    def texts(tree) -> list[str]:
        return [tree] if isinstance(tree, str) else [text for part in tree.values() for text in texts(part)]

    files = [path for path in sorted(WORDS.glob("*.json")) if path.stem != "terms"]
    found = [text for path in files for text in texts(json.loads(path.read_text("utf-8")))]
    return [re.sub(r"\{[^}]*\}", "", text) for text in found]


SHOWN = "\n".join(shown())


@pytest.mark.parametrize("word", re.split(r"\s*\s\|\s\s*", TRADE.strip()))
def test_every_trade_word_that_is_shown_has_an_entry(word: str):
    for said in re.finditer(rf"\b{word}\b", SHOWN, re.I):
        entries = [code for code, term in TERMS.items() if covers(term["match"], said)]
        assert entries, f"{said[0]!r} in {SHOWN[said.start() - 40 : said.end() + 40]!r}"


def covers(match: str, said: re.Match) -> bool:
    """Whether an entry's own word lies on what is said, in whole."""
    around = SHOWN[max(0, said.start() - 60) : said.end() + 60]
    at = min(60, said.start())
    return any(
        found.start() <= at and found.end() >= at + len(said[0])
        for found in re.finditer(rf"\b(?:{match})\b", around, re.I)
    )


def test_a_word_without_an_entry_would_be_found():
    said = re.search(r"\bselvages\b", SHOWN)
    assert covers(TERMS["selvage"]["match"], said)
    assert not covers(TERMS["bolt"]["match"], said)
    assert not covers("sel", said)


@pytest.mark.parametrize("code", sorted(TERMS.keys() | PICTURES.keys()))
def test_every_entry_has_a_name_a_meaning_a_picture_and_is_used(code: str):
    term, picture = TERMS[code], PICTURES[code]
    assert term["name"] and term["meaning"].endswith(".")
    assert re.search(rf"\b(?:{term['match']})\b", SHOWN, re.I), "the word is nowhere to be seen"
    left, low, wide, high = picture["view"]
    points = [point for each in picture["shapes"] for point in each["points"]]
    assert points and all(left <= x <= left + wide and low <= y <= low + high for x, y in points)


def test_no_two_entries_have_one_name():
    names = [term["name"] for term in TERMS.values()]
    assert len(names) == len(set(names))


def areas(code: str, *roles: str) -> list[Polygon]:
    """The areas of a picture, or those of some roles."""
    found = PICTURES[code]["shapes"]
    return [
        Polygon(each["points"]) for each in found if each["role"] not in LINES and (not roles or each["role"] in roles)
    ]


def line(code: str, role: str) -> float:
    """How long the first line of a role is."""
    points = next(each["points"] for each in PICTURES[code]["shapes"] if each["role"] == role)
    return math.dist(points[0], points[-1])


def test_the_finished_diamond_is_the_one_as_cut_without_a_quarter_inch_on_every_edge():
    [cut], [finished] = areas("seam_allowance", "other"), areas("seam_allowance", "piece")
    inside = cut.buffer(-0.25, join_style="mitre")
    assert finished.symmetric_difference(inside).area == pytest.approx(0, abs=0.02)
    assert line("as_cut", "measure-line") == pytest.approx(4)
    assert line("finished", "measure-line") == pytest.approx(3.5)
    assert line("edge", "measure-line") == pytest.approx(4 / math.sin(math.radians(60)), abs=0.001)


def test_stars_and_blocks_close_around_their_middle():
    for code, pieces, angle in (("star_six", 6, 60), ("hexagons", 9, 60), ("star_eight", 16, 45)):
        found = areas(code)
        whole = unary_union([piece.buffer(0.002, join_style="mitre") for piece in found])
        assert len(found) == pieces and whole.geom_type == "Polygon" and not whole.interiors, code
        finished = 2**2 / math.sin(math.radians(angle))
        assert found[0].area == pytest.approx(finished, rel=0.01), code
        assert sum(piece.area for piece in found) == pytest.approx(whole.area, rel=0.02), code


@pytest.mark.parametrize("code", ["grid", "zigzag", "halves", "corner_quarter", "fill_triangle", "cornerstone", "row"])
def test_nothing_of_a_setting_lies_on_anything_else(code: str):
    found = areas(code)
    assert len(found) > 5
    assert unary_union(found).area == pytest.approx(sum(piece.area for piece in found), rel=0.005)


def test_the_strip_in_the_picture_of_waste_gives_as_many_pieces_as_the_core_says():
    pieces, strip = areas("waste", "piece"), unary_union(areas("waste"))
    run = strip.bounds[2]
    request = {"ask": "strip", "piece": {"shape": "diamond", "size": 3, "angle": 60}, "length": run}
    assert len(pieces) == matside.answer(request)["pieces"]
    assert strip.area == pytest.approx(3 * run, rel=0.001)


def test_fat_cuts_are_half_of_what_they_are_cut_from():
    for code in ("fat_quarter", "fat_eighth"):
        [whole], [cut] = areas(code, "whole"), areas(code, "cloth")
        assert cut.area == pytest.approx(whole.area / 2) and whole.contains(cut)
