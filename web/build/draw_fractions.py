"""Draws the figures of fractions from the digits of the page's typeface, as a small font of their own:

.venv/bin/python web/build/draw_fractions.py TYPEFACE FONT

The typeface has ½ ¼ ¾ alone, smaller and lighter than a length needs that is read at arm's length. Here ½ and ¹³⁄₁₆ are
made alike: of the same figures, in weights whose strokes stay as thick as the text's when they are made smaller.
"""

import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph, GlyphCoordinates
from fontTools.ttLib.tables.ttProgram import Program
from fontTools.ttLib.tables.TupleVariation import TupleVariation
from fontTools.varLib.instancer import instantiateVariableFont

NAME = "Matside Fractions"
# How large the figures are beside the text's, and how far they are moved up and down, in the font's units. They are
# hardly smaller: at the mat they too are read from afar (16 minutes of arc at 70 cm where letters have 34 px), and yet
# both together stand in a line that is little higher than its letters are large.
SCALE = 0.92
ABOVE, BELOW = 246, -158
# The slash is made narrower and as high as both; the figures reach over its ends by so much.
SLASH_WIDE, SLASH_HIGH, REACH = 0.6, 1.53, 120
# The typeface's weights that are made smaller, and those that they then stand beside: lightest, usual, boldest.
DRAWN = (235, 440, 800)
BESIDE = (200, 400, 760)

DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
OVER, UNDER, SLASH = "⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉", "⁄"
WHOLE = {
    "½": "¹⁄₂", "⅓": "¹⁄₃", "⅔": "²⁄₃", "¼": "¹⁄₄", "¾": "³⁄₄", "⅛": "¹⁄₈", "⅜": "³⁄₈", "⅝": "⁵⁄₈", "⅞": "⁷⁄₈",
}  # fmt: skip
_PHANTOMS = 4  # points after a glyph's own that tell its advance


@dataclass(frozen=True, slots=True)
class Part:
    """A glyph as points, the last point of each of its contours, its advance, and how both change with the weight: by
    region of the axis, a move for each point and one for the advance.
    """

    points: list[tuple[float, float]]
    flags: list[int]
    ends: list[int]
    advance: float
    moves: list[tuple[dict, list[tuple[float, float]], float]]

    def placed(self, wide: float, high: float, up: float = 0, aside: float = 0) -> "Part":
        """The same made larger or smaller and moved up; `aside` goes off its advance on either side."""
        return Part(
            [(x * wide - aside, y * high + up) for x, y in self.points],
            self.flags,
            self.ends,
            self.advance * wide - 2 * aside,
            [(axes, [(x * wide, y * high) for x, y in by], wider * wide) for axes, by, wider in self.moves],
        )

    def then(self, other: "Part") -> "Part":
        """Both side by side, as one glyph."""
        return Part(
            [*self.points, *((x + self.advance, y) for x, y in other.points)],
            [*self.flags, *other.flags],
            [*self.ends, *(end + len(self.points) for end in other.ends)],
            self.advance + other.advance,
            [
                (axes, [*by, *((x + wider, y) for x, y in by_other)], wider + wider_other)
                for (axes, by, wider), (_, by_other, wider_other) in zip(self.moves, other.moves, strict=True)
            ],
        )


def parts_of(typeface: TTFont) -> dict[str, Part]:
    """Every character of the font, drawn."""
    drawn = instantiateVariableFont(typeface, {"wght": DRAWN})
    digits = [_read(drawn, digit) for digit in DIGITS]
    figures = {
        SLASH: _read(drawn, drawn.getBestCmap()[ord(SLASH)]).placed(SLASH_WIDE, SLASH_HIGH, BELOW, REACH),
        **{sign: digit.placed(SCALE, SCALE, ABOVE) for sign, digit in zip(OVER, digits, strict=True)},
        **{sign: digit.placed(SCALE, SCALE, BELOW) for sign, digit in zip(UNDER, digits, strict=True)},
    }
    whole = {sign: _in_a_row(figures[figure] for figure in written) for sign, written in WHOLE.items()}
    return figures | whole


