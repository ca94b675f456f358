"""Values that no well-meaning request holds, and others at the very edge of what is taken."""

from decimal import Decimal
from fractions import Fraction
from random import Random

TINY = (5e-324, 1e-300, 1e-100, 1e-20, 1e-12, 1e-9, 1e-8, 1e-6, 9.99e-4, 0.001, 0.0011)
HUGE = (1e308, 1.7976931348623157e308, 1e300, 1e16, 1e9, 40_000.000001, 40_000, 39_999.999)
NUMBERS = (
    *TINY, *HUGE, *(-number for number in (*TINY, *HUGE)), 0, -0.0, 1, -1, 0.1, 0.25, 0.249999999, 1 / 3, 15, 14.999999999,
    90, 90.0000001, 89.99999999999999, 180, 179.99999999999997, 2**31, 2**53, 2**63, 2**64, 10**30, 10**400, -(10**4200), 10**5000,
)  # fmt: skip
EDGES = (
    0.001,
    0.0011,
    0.125,
    0.25,
    0.2500001,
    0.5,
    1,
    2,
    12,
    1000,
    10_000,
    39_999.999,
    40_000,
    100_000,
    15,
    15.0001,
    89.9999,
    90,
    0,
)
NO_JSON = (
    float("nan"),
    float("inf"),
    float("-inf"),
    Decimal(4),
    Fraction(1, 3),
    b"4",
    frozenset({4}),
    4j,
    (4, 5),
    object,
    {4: 4},
)
TEXTS = (
    "", " ", "0", "-0", "4", "+4", "-4", "4,5", "4..5", "1/0", "0/1", "1/3", "4 1/2", "4-1/2 in", "4½", "½½", "4 ½ 1/2", "٤", "４", "²",
    "1e3", "0x10", "nan", "inf", "1_000", "9" * 70, "0." + "0" * 50 + "1", "1/" + "9" * 55, "40000 in", "40000.0001", "0.001", "0.0009 in",
    "1111.1111 yd", "1016 m", "0.0254 mm", "0.025 mm", "5 ells", "5 in in", "5″", "5’", "5 '", "60°", "22.5 deg", "60 degrees", "1" * 400,
    "\x00", "\ud800", "\u202e4", "😀", "{given}", "{0}", "%s", "<img src=x onerror=alert(1)>", "__proto__", "constructor", "null", "true",
    "x" * 61, "x" * 201, "x" * 5000, "İ", "ß", "ﬁ", "\u00a04\u00a0in", "4\u2009in", "4\n1/2", "−4", "4⁄5", "6\x1e", "\x1f6", "6\x85", "\x0b4 in",
)  # fmt: skip
UNITS = ("", "in", '"', "″", "ft", "yd", "mm", "cm", "m", "inches", "ell", "IN", "Yd.", "km", "in.", "°", "ı", "µm")


def number(by: Random) -> object:
    """A number, often at an edge."""
    way = by.randrange(6)
    if way < 3:
        return by.choice(NUMBERS)
    if way == 3:
        return by.choice((1, -1)) * 10 ** by.uniform(-12, 8)
    return by.randint(-5, 120) if way == 4 else round(by.uniform(0, 120), by.randrange(5))


def sensible(by: Random) -> object:
    """A number as people give one, or a text of it."""
    given = by.choice(
        (
            by.randint(1, 60),
            by.randint(1, 480) / 8,
            round(by.uniform(0.25, 100), 2),
            by.choice((15, 22.5, 30, 45, 60, 72, 90)),
        )
    )
    return f"{given} {by.choice(UNITS)}" if by.random() < 0.3 else given


def at_an_edge(by: Random) -> object:
    """A number that some field takes, but just so."""
    return by.choice(EDGES)


def text(by: Random) -> str:
    """A text: one of the list, a number with some unit, or signs by chance."""
    way = by.randrange(4)
    if way == 0:
        return by.choice(TEXTS)
    if way == 1:
        given = number(by)
        written = "9" * 4400 if isinstance(given, int) and abs(given) >= 10**1000 else str(given)
        return f"{written[: by.choice((20, 60, 5000))]}{by.choice(('', ' ', '  '))}{by.choice(UNITS)}"
    if way == 2:
        return "".join(by.choice("0123456789 /.,-+½¼⅛\"incmyd°e'&") for _ in range(by.randrange(14)))
    return "".join(
        chr(by.choice((by.randrange(32, 127), by.randrange(0x2FF), by.randrange(0xD800), 0xFFFF)))
        for _ in range(by.randrange(12))
    )


def value(by: Random, depth: int = 0) -> object:
    """Anything at all."""
    way = by.randrange(20)
    if way < 8:
        return number(by)
    if way < 13:
        return text(by)
    if way < 15:
        return by.choice((None, True, False, [], {}, [[]], [None], {"": None}))
    if way == 15:
        return by.choice(NO_JSON)
    if depth > 3 or way < 18:
        return sensible(by)
    return (
        [value(by, depth + 1) for _ in range(by.randrange(4))]
        if way == 18
        else {text(by): value(by, depth + 1) for _ in range(by.randrange(4))}
    )


def nested(by: Random) -> object:
    """Something very deep, up to far past what a reader by recursion survives."""
    found: object = value(by)
    for _ in range(by.choice((3, 17, 20, 30, 3000))):
        found = [found] if by.random() < 0.5 else {"a": found}
    return found
