"""Which ways to place the fabrics mean something in a setting, and the one that it starts with.

Which pieces are a setting's background, and light, medium and dark, are common practice, no published source."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OfferedWay:
    """A way to place the fabrics, the code of its name where a setting calls it otherwise, and what its first
    fabrics are for."""

    way: str
    name: str = ""
    roles: tuple[str, ...] = ()

    def told(self) -> dict:
        """As plain data."""
        return {"way": self.way, "name": self.name or self.way, "roles": self.roles}


@dataclass(frozen=True, slots=True)
class Offered:
    """What a setting offers: its ways, the one it starts with first, and the parts that are of a background then."""

    ways: tuple[OfferedWay, ...]
    background: tuple[str, ...] = ()

    def told(self) -> dict:
        """The ways, and `start`: the way to start with, and whether `rest` and `joining` are of a fabric apart."""
        apart = {part: part in self.background for part in ("rest", "joining")}
        return {"colorings": [way.told() for way in self.ways], "start": {"way": self.ways[0].way, **apart}}


_SINGLE, _ROWS, _COLUMNS, _STRIPES, _RANDOM = (
    OfferedWay(name) for name in ("single", "rows", "columns", "stripes", "random")
)
#: By setting. Columns come first where rows lean by turns: a column of one fabric is the band that zigzags.
OFFERED = {
    "grid": Offered((OfferedWay("rings"), _ROWS, _COLUMNS, _STRIPES, _RANDOM, _SINGLE)),
    "zigzag": Offered((_COLUMNS, _ROWS, _STRIPES, OfferedWay("directions"), _RANDOM, _SINGLE), ("rest",)),
    "hexagons": Offered(
        (
            OfferedWay("directions", "light_medium_dark", ("light", "medium", "dark")),
            OfferedWay("units", "units_hexagons"),
            _RANDOM,
            _SINGLE,
        )
    ),
    "stars": Offered(
        (OfferedWay("units", "units_stars"), OfferedWay("directions"), _RANDOM, _SINGLE),
        ("rest", "joining"),
    ),
    "eight_pointed": Offered(
        (OfferedWay("units", "units_blocks"), OfferedWay("directions"), _RANDOM, _SINGLE), ("rest",)
    ),
}
