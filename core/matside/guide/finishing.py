"""What is still to be done when all strips are cut: those that are joined end to end become the pieces they are for."""

from collections.abc import Iterator

from .acts import Act
from .drawn import Drawn, box, scene, shape
from .job import Job, Joined, PieceKind
from .strip_scenes import finished_outline, joined_scene

#: What a kind is called once its strips are joined.
JOINED = "/joined"
#: A joined piece is drawn no longer than so many times its width: its length is told.
_DRAWN_LONG = 6


def joined_kinds(job: Job) -> list[tuple[PieceKind, int]]:
    """The kinds that are joined and all of whose strips are cut here, each with how many strips there are."""
    found = []
    for kind in job.kinds:
        strips = sum(
            work.count * work.strips for cloth in job.cloths for work in cloth.works if work.piece.id == kind.id
        )
        if kind.joined and strips:
            found.append((kind, strips))
    return found


def finishing(kind: PieceKind, strips: int, drawn: Drawn) -> Iterator[Act]:
    """The steps that make the pieces of a kind from its strips."""
    joined, size = kind.joined, kind.shape.size
    if strips > 1 and not kind.whole:
        length = strips * float(kind.shape.length) - (strips - 1) * float(joined.takes)
        yield Act(
            "join",
            "join",
            joined_scene(drawn, size, length, strips),
            {"strips": strips, "size": size, "length": length},
        )
    count = kind.finished(strips) if joined.counted else 0
    for k in range(count):
        values = {"length": joined.edge(size), "k": k + 1, "of": count, "n": count, "size": size}
        if joined.ends:
            values |= {"first": joined.ends[0], "second": joined.ends[1]}
        yield Act("finish", _said(joined), _finished_scene(kind, drawn), values, ("fingers",), over="finish", gives=1)


def _said(joined: Joined) -> str:
    """The sentence for a piece: square, angled at both ends, or with parallel ends; and whether
    its strip lies wrong side up.
    """
    if not joined.ends:
        return "finish"
    side = "_mirrored" if joined.mirrored else ""
    return f"finish_parallel{side}" if joined.parallel else f"finish_angled{side}"


def _finished_scene(kind: PieceKind, drawn: Drawn) -> int:
    joined, size = kind.joined, kind.shape.size
    high = float(size)

    def made() -> dict:
        outline = finished_outline(size, joined, min(float(joined.length), _DRAWN_LONG * high))
        edge = outline[1][0]
        long = max(x for x, _ in outline)
        length = shape("side", [(0.0, -0.4 * high), (edge, -0.4 * high)], length=joined.edge(size))
        angled = [
            shape("angle-line", [outline[a], outline[b]], degrees=degrees)
            for (a, b), degrees in zip(((0, 3), (1, 2)), joined.ends or ())
        ]
        view = box([(-0.4 * high, -1.2 * high), (long + 0.4 * high, 1.6 * high)])
        return scene(view, [shape("piece", outline), length], over={"finish": angled})

    return drawn.number(("finished", kind), made)
