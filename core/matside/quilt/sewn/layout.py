"""The patchwork row by row, each piece by a letter for its fabric."""

from ..geometry import Geometry, Ground
from ..settings.patchwork import Patch
from ..settings.tilings import JOINING
from .rows import BETWEEN_ROWS, IN_ROWS, row_of

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def letter(number: int) -> str:
    """The letter of a fabric by its number; after Z come AA, AB, and so on.

    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    first, second = divmod(number, len(_LETTERS))
    return (_LETTERS[first - 1] if first else "") + _LETTERS[second]


def layout(geometry: Geometry, ground: Ground, fabrics: list[int]) -> dict:
    """`rows` with the letters of each in order, the `letters` with the fabrics they stand for (numbers), and a code for
    how rows are `read`: where the first one lies, which way they run, and what a letter is told of.

    In a grid and a zigzag a letter is a piece; triangles that are set in between two rows are in none. Of a hexagon
    there are the letters of its three diamonds, of a star those of its own diamonds, each once."""
    found: dict[int, dict[float, list[int]]] = {}
    for patch, fabric in zip(ground.patchwork.patches, fabrics, strict=True):
        if _has_letter(geometry, patch):
            row, along = _place(geometry, patch)
            found.setdefault(row, {}).setdefault(along, []).append(fabric)
    rows = [[_told(geometry, units[along]) for along in sorted(units)] for _, units in sorted(found.items())]
    read = f"{geometry.setting}_lying" if geometry.setting == "zigzag" and geometry.lying else geometry.setting
    letters = [{"letter": letter(number), "fabric": number} for number in sorted(set(fabrics))]
    return {
        "read": read,
        "letters": letters,
        "rows": [{"row": k, "letters": letters} for k, letters in enumerate(rows, start=1)],
    }


def _has_letter(geometry: Geometry, patch: Patch) -> bool:
    if geometry.setting in IN_ROWS:
        return patch.kind != BETWEEN_ROWS
    return patch.turn < JOINING and patch.kind not in ("square", "side_triangle")


def _place(geometry: Geometry, patch: Patch) -> tuple[int, float]:
    """A piece's row, and where along it the piece or its unit lies."""
    if geometry.setting not in IN_ROWS:
        return patch.row, patch.column
    turned = geometry.lying and geometry.setting == "zigzag"
    standing = patch._replace(row=patch.column, column=patch.row) if geometry.lying else patch
    return row_of(geometry.setting, standing), round(patch.y if turned else patch.x, 6)


def _told(geometry: Geometry, fabrics: list[int]) -> str:
    letters = [letter(fabric) for fabric in fabrics]
    return "".join(letters if geometry.setting == "hexagons" else dict.fromkeys(letters))
