"""The guide's transition table, as plain data, versioned.

`TABLE["rules"][what a step does][event]` is a rule:

- "go": where to: "next" step, "stay", {"past": KIND} (the event's `n` steps of that kind are passed, inside
  this strip), {"along": KIND} (the same, and with `n` below 0 back to the step of that kind as many before),
  {"to": KIND} (the next step of that kind in this strip, the one at hand included), "script" (the event names
  another script and a step of it);
- "tally": what the event adds to the strip's counters, each a sum of terms, each with its factor: "gives" (pieces that
  the step's cut frees), "n" (the event's number), "passed" (pieces that the steps gone past would have
  freed, below 0 for steps gone back), "strip_made" (what is counted of this strip);
- "whole": the pieces counted are whole ones even where the strip's kind of piece is not counted. Without it, what such
  a strip gives is counted as "aside" instead of "made": strips that are joined later are no pieces yet;
- "n": the least and the most that the event's `n` may be; without it the event has no `n`. A limit is a number, or
  "gives" (pieces that this step's cut frees), "strip_made" (pieces made of this strip so far), "ahead" (piece steps of
  this strip that are still to come, this one included), "behind" (minus the piece steps of this strip that are past, as
  far as its count stays at 0 or above without them), "minus_made" (minus all pieces made so far: a count never falls
  below 0), or "many" (100,000);
- "carries": a name; where the event has it true, the counters of this script's strips go on under the same numbers of
  the script that it goes to (the same strips, cut by other rulers). Else a script's strips start at 0.
- "stopped": the sitting is over until the next event.

An event without a rule for the step at hand is illegal: it raises and changes nothing. `undo` is no rule: it takes the
state back to before the last event that stands, or the last `n` of them.
"""

#: Raised by one whenever a log folded by an older table would come out differently.
VERSION = 1

_ON = {"cut": {"go": "next"}}
_ANYWHERE = {
    "stop": {"go": "stay", "stopped": True},
    "switch": {"go": "script", "carries": "keep"},
    "recount": {"go": "stay", "tally": {"made": {"n": 1}}, "n": ["minus_made", "many"], "whole": True},
}
_ENDS_EARLY = {"go": {"past": "piece"}, "tally": {"lost": {"passed": 1}}, "n": [1, "ahead"]}
_SPOILED_BEFORE = {"go": "stay", "tally": {"made": {"n": -1}, "spoiled": {"n": 1}}, "n": [1, "strip_made"]}
# A strip cut at the wrong width: what is counted of it is of the wrong width too.
_WRONG_WIDTH = {
    "go": {"to": "strip_done"},
    "tally": {"made": {"strip_made": -1}, "lost": {"strip_made": 1, "passed": 1}},
}
# A missed or a surplus tap: what the strip will give in the end stays what it was.
_RECOUNT_STRIP = {"go": {"along": "piece"}, "tally": {"made": {"passed": 1}}, "n": ["behind", "ahead"]}
_IN_STRIP = {**_ANYWHERE, "ends_early": _ENDS_EARLY, "spoiled_before": _SPOILED_BEFORE, "wrong_width": _WRONG_WIDTH}
_FREES = {
    "cut": {"go": "next", "tally": {"made": {"gives": 1}}},
    "spoiled": {
        "go": "next",
        "tally": {"made": {"gives": 1, "n": -1}, "spoiled": {"n": 1}},
        "n": [1, "gives"],
    },
}
_ON_A_CLOTH = ("swap", "press", "place", "selvage", "fold", "measure", "square", "check_edge", "half_turn")
_CUTTING_IT = ("divide", "take_part", "strip", "unfold")

TABLE = {
    "version": VERSION,
    "rules": {
        **{step: {**_ANYWHERE, **_ON} for step in (*_ON_A_CLOTH, *_CUTTING_IT, "join")},
        **{step: {**_IN_STRIP, **_ON} for step in ("lay", "end", "starter", "turn")},
        "recheck": {**_IN_STRIP, **_ON, "recount_strip": _RECOUNT_STRIP},
        "piece": {**_IN_STRIP, **_FREES, "recount_strip": _RECOUNT_STRIP},
        "halve": {**_IN_STRIP, **_FREES, "recount_strip": _RECOUNT_STRIP},
        "strip_done": {
            **_ANYWHERE,
            **_ON,
            "spoiled_before": _SPOILED_BEFORE,
            "wrong_width": _WRONG_WIDTH,
            "recount_strip": _RECOUNT_STRIP,
            "extra": {"go": "stay", "tally": {"made": {"gives": 1}}},
        },
        "finish": {**_ANYWHERE, **{event: {**rule, "whole": True} for event, rule in _FREES.items()}},
        "done": {**_ANYWHERE, "spoiled_before": _SPOILED_BEFORE},
    },
}