def _in_a_row(parts: Iterable[Part]) -> Part:
    first, *rest = parts
    for part in rest:
        first = first.then(part)
    return first


def _read(font: TTFont, name: str) -> Part:
    points, control = font["glyf"]._getCoordinatesAndControls(name, font["hmtx"].metrics)
    glyph, moves = font["glyf"][name], []
    for variation in font["gvar"].variations[name]:
        variation.calcInferredDeltas(points, control.endPts)
        *by, left, right, _, _ = variation.coordinates
        moves.append((variation.axes, by, right[0] - left[0]))
    return Part(list(points)[:-_PHANTOMS], list(glyph.flags), list(control.endPts), font["hmtx"][name][0], moves)


def _glyph(part: Part) -> Glyph:
    glyph = Glyph()
    glyph.numberOfContours = len(part.ends)
    glyph.coordinates = GlyphCoordinates([(round(x), round(y)) for x, y in part.points])
    glyph.flags = bytearray(part.flags)
    glyph.endPtsOfContours = part.ends
    glyph.program = Program()  # no hints: there are none for figures of this size
    glyph.program.fromBytecode(b"")
    return glyph


def _variations(part: Part) -> list[TupleVariation]:
    return [
        TupleVariation(axes, [(round(x), round(y)) for x, y in [*by, (0, 0), (wider, 0), (0, 0), (0, 0)]])
        for axes, by, wider in part.moves
    ]


def draw(typeface: Path, font: Path) -> None:
    """Writes the font."""
    base = TTFont(typeface, recalcTimestamp=False)
    tall, names = base["hhea"], base["name"]
    parts = {f"uni{ord(sign):04X}": part for sign, part in parts_of(base).items()}
    made = FontBuilder(base["head"].unitsPerEm, isTTF=True)
    made.setupGlyphOrder([".notdef", *parts])
    made.setupCharacterMap({int(name[3:], 16): name for name in parts})
    made.setupGlyf({".notdef": Glyph(), **{name: _glyph(part) for name, part in parts.items()}})
    lefts = {name: made.font["glyf"][name].xMin for name in parts}
    made.setupHorizontalMetrics(
        {".notdef": (500, 0), **{name: (round(part.advance), lefts[name]) for name, part in parts.items()}}
    )
    made.setupHorizontalHeader(ascent=tall.ascent, descent=tall.descent, lineGap=tall.lineGap)
    said = {number: names.getDebugName(number) for number in (0, 5, 14)}
    made.setupNameTable(
        {
            "copyright": f"{said[0]}. Figures of fractions drawn from it for Matside.",
            "familyName": NAME,
            "styleName": "Regular",
            "uniqueFontIdentifier": f"{NAME} {said[5]}",
            "fullName": NAME,
            "psName": NAME.replace(" ", ""),
            "version": said[5],
            "licenseInfoURL": said[14],
        }
    )
    os2 = base["OS/2"]
    made.setupOS2(
        version=4,
        sTypoAscender=os2.sTypoAscender, sTypoDescender=os2.sTypoDescender, sTypoLineGap=os2.sTypoLineGap,
        usWinAscent=os2.usWinAscent, usWinDescent=os2.usWinDescent, fsSelection=os2.fsSelection,
    )  # fmt: skip
    made.setupPost(keepGlyphNames=False)
    made.setupFvar([("wght", *BESIDE, "Weight")], [])
    made.setupGvar({name: _variations(part) for name, part in parts.items()})
    made.font["head"].created = made.font["head"].modified = base["head"].modified
    made.font.recalcTimestamp = False
    made.font.flavor = "woff2"
    made.save(font)


if __name__ == "__main__":
    draw(*map(Path, sys.argv[1:]))
