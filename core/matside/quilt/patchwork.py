"""The patchwork: every piece in its place, in finished measures."""

from collections import Counter
from dataclasses import dataclass, replace
from typing import NamedTuple

from ..shapes import Outline
from .polygons import moved, transposed

_TURNED_KINDS = {"side_half": "end_half", "end_half": "side_half"}


class Patch(NamedTuple):
    """A piece: its kind, the number of its outline, where the outline's origin lies, and its row and column."""

    kind: str
    shape: int
    x: float
    y: float
    row: int
    column: int


@dataclass(frozen=True, slots=True)
class Patchwork:
    """The pieces of a finished area of `width` × `height`, its top left corner at (0, 0).

    `shapes` are finished outlines; `cells` the same with half the sashing round them, which meet edge to edge. With a
    trimmed edge the pieces reach over the finished area and are cut away along it.
    """

    width: float
    height: float
    shapes: tuple[Outline, ...]
    cells: tuple[Outline, ...]
    patches: tuple[Patch, ...]

    def counts(self) -> dict[str, int]:
        """How many of every kind."""
        return dict(Counter(patch.kind for patch in self.patches))

    def outline(self, patch: Patch) -> Outline:
        """A patch's finished outline where it lies."""
        return moved(self.shapes[patch.shape], patch.x, patch.y)

    def turned(self) -> "Patchwork":
        """The same with x and y swapped: standing becomes lying."""
        swapped = {"shapes": tuple(map(transposed, self.shapes)), "cells": tuple(map(transposed, self.cells))}
        return replace(self, width=self.height, height=self.width, patches=tuple(map(_turned, self.patches)), **swapped)


def _turned(patch: Patch) -> Patch:
    kind, shape, x, y, row, column = patch
    return Patch(_TURNED_KINDS.get(kind, kind), shape, y, x, column, row)
