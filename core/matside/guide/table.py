"""The guide's transition table, as plain data, versioned.

`TABLE["rules"][what a step does][event]` is a rule:

- "go": where to: "next" step, "stay", {"past": KIND} (the event's `n` steps of that kind are passed, inside this
  strip), "script" (the event names another script and a step of it);
- "tally": what the event adds to the strip's counters, each a sum of terms: "one" (1), "gives" (pieces that the step's
  cut frees), "n" (the event's number), "n_gives" (n times gives), each with its factor;
- "n": the least and the most that the event's `n` may be: a number, or a name of `LIMITS`; without it the event has no
  `n`;
- "carries": a name; where the event has it true, the counters of this script's strips go on under the same numbers of
  the script that it goes to (the same strips, cut by other rulers). Else a script's strips start at 0.
- "stopped": the sitting is over until the next event.

An event without a rule for the step at hand is illegal: it raises and changes nothing. `undo` is no rule: it takes the
state back to before the last event that stands, or the last `n` of them.
"""

#: Raised by one whenever a log folded by an older table would come out differently.
VERSION = 1

#: What a limit of `n` may be besides a number.
LIMITS = {
    "gives": "pieces that this step's cut frees",
    "strip_made": "pieces made of this strip so far",
    "ahead": "piece steps of this strip that are still to come, this one included",
    "minus_made": "minus all pieces made so far: a count never falls below 0",
    "many": "100000",
}

_ON = {"cut": {"go": "next"}}
_ANYWHERE = {
    "stop": {"go": "stay", "stopped": True},
    "switch": {"go": "script", "carries": "keep"},
    "recount": {"go": "stay", "tally": {"made": {"n": 1}}, "n": ["minus_made", "many"]},
}
_ENDS_EARLY = {"go": {"past": "piece"}, "tally": {"lost": {"n_gives": 1}}, "n": [1, "ahead"]}
_SPOILED_BEFORE = {"go": "stay", "tally": {"made": {"n": -1}, "spoiled": {"n": 1}}, "n": [1, "strip_made"]}
_IN_STRIP = {**_ANYWHERE, "ends_early": _ENDS_EARLY, "spoiled_before": _SPOILED_BEFORE}

#: Steps in which nothing is counted, before a strip is taken and after the last one.
PREPARING = (
    "swap", "press", "place", "fold", "measure", "selvage", "square", "check_edge", "half_turn", "divide", "take_part", "strip",
    "unfold", "join",
)  # fmt: skip

TABLE = {
    "version": VERSION,
    "rules": {
        **{
            step: {**_ANYWHERE, **_ON}
            for step in PREPARING
        },
        **{step: {**_IN_STRIP, **_ON} for step in ("lay", "end", "turn", "starter", "cut_off", "recheck")},
        "piece": {
            **_IN_STRIP,
            "cut": {"go": "next", "tally": {"made": {"gives": 1}}},
            "spoiled": {
                "go": "next",
                "tally": {"made": {"gives": 1, "n": -1}, "spoiled": {"n": 1}},
                "n": [1, "gives"],
            },
        },
        "strip_done": {
            **_ANYWHERE,
            **_ON,
            "spoiled_before": _SPOILED_BEFORE,
            "extra": {"go": "stay", "tally": {"made": {"gives": 1}}},
        },
        "done": {**_ANYWHERE, "spoiled_before": _SPOILED_BEFORE},
    },
}
