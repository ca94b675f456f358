"""What a step of the guide is made of, before it is numbered and told to one hand."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Act:
    """One step: what it `do`es, what is `say`d with which `values`, its scene's number, and what of the scene it shows.

    `over` names the shapes that lie on top, `at` how far along the scene is, `next` the piece that is picked out. `cut`
    is the length of the blade's path, in inches, 0 where nothing is cut. `gives` says how many pieces it frees."""

    do: str
    say: str
    scene: int
    values: dict = field(default_factory=dict)
    cautions: tuple[str, ...] = ()
    cut: float = 0.0
    over: str | None = None
    at: int = 0
    next: int | None = None
    gives: int = 0


#: Steps in which the hands move cloth: a blade that is open is closed first.
HANDLING = frozenset(
    {
        "swap",
        "place",
        "fold",
        "half_turn",
        "take_part",
        "unfold",
        "lay",
        "turn",
        "strip_done",
        "recheck",
        "join",
        "done",
    }
)
#: Steps that cut into cloth so that it is not whole any more.
CUTS_INTO = frozenset({"divide", "strip", "end", "starter", "piece", "halve", "finish"})
#: Steps at which one plan can follow another.
PAUSES = frozenset({"swap", "done"})
