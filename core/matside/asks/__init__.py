"""What can be asked: one module an ask, each reading a request and giving the answer's fields.

`ASKS` gives answers at once; `SEARCHES` gives the same answer as a generator of progress, for the asks that search.
"""

from collections.abc import Callable, Iterator

from . import buying, check, cloth, drawn, facts, guide, kinds, piece, plan, quilt, rulers, strip

ASKS: dict[str, Callable[[dict], dict]] = {
    "strip": strip.answer,
    "quilt_sizes": quilt.answer_sizes,
    "quilt_choices": quilt.answer_choices,
    "buying": buying.answer,
    "cloth": cloth.answer,
    "piece": piece.answer,
    "kinds": kinds.answer,
    "facts": facts.answer,
    "quilt": quilt.answer,
    "plan": plan.answer,
    "guide": guide.answer,
    "rulers": rulers.answer,
    "my_rulers": rulers.answer_my_rulers,
    "check": check.answer,
    "ways_drawn": drawn.answer_ways,
    "check_drawn": drawn.answer_check,
}
SEARCHES: dict[str, Callable[[dict], Iterator[dict]]] = {"plan": plan.search}
