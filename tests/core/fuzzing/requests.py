"""Valid requests of every ask: what the made-up ones of `door` begin from."""

_DIAMOND = {"shape": "diamond", "size": "4 1/2 in", "angle": 60}
_PIECES = (
    _DIAMOND,
    {"shape": "diamond", "finished_size": 3.5, "seam": "1/4", "angle": 45, "mirrored": True},
    {"edge": "10 cm", "angle": "22.5°"},
    {"short_diagonal": 4, "angle": 30},
    {"long_diagonal": "95 mm", "angle": 72, "id": "star"},
    {"shape": "half-diamond", "size": 3, "angle": 60, "cut": "long"},
    {"shape": "half-diamond", "size": "2 1/4", "angle": 45, "cut": "short"},
    {"shape": "parallelogram", "size": 2, "across": "75 mm", "angle": 45, "mirrored": False},
    {"shape": "trapezoid", "size": 2.5, "base": 6, "angle": 60},
    {"shape": "trapezoid", "size": 3, "seam": 0.25},
    {"shape": "rectangle", "size": 2.5, "length": 5},
)
_CLOTHS = (
    {"length": "18 in", "width": "20 in", "selvage": "length", "selvages": 1, "one_way": True},
    {"kind": "fat_quarter"},
    {"kind": "yardage", "length": "1/2 yd", "count": 2},
    {"kind": "full_width_strip"},
    {"kind": "scrap", "length": 9.3, "width": 14, "selvage": "none", "id": "leaf"},
)
_RULERS = [
    {"name": "long", "width": 6, "length": 24, "tick": "1/8 in", "angles": [
        {"degrees": 60, "from": "long", "at": 12}, {"degrees": 30, "from": "short", "line_length": 5, "lean": "left"},
        {"degrees": 45, "from": "long", "lean": "right", "hard_to_see": True}]},
    {"name": "small", "width": "10 cm", "length": "10 cm", "tick": "1 mm", "reads_through": False},
]  # fmt: skip
_CHECKS = (
    {"edge": 4.62, "short_diagonal": 4.7, "across_1": 4},
    {"edge": 4.62, "long_diagonal": 8},
    {"short_diagonal": "4 5/8", "long_diagonal": "8 in"},
    {"across_1": 4, "across_2": 4.05, "short_diagonal": 4.6, "long_diagonal": 8, "edge": 4.6},
)
_QUILTS = (
    {"width": 60, "height": 72, "binding": {}, "backing": {}, "top": {"width": "60 1/2 in", "height": 72}},
    {"columns": 5, "rows": 7, "edge": "pointed", "setting": "zigzag", "sashing": {"width": 1, "style": "strips"}},
    {"target": {"size": "baby", "drop": 8}, "orientation": "lying", "edge": "trimmed", "fit": "nearest", "batting": {"overlap": 4}},
    {"have": 41, "drawing": False, "only": "colours"},
    {"width": 40, "height": 50, "seam": "1/4", "binding": {"cut_width": 2.25, "fold": "double", "ease": 0.25, "join": "square", "grain": "bias"},
     "borders": [{"width": 2, "corners": "mitered", "extra": 1.5}, {"width": "1 1/2 in", "fabric": "red", "corners": "mitred", "grain": "lengthwise"}],
     "backing": {"usable_width": 108, "overlap": 4, "seam": 0.5, "fabric": "blue"},
     "fabrics": [{"id": "red"}, {"id": "blue"}, {"id": "sand"}],
     "sashing": {"width": 1, "style": "cornerstones", "fabric": "blue", "cornerstones": "red"},
     "coloring": {"way": "random", "seed": 5, "fabrics": ["red", 1], "rest": "sand", "changes": [[3, "blue"]]}},
)  # fmt: skip
_SET = (
    ("grid", 60, "diamonds"),
    ("hexagons", 60, "diamonds"),
    ("stars", 60, "hexagons"),
    ("eight_pointed", 45, "diamonds"),
)
_NEEDS = [
    {"id": "d", "shape": "diamond", "size": 4, "angle": 60, "need": 9},
    {"id": "h", "shape": "half-diamond", "size": 3, "angle": 60, "need": 5, "fabric": "red", "mirrored": False},
    {"id": "r", "shape": "rectangle", "size": 2.5, "length": 12, "need": 4, "grain": "crosswise"},
]
_BASKET = [
    {"id": "a", "length": 18, "width": 20, "count": 2, "selvage": "length"},
    {"id": "b", "length": 9, "width": "42 in", "count": 1, "fabric": "red", "one_way": True},
    {"id": "c", "length": 12, "width": 20},
]
_STRIPS = [{"x": 0, "y": 4 * i, "along": "length", "run": 18, "size": 4, "piece": "d", "count": 3} for i in range(3)]
_LAYOUTS = [{"cloth": "a", "division": None, "strips": _STRIPS}]
_DIVIDED = [{"cloth": "a", "times": 2, "division": {"along": "length", "at": 8}, "strips": [
    {"x": 0, "y": 0, "along": "width", "run": 20, "size": 4, "piece": "d", "count": 3},
    {"x": 8, "y": 0, "along": "length", "run": 10, "size": 2.5, "piece": "r", "count": 1}]}]  # fmt: skip
