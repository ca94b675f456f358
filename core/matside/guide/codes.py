"""Codes that stand in a script's values and drawings, and have their words under `guide` in the catalogue.

`PLACES` are sides as they lie before the cutter: "top" is away from the body, "bottom" near it. `LABELS` are what a shape of a
scene may be labelled with, as {"word": code}.
"""

PLACES = ("left", "right", "top", "bottom")

LABELS = (
    *("squared_edge", "selvage", "fold", "last_cut", "near_edge", "far_edge", "mark", "cut_here"),
    *("waste", "this_part", "other_part", "slanted_end", "strip_end"),
)
