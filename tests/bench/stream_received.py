"""How long 8 KB take from one screen to another phone by a stream of codes, held in a hand.

A frame that is shown is met by the camera or lost. Losses come singly and in runs, as a hand shakes and comes to rest: E. N.
Gilbert's channel of two states (Bell System Technical Journal 39, 1960), with losses in the good state too (E. O. Elliott,
the same 42, 1963), one frame in five lost in all; the numbers are from no measurement. In some of the tries only the runs are
by chance: each other frame is drawn, tilted and blurred a little, and lost where the page's own reader misses it. What is
received goes to the page's own receiver. Half of the tries begin with the stream, the others somewhere in it."""

import random
from collections.abc import Iterator
from statistics import median, quantiles

from code_pictures import blurred, dimmed, picture_of, tilted
from passed import ran
from steps.places import DIST

from .figures import Figure
from .phones import Contexts
from .readers import by_page

TRIES, DRAWN = 100, 10
BYTES = 8 * 1024
WITHIN = 5  # seconds
MOST_LATE = 5  # tries of a hundred
SHOWN = 120  # frames, after which a try is given up
#: Of the frames lost in all, of those while the hand is at rest, and how many frames it shakes for at a time.
LOST, AT_REST, SHAKES = 0.2, 0.08, 4
LATEST_BEGIN = 400


def measure(_contexts: Contexts) -> Iterator[Figure]:
    """How many tries are late, and the seconds of the middle one and of the slowest twentieth."""
    (rate,) = ran(DIST, ("rate", None))
    said = "".join(
        random.Random(1).choices("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", k=BYTES)
    )
    draws = [random.Random(seed) for seed in range(TRIES)]
    begins = [draw.randrange(LATEST_BEGIN) if number % 2 else 0 for number, draw in enumerate(draws)]
    (stream,) = ran(DIST, ("frames", [said, list(range(LATEST_BEGIN + SHOWN))]))
    met = [list(_met(draw, 0 if number < DRAWN else AT_REST)) for number, draw in enumerate(draws)]
    missed = _read(stream["frames"], begins, met)
    frames = [
        [stream["frames"][begin + place] if one else "" for place, one in enumerate(each)]
        for begin, each in zip(begins, met, strict=True)
    ]
    seconds = [_seconds(found["found"], said, rate) for found in ran(DIST, *[("received", each) for each in frames])]
    late = sum(each > WITHIN for each in seconds)
    told = f"{stream['blocks']} blocks, {rate} frames a second; {missed}"
    yield Figure(f"Streams of 8 KB that take longer than {WITHIN} s", 100 * late / TRIES, MOST_LATE, "of 100", told)
    for what, begin in (("from their beginning", 0), ("met in the middle", 1)):
        some = sorted(seconds[begin::2])
        at_95 = quantiles(some, n=20)[-1]
        told = f"{round(at_95 * rate)} frames; at the median {median(some):.2f} s, {some[0]:.2f} to {some[-1]:.2f} s"
        yield Figure(f"8 KB by a stream, {what}, the 95th percentile", at_95, WITHIN, "s", told)


def _met(draw: random.Random, at_rest: float) -> Iterator[bool]:
    """Of each frame that is shown whether the camera meets it; `at_rest` is how many it loses while the hand does not shake."""
    shaken = (LOST - AT_REST) / (1 - AT_REST)
    begins, ends = shaken / (1 - shaken) / SHAKES, 1 / SHAKES
    shakes = draw.random() < shaken
    for _ in range(SHOWN):
        yield not shakes and draw.random() >= at_rest
        shakes = draw.random() >= ends if shakes else draw.random() < begins


def _read(frames: list[str], begins: list[int], met: list[list[bool]]) -> str:
    """Takes from what was met in the first tries what the page does not read of it; tells how many that are."""
    places = [(one, place) for one in range(DRAWN) for place, is_met in enumerate(met[one][: SHOWN // 2]) if is_met]
    wanted = [frames[begins[one] + place] for one, place in places]
    codes = ran(DIST, *[("codeOf", frame) for frame in wanted])
    draws = [random.Random(10_000 + number) for number, _ in enumerate(places)]
    pictures = [_seen(picture_of(code), draw) for code, draw in zip(codes, draws, strict=True)]
    read = [one["frame"].says for one in by_page(pictures, "frame")]
    for (one, place), frame, says in zip(places, wanted, read, strict=True):
        met[one][place] = says == frame
    missed = sum(says != frame for says, frame in zip(read, wanted, strict=True))
    return f"in {DRAWN} of {TRIES} tries frames were drawn, and {missed} of {len(places)} not read"


def _seen(code, draw: random.Random):
    """A frame in a hand: tilted, turned, a little out of focus, a little dim."""
    seen = tilted(code, draw.uniform(0, 30), draw.uniform(-15, 15))
    return blurred(
        dimmed(seen, draw.uniform(0.4, 0.9), draw.uniform(0, 4), draw.randint(1, 1 << 30)), draw.uniform(0, 1.8)
    )


def _seconds(found: list[str | None], said: str, rate: float) -> float:
    """From the first frame that is shown until the whole text is there."""
    place = next((place for place, text in enumerate(found, 1) if text == said), None)
    return place / rate if place else float("inf")