_JOINED = [{"id": "s", "shape": "rectangle", "size": 2.5, "length": 20, "need": 6, "halved": [1, 1],
            "joined": {"length": 50, "need": 2, "takes": 0.5, "ends": [45, 90], "counted": True}}]  # fmt: skip
_PLANNED = {"ask": "guide", "pieces": [_NEEDS[0], _NEEDS[2]], "cloths": _BASKET, "layouts": _LAYOUTS}
_ONE = {
    "ask": "guide",
    "piece": _DIAMOND,
    "cloth": {"kind": "fat_quarter", "count": 3, "id": "q"},
    "way": "along_width",
}
_DONE = {"cloth": 0, "whole": False, "strips": 1, "made": {"d": 2}, "here": {"d": 2}, "coming": {"d": 7}, "later": {}}
_HABITS = {"hand": "left", "lay": "away", "layers": 2, "mat": "60 cm"}


def valid_requests() -> list[dict]:
    """All of them; every ask is there, and every field that an ask reads is in one of them."""
    return [
        *({"ask": "strip", "piece": piece, "length": "42 in", "layers": 2} for piece in _PIECES),
        *({"ask": "cloth", "piece": piece, "cloth": cloth} for piece in _PIECES[::2] for cloth in _CLOTHS),
        *({"ask": "piece", "piece": {**piece, "seam": "1/4 in"}} for piece in _PIECES[:5]),
        *_handout_requests(),
        *({"ask": ask} for ask in ("kinds", "facts", "glossary", "quilt_choices")),
        *_ruler_requests(),
        *(
            {"ask": "check", "piece": _DIAMOND, "measured": measured, "across": 10, "rows": 12, "hand": "left"}
            for measured in _CHECKS
        ),
        {"ask": "check", "piece": _DIAMOND, "placing": "1/32 in", "tolerance": 0.25, "seam": 0.25, "across": 8},
        {
            "ask": "check",
            "piece": _DIAMOND,
            "measured": _CHECKS[0],
            "length_left": 30,
            "pieces_left": 5,
            "placing": 0.05,
        },
        {"ask": "check_drawn", "piece": _DIAMOND, "found": 60.5, "hand": "left", "lay": "along"},
        *_quilt_requests(),
        *_buying_requests(),
        *_plan_requests(),
        *_size_requests(),
        *_guide_requests(),
        *({**request, "ask": "cutting_sheet"} for request in _guide_requests()[1::2]),
        *_replan_requests(),
        {"ask": "seam_test", "quilt": {"piece": _DIAMOND, **_QUILTS[0]}, "measured": "11 1/16 in", "sewn": 3},
        {"ask": "habits", **_HABITS},
        {"ask": "length", "length": "7 1/2 in"},
    ]


def _handout_requests() -> list[dict]:
    pieces = [{**piece, "need": 3, "grain": "crosswise"} for piece in _PIECES]
    return [
        {"ask": "chart", "cloths": ["full_width_strip"]},
        {"ask": "chart", "piece": {"shape": "half-diamond", "angle": 45, "cut": "long"}, "sizes": ["2 in", "7 cm"], "units": "cm"},
        {"ask": "chart", "piece": {"angle": 30}, "sizes": [3], "cloths": ["fat_quarter", *_CLOTHS[2:]], "drawing": False},
        {"ask": "templates", "pieces": pieces, "seam": "1/4 in", "paper": "a4"},
        {"ask": "templates", "quilt": {"piece": _DIAMOND, **_QUILTS[4], "width": 20, "height": 26}, "paper": "letter"},
    ]  # fmt: skip


def _ruler_requests() -> list[dict]:
    return [
        *({"ask": "rulers", "piece": piece, "hand": "right", "rulers": _RULERS, "run": 22} for piece in _PIECES[::3]),
        {
            "ask": "rulers",
            "piece": _DIAMOND,
            "strip_width": "4 1/2 in",
            "placing": 0.03,
            "tolerance": 0.125,
            "across": 9,
            "seam": 0.25,
        },
        {"ask": "my_rulers", "rulers": _RULERS},
        {"ask": "ways_drawn", "piece": _DIAMOND, "rulers": _RULERS, **_HABITS},
    ]


def _quilt_requests() -> list[dict]:
    quilts = [{"ask": "quilt", "piece": _DIAMOND, **quilt} for quilt in _QUILTS]
    settings = [
        {
            "ask": "quilt",
            "piece": {"size": 3, "angle": angle},
            "setting": setting,
            "joined_by": joined,
            "edge": "filled",
            "columns": 3,
            "rows": 4,
        }
        for setting, angle, joined in _SET
    ]
    needs = [
        {"ask": "quilt_needs", "quilt": {"piece": _DIAMOND, **quilt}, "grain": "any", "usable_width": 42,
         "cloths": [{"fabric": "red", "length": 18, "width": 20, "selvage": "length"}]}
        for quilt in _QUILTS[::2]
    ]  # fmt: skip
    return [*quilts, *settings, *needs, {"ask": "quilt_sizes", "drop": 10}]


