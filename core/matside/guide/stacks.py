"""Strips as the guide cuts them: alone, or several alike in a stack, so that one cut frees a piece of each layer."""

from dataclasses import dataclass

from .job import Job, StripWork


@dataclass(frozen=True, slots=True)
class Stack:
    """`layers` strips alike of one work, cut together; `number` of `of` within its work.
    `cloth` and `part` are indices.
    """

    cloth: int
    part: int
    work: StripWork
    layers: int
    number: int
    of: int

    @property
    def planned(self) -> int:
        """Pieces that the stack gives."""
        return self.layers * self.work.count * self.work.piece.parts


def stacks(job: Job, layers: int) -> list[Stack]:
    """All stacks in cutting order; the last of a work may have fewer layers than the others.

    A work whose strips are to give no pieces has no stack.
    """
    return [
        stack
        for index, cloth in enumerate(job.cloths)
        for number, part in enumerate(cloth.parts)
        for work in part.works
        if work.count
        for stack in _stacks_of(index, number, work, layers)
    ]


def _stacks_of(cloth: int, part: int, work: StripWork, layers: int) -> list[Stack]:
    full, rest = divmod(work.strips, layers)
    sizes = [layers] * full + ([rest] if rest else [])
    return [Stack(cloth, part, work, size, number, len(sizes)) for number, size in enumerate(sizes, 1)]
