"""Readers of codes for measuring: the page's own under Node, beside zxing-cpp."""

import json
import subprocess
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np
import zxingcpp

from steps.places import DIST, tool

PROGRAM = Path(__file__).parents[1] / "web/reading.mjs"


@dataclass(frozen=True, slots=True)
class Read:
    """What a code says, None where it was not read, and the milliseconds that it took."""

    says: str | None
    ms: float


def by_page(pictures: Sequence[np.ndarray], *ways: str) -> list[dict[str, Read]]:
    """What the page's own reader makes of gray pictures, by the way: as a "photo" or as a camera's "frame"."""
    (app,) = DIST.glob("app-*")
    head = json.dumps([(picture.shape[1], picture.shape[0]) for picture in pictures]).encode()
    given = b"\n".join([head, b"".join(np.ascontiguousarray(picture).tobytes() for picture in pictures)])
    command = [tool("node"), "--no-warnings", PROGRAM, app.as_uri(), *ways]
    done = subprocess.run(command, input=given, capture_output=True, check=True)
    return [{way: Read(**read) for way, read in found.items()} for found in json.loads(done.stdout)]


def by_zxing(pictures: Iterable[np.ndarray]) -> list[Read]:
    """What zxing-cpp makes of them, with all that it tries by default."""
    return [_by_zxing(picture) for picture in pictures]


def _by_zxing(picture: np.ndarray) -> Read:
    begun = perf_counter()
    found = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    took = (perf_counter() - begun) * 1000
    return Read(found[0].text if found else None, took)