def _buying_requests() -> list[dict]:
    common = {
        "sold": "fat_quarter",
        "shrink": {"length": 3, "width": 1.5},
        "straighten": 1,
        "round_to": "eighth_yard",
        "usable_width": 42,
    }
    return [
        {
            "ask": "buying",
            "pieces": [{**_NEEDS[0], "need": 96, "fabric": "red", "join_takes": 0.5}],
            "spare": {"percent": 5, "pieces": 2},
        },
        {"ask": "buying", "pieces": _NEEDS, **common, "square": 0.5, "fat_quarter": {"length": 18, "width": 20}},
        {
            "ask": "buying",
            "lengths": [{"id": "back", "length": 48, "need": 2}],
            "kits": {"people": 3, "leader": 1, "bolt_length": "15 yd"},
        },
        {
            "ask": "class_plan",
            "quilt": {"piece": _DIAMOND, "columns": 2, "rows": 3, "edge": "pointed", "drawing": False},
            "kits": {"people": 3, "leader": 1, "sizes": [{"name": "small", "people": 2, "columns": 2, "rows": 2}]},
            "batting_price": 9.5,
            "weeks": 2,
            "swap": True,
            "pace": 6,
            "strip_seconds": 45,
            "share_an_iron": 3,
        },
        {
            "ask": "buying",
            "quilt": {"piece": _DIAMOND, **_QUILTS[4]},
            "fabrics": [{"id": "red", "price": 12.5, "price_by": "yd", "sold": "bolt"}],
        },
    ]


def _plan_requests() -> list[dict]:
    return [
        {"ask": "plan", "cloths": _BASKET, "pieces": _NEEDS, "grain": "any", "work": 2000},
        {
            "ask": "plan",
            "cloths": [{"id": "c", "length": 12, "width": 12, "count": 4}],
            "pieces": [{"id": "t", **_PIECES[8], "need": 12}],
        },
    ]


def _size_requests() -> list[dict]:
    """What size: of a quilt by its basket, of a piece by what it wastes."""
    shop = {
        "straighten": 1,
        "shrink": {"length": 3, "width": 1},
        "round_to": "ten_cm",
        "square": 0.5,
        "fat_quarter": {"length": 18, "width": 20},
    }
    return [
        {"ask": "largest", "quilt": {"piece": _DIAMOND, "columns": 3, "rows": 2, "fabrics": [{"id": "red"}]}, "cloths": _BASKET[1:2],
         "left_out": ["diamond/red"], "grain": "any", "usable_width": 42, "work": 2000, **shop},
        *({"ask": "best_size", "piece": piece, "cloth": _CLOTHS[0], "way": "best", "step": "1 mm"} for piece in (_PIECES[1], _PIECES[9])),
        {"ask": "best_size", "piece": {**_DIAMOND, "fabric": "red"}, "cloths": _BASKET, "grain": "any", "from": 3, "to": 5, "step": "1/8 in"},
    ]  # fmt: skip


def _guide_requests() -> list[dict]:
    return [
        {"ask": "guide", "piece": _DIAMOND, "cloth": {"length": 20, "width": 18, "selvage": "length", "selvages": 2}, **_HABITS},
        {**_ONE, "rulers": _RULERS, "chosen": {"strip": 0, "starter": 1, "following": 0}, "recheck_every": 3},
        {"ask": "guide", "piece": _PIECES[9], "cloth": {"kind": "yardage", "length": "1/4 yd"}, "way": "sure", "across": 12, "placing": 0.04},
        {**_PLANNED, "hand": "left", "rulers": _RULERS, "promised": {"d": 9}},
        {**_PLANNED, "layouts": _DIVIDED},
        {"ask": "guide", "pieces": _JOINED, "cloths": _BASKET, "layouts": [
            {"cloth": "a", "strips": [{"x": 0, "y": 0, "along": "width", "run": 20, "size": 2.5, "piece": "s", "count": 1}]}]},
    ]  # fmt: skip


def _replan_requests() -> list[dict]:
    changes = (
        {"what": "lost"}, {"what": "no_more_strips"}, {"what": "another", "cloth": "c"}, {"what": "smaller", "length": 17, "width": 19, "id": "x"},
    )  # fmt: skip
    more = {
        "target": {"d": 9},
        "so_far": {"cloths": [{"id": "a", "length": 18, "width": 20, "count": 1}], "strips": 3},
        "elsewhere": _LAYOUTS,
    }
    return [
        *(
            {"ask": "replan", "guide": _PLANNED, "done": {**_DONE, "whole": i > 1}, "change": change, "work": 2000}
            for i, change in enumerate(changes)
        ),
        {"ask": "replan", "guide": {**_PLANNED, **more}, "done": _DONE, "change": changes[0], "work": 500},
        {
            "ask": "replan",
            "guide": _ONE,
            "done": {"cloth": 1, "whole": True},
            "change": {"what": "another_size", "length": 15, "width": 19, "id": "y"},
        },
        {"ask": "replan_cloths", "guide": _PLANNED, "done": _DONE},
    ]
