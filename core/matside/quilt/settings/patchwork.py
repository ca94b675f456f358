"""The patchwork: every piece in its place, in finished measures."""

from collections import Counter
from dataclasses import dataclass, replace
from typing import NamedTuple

from ...shapes import Outline
from ..outlines.polygons import moved, transposed


class Patch(NamedTuple):
    """A piece: its kind, the number of its outline, where the outline's origin lies, its row and column.

    `turn` tells the directions apart in which the diamonds of a setting lie, and those between stars from those in
    them; part of a diamond has the diamond's."""

    kind: str
    shape: int
    x: float
    y: float
    row: int
    column: int
    turn: int = 0


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

    def shifted(self, inset: float) -> "Patchwork":
        """The same inside borders that are `inset` wide all round."""
        if not inset:
            return self
        moved_on = (Patch(kind, shape, x + inset, y + inset, *rest) for kind, shape, x, y, *rest in self.patches)
        return replace(self, patches=tuple(moved_on))

    def numbered(self) -> "Patchwork":
        """The same with rows and columns counted from 0."""
        row = min((patch.row for patch in self.patches), default=0)
        column = min((patch.column for patch in self.patches), default=0)
        if not (row or column):
            return self
        return replace(
            self, patches=tuple(Patch(*place, r - row, c - column, turn) for *place, r, c, turn in self.patches)
        )

    def turned(self) -> "Patchwork":
        """The same with x and y swapped: standing becomes lying."""
        swapped = {"shapes": tuple(map(transposed, self.shapes)), "cells": tuple(map(transposed, self.cells))}
        return replace(self, width=self.height, height=self.width, patches=tuple(map(_turned, self.patches)), **swapped)


def joined(parts: list[Patchwork]) -> Patchwork:
    """Several patchworks of the same finished area as one."""
    shapes, cells, patches = [], [], []
    for part in parts:
        patches += [patch._replace(shape=patch.shape + len(shapes)) for patch in part.patches]
        shapes += part.shapes
        cells += part.cells
    return Patchwork(parts[0].width, parts[0].height, tuple(shapes), tuple(cells), tuple(patches))


def _turned(patch: Patch) -> Patch:
    kind, shape, x, y, row, column, turn = patch
    return Patch(_turned_kind(kind), shape, y, x, column, row, turn)


def _turned_kind(kind: str) -> str:
    for old, new in (("side_half", "end_half"), ("end_half", "side_half")):
        if kind.endswith(old):
            return kind.removesuffix(old) + new
    return kind
