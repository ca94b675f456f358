"""How many codes of plans the page's own reader reads as cameras see them, beside zxing-cpp on the same pictures, how long a
picture takes each, and what the page's reader is over the wire.

Pictures are made up by a seed (`code_pictures`): a phone's screen at 15 to 20 cm, seven pixels or so to the module."""

import random
from collections.abc import Callable, Iterator
from statistics import median

import numpy as np

from code_pictures import blurred, dimmed, lit_from_one_side, moire, picture_of, tilted
from passed import example, ran
from steps.places import DIST

from .figures import Figure
from .phones import Contexts
from .readers import Read, by_page, by_zxing

EACH = 50  # pictures of every kind
ADDRESS = "https://quilts.example/cut-along/"
MOST_MISSED = 10  # per cent of what zxing-cpp reads
MOST_TIMES = 10
MOST_KB = 15
#: The reader of npm's zxing-wasm 3.1.4, the same zxing-cpp for a page: thousand bytes by gzip, measured once.
WASM_KB = 412.1


def _leaning(code: np.ndarray, draw: random.Random, most: float = 50) -> np.ndarray:
    return tilted(code, draw.uniform(0, most), draw.uniform(-20, 20), draw.randint(20, 160))


def _dim(picture: np.ndarray, draw: random.Random, least: float = 0.08) -> np.ndarray:
    return dimmed(picture, draw.uniform(least, 0.5), draw.uniform(1, 6), draw.randint(1, 1 << 30))


def _mixed(code: np.ndarray, draw: random.Random) -> np.ndarray:
    seen = lit_from_one_side(_leaning(code, draw, 35), draw.uniform(0.3, 1))
    seen = moire(seen, draw.uniform(0, 0.4), draw.uniform(2.4, 6))
    return blurred(_dim(seen, draw, 0.25), draw.uniform(0, 2.5))


#: How a camera sees a code, from easy to what hardly anything reads.
SEEN: dict[str, Callable[[np.ndarray, random.Random], np.ndarray]] = {
    "tilted by up to 50°": _leaning,
    "dim": lambda code, draw: _dim(_leaning(code, draw, 15), draw),
    "blurred": lambda code, draw: blurred(_leaning(code, draw, 15), draw.uniform(1, 4)),
    "lit from one side": lambda code, draw: lit_from_one_side(_leaning(code, draw, 15), draw.uniform(0.03, 0.4)),
    "screen on screen": lambda code, draw: moire(
        _leaning(code, draw, 15), draw.uniform(0.3, 0.95), draw.uniform(2.4, 8)
    ),
    "all at once": _mixed,
}


def measure(_contexts: Contexts) -> Iterator[Figure]:
    """For each kind of picture what the page misses of what zxing-cpp reads; the time of a picture; the size."""
    codes = _codes()
    taken: list[tuple[Read, Read]] = []
    for number, (how, seen) in enumerate(SEEN.items()):
        draws = [random.Random(1000 * number + each) for each in range(EACH)]
        chosen = [draw.choice(codes) for draw in draws]
        pictures = [seen(picture, draw) for (_, picture), draw in zip(chosen, draws, strict=True)]
        ours, theirs = by_page(pictures, "photo", "frame"), by_zxing(pictures)
        yield _missed(how, [text for text, _ in chosen], ours, theirs)
        taken += [(one["photo"], other) for one, other in zip(ours, theirs, strict=True)]
    yield _time(taken)
    yield from _sizes()


def _codes() -> list[tuple[str, np.ndarray]]:
    """Codes of plans, each its text and its picture: the example's, with titles that make each another."""
    titles = [random.Random(seed).choices("abcdefgh ijklm", k=12) for seed in range(6)]
    plans = [{**example(DIST), "title": "".join(title)} for title in titles]
    texts = ran(DIST, *[("packed", {"plan": plan}) for plan in plans])
    said = ran(DIST, *[("saidFor", [text, ADDRESS]) for text in texts])
    codes = ran(DIST, *[("codeOf", text) for text in said])
    return [(text, picture_of(code)) for text, code in zip(said, codes, strict=True)]


def _missed(how: str, wanted: list[str], ours: list[dict[str, Read]], theirs: list[Read]) -> Figure:
    read = {
        "photo": [one["photo"].says == text for one, text in zip(ours, wanted, strict=True)],
        "frame": [one["frame"].says == text for one, text in zip(ours, wanted, strict=True)],
        "zxing": [one.says == text for one, text in zip(theirs, wanted, strict=True)],
    }
    lost = sum(zxing and not photo for photo, zxing in zip(read["photo"], read["zxing"], strict=True))
    most = sum(read["zxing"])
    told = (
        f"of {len(wanted)} read: by the page {sum(read['photo'])}, as one frame of a camera {sum(read['frame'])}, "
        f"by zxing-cpp {most}"
    )
    return Figure(f"Codes {how}: read by zxing-cpp, not by the page", 100 * lost / max(1, most), MOST_MISSED, "%", told)


def _time(taken: list[tuple[Read, Read]]) -> Figure:
    """Of pictures that both read."""
    both = [(one.ms, other.ms) for one, other in taken if one.says and other.says]
    page, zxing = (median(each) for each in zip(*both, strict=True))
    longest = max(one.ms for one, _ in taken)
    told = (
        f"{page:.1f} ms to {zxing:.1f} ms at the median; a picture in which nothing is found at most {longest:.0f} ms"
    )
    return Figure("A picture with a code: the page's reader to zxing-cpp", page / zxing, MOST_TIMES, "times", told)


def _sizes() -> Iterator[Figure]:
    (path,) = DIST.glob("app-*/vendor/qr/decode.js")
    for name, ending in (("gzip", "gz"), ("brotli", "br")):
        size = path.with_name(f"{path.name}.{ending}").stat().st_size / 1e3
        told = (
            f"zxing-cpp as WebAssembly {WASM_KB} KB gzip, {WASM_KB / size:.0f} times as much" if ending == "gz" else ""
        )
        yield Figure("The page's reader of codes over the wire", size, MOST_KB, f"KB {name}", told)
