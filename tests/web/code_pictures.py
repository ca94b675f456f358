"""Codes as a camera sees them: drawn from the page's own path, or cut from a screenshot, then tilted, dimmed, blurred and lit
from one side."""

import math
import re

import numpy as np
from PIL import Image, ImageFilter

STRETCH = re.compile(r"M(\d+) (\d+)h(\d+)v1h-\d+z")


def picture_of(code: dict, scale: int = 6) -> np.ndarray:
    """A code as `codeOf` of the page gives it, {side, path}, in gray, so many pixels to the module."""
    shape = np.full((code["side"], code["side"]), 255, np.uint8)
    for x, y, wide in (map(int, one) for one in STRETCH.findall(code["path"])):
        shape[y, x : x + wide] = 0
    return shape.repeat(scale, 0).repeat(scale, 1)


def tilted(picture: np.ndarray, degrees: float, turned: float = 0, ground: int = 90) -> np.ndarray:
    """The picture as seen from a hand's height, its top leaning back by an angle and turned in its plane.

    A pinhole camera 2.2 times the picture's side away: what a phone sees of a phone at 15 to 20 cm.
    """
    side = max(picture.shape)
    room = int(side * 1.5)
    lean, turn = math.radians(degrees), math.radians(turned)
    corners = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
    seen = []
    for x, y in corners:
        x, y = x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)
        depth = 2.2 - y * math.sin(lean)
        seen.append((room / 2 + x * 2.2 / depth * side, room / 2 + y * math.cos(lean) * 2.2 / depth * side))
    height, width = picture.shape
    source = [(0, 0), (width, 0), (width, height), (0, height)]
    image = Image.fromarray(picture)
    made = image.transform(
        (room, room),
        Image.Transform.PERSPECTIVE,
        _coefficients(seen, source),
        Image.Resampling.BICUBIC,
        fillcolor=ground,
    )
    return np.asarray(made)


def _coefficients(here: list, there: list) -> list[float]:
    rows = []
    for (x, y), (u, v) in zip(here, there):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    return np.linalg.solve(np.array(rows, float), np.array(there, float).ravel()).tolist()


def blurred(picture: np.ndarray, radius: float) -> np.ndarray:
    """Out of focus by a Gaussian of so many pixels."""
    return np.asarray(Image.fromarray(picture).filter(ImageFilter.GaussianBlur(radius)))


def dimmed(picture: np.ndarray, contrast: float, noise: float = 0, seed: int = 1) -> np.ndarray:
    """Light and dark so far apart of what they were, on a dark ground, with a sensor's noise."""
    dark = picture.astype(float) * contrast + 20
    return np.clip(dark + np.random.default_rng(seed).normal(0, noise, picture.shape), 0, 255).astype(np.uint8)


def lit_from_one_side(picture: np.ndarray, darkest: float) -> np.ndarray:
    """A lamp at one side: the other side has so little of its light."""
    falls = np.linspace(1, darkest, picture.shape[1])[None, :]
    return (picture * falls).astype(np.uint8)


def moire(picture: np.ndarray, depth: float, period: float = 3.3) -> np.ndarray:
    """The grid of one screen under the grid of another camera."""
    y, x = np.mgrid[: picture.shape[0], : picture.shape[1]]
    wave = 1 - depth / 2 * (
        1 + np.sin(2 * np.pi * (x + 0.35 * y) / period) * np.sin(2 * np.pi * (y - 0.2 * x) / (period * 1.13))
    )
    return (picture * wave).astype(np.uint8)
