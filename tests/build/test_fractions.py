"""The font with the figures of fractions: all that lengths are written with, drawn alike from the page's typeface."""

import re
from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.pointInsidePen import PointInsidePen
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

from draw_fractions import OVER, SLASH, UNDER, WHOLE
from steps.places import WEB
from steps.vendored import FRACTIONS, TYPEFACE

ALL = {*OVER, *UNDER, SLASH, *WHOLE}


@pytest.fixture(scope="module")
def path(dist: Path) -> Path:
    (found,) = dist.glob(f"app-*/{FRACTIONS}")
    return found


def box(font: TTFont, sign: str) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of a character."""
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[font.getBestCmap()[ord(sign)]].draw(pen)
    return pen.bounds


def at(path: Path, weight: int) -> TTFont:
    return instantiateVariableFont(TTFont(path), {"wght": weight})


def test_it_has_every_character_that_fractions_are_written_with_and_no_other(path: Path):
    assert {chr(code) for code in TTFont(path).getBestCmap()} == ALL
    assert path.stat().st_size < 8_000


def test_the_page_takes_just_these_from_it():
    css = (WEB / "look" / "page.css").read_text("utf-8")
    (rule,) = re.findall(r"@font-face \{[^}]*matside-fractions[^}]*\}", css)
    ranges = re.findall(r"U\+([0-9A-F]+)(?:-([0-9A-F]+))?", rule)
    taken = {chr(code) for first, last in ranges for code in range(int(first, 16), int(last or first, 16) + 1)}
    assert taken == ALL


@pytest.mark.parametrize("weight", [400, 700])
def test_a_fraction_of_one_character_looks_as_one_of_several(path: Path, weight: int):
    font = at(path, weight)
    widths, cmap = font["hmtx"], font.getBestCmap()
    wide = {sign: widths[cmap[ord(sign)]][0] for sign in ALL}
    for whole, parts in WHOLE.items():
        assert wide[whole] == pytest.approx(sum(wide[part] for part in parts), abs=3), whole
        *_, top = box(font, parts[0])
        _, bottom, *_ = box(font, parts[-1])
        assert box(font, whole)[1] == pytest.approx(min(bottom, box(font, SLASH)[1]), abs=3)
        assert box(font, whole)[3] == pytest.approx(max(top, box(font, SLASH)[3]), abs=3)


def test_figures_are_large_enough_at_the_mat_and_stay_in_their_line(path: Path):
    """34 px, the least at the mat, are 160 to the inch at 70 cm; 16 minutes of arc is what NUREG-0700 asks for. The mat's
    tightest lines are 1.05 of their letters high.
    """
    font = at(path, 400)
    for sign in OVER + UNDER:
        _, bottom, _, top = box(font, sign)
        minutes = (top - bottom) / 1000 * 34 / 160 * 25.4 / 700 * (180 * 60 / 3.14159)
        assert minutes >= 16, sign
    highest, lowest = max(box(font, sign)[3] for sign in OVER), min(box(font, sign)[1] for sign in UNDER)
    assert highest - lowest < 1050


def stem(font: TTFont, sign: str) -> float:
    """How wide the black is that a line through the middle of a character meets."""
    left, bottom, right, top = box(font, sign)
    glyphs = font.getGlyphSet()

    def is_black(x: float) -> bool:
        pen = PointInsidePen(glyphs, (x, (bottom + top) / 2))
        glyphs[font.getBestCmap()[ord(sign)]].draw(pen)
        return bool(pen.getResult())

    return sum(is_black(x) for x in range(int(left), int(right) + 1))


@pytest.mark.parametrize("weight", [400, 700])
def test_strokes_are_as_thick_as_those_of_the_text(path: Path, weight: int):
    """By the 1, which is one stem there."""
    assert stem(at(path, weight), "₁") == pytest.approx(stem(at(TYPEFACE, weight), "1"), rel=0.06)


def test_it_is_under_the_typefaces_terms_and_has_a_name_of_its_own(path: Path, dist: Path):
    names = {record.nameID: str(record) for record in TTFont(path)["name"].names}
    assert names[1] == names[4] == "Matside Fractions"
    assert "Atkinson" in names[0] and "openfontlicense" in names[14]
    assert "Matside Fractions: the figures of fractions" in (dist / "licences.txt").read_text("utf-8")
