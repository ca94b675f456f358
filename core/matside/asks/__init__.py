"""What can be asked: one module an ask, each reading a request and giving the answer's fields.

`ASKS` gives answers at once; `SEARCHES` gives the same answer as a generator of progress, for the asks that search. A
module is loaded when it is first asked, so that the first answer on a phone does not wait for all the others.
"""

from collections.abc import Callable, Iterator, Mapping
from importlib import import_module


class _Functions(Mapping[str, Callable[[dict], object]]):
    """Functions by the name of their ask, given as "module.function" of this package."""

    def __init__(self, places: dict[str, str]):
        self._places = places

    def __getitem__(self, ask: str) -> Callable[[dict], object]:
        module, _, function = self._places[ask].partition(".")
        return getattr(import_module(f".{module}", __name__), function)

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


ASKS = _Functions(
    {
        "strip": "strip.answer",
        "cloth": "cloth.answer",
        "chart": "chart.answer",
        "piece": "piece.answer",
        "templates": "templates.answer",
        "kinds": "kinds.answer",
        "facts": "facts.answer",
        "glossary": "glossary.answer",
        "quilt": "quilt.answer",
        "quilt_sizes": "quilt.answer_sizes",
        "quilt_choices": "quilt.answer_choices",
        "quilt_needs": "quilt_needs.answer",
        "seam_test": "seam_test.answer",
        "buying": "buying.answer",
        "class_plan": "class_plan.answer",
        "plan": "plan.answer",
        "largest": "largest.answer",
        "best_size": "best_size.answer",
        "replan": "replan.answer",
        "replan_cloths": "replan.answer_cloths",
        "guide": "guide.answer",
        "cutting_sheet": "cutting_sheet.answer",
        "rulers": "rulers.answer",
        "my_rulers": "rulers.answer_my_rulers",
        "check": "check.answer",
        "habits": "habits.answer",
        "length": "habits.answer_length",
        "ways_drawn": "drawn.answer_ways",
        "check_drawn": "drawn.answer_check",
    }
)
SEARCHES = _Functions(
    {
        "plan": "plan.search",
        "replan": "replan.search",
        "largest": "largest.search",
        "best_size": "best_size.search",
    }
)
