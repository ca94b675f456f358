"""Which rows of a cutting sheet have a picture: the first that lays cloth or ruler in a way, no other of that way."""

from .condensing import SERIAL, Row

#: Steps whose picture shows how a ruler is laid, and those that show how cloth lies.
_RULER = frozenset(
    {"selvage", "square", "divide", "strip", "end", "starter", "piece", "recheck", "halve", "join", "finish"}
)
_CLOTH = frozenset({"place", "fold", "check_edge", "take_part"})
#: Values that do not change how a ruler is laid: how many there are, and how far the cloth goes on.
_BESIDE = SERIAL | {"of", "n", "run", "long"}


class Pictures:
    """The scenes of a script that are shown, in the order of their rows, each once."""

    def __init__(self, scenes: list[dict]):
        self.scenes = scenes
        self.shown: list[dict] = []
        self._numbers: dict[int, int] = {}
        self._pictures: dict[str, int] = {}

    def of(self, row: Row) -> dict:
        """The number of a row's `picture`, and where it is the first with it, the `scene` in `shown` and what of it."""
        key = self._key(row)
        if key is None:
            return {"picture": None, "scene": None}
        if key in self._pictures:
            return {"picture": self._pictures[key], "scene": None}
        self._pictures[key] = len(self._pictures) + 1
        step = row.step
        drawn = {name: step[name] for name in ("over", "at", "next")}
        return {"picture": self._pictures[key], "scene": self._number(step["scene"]), **drawn}

    def _key(self, row: Row) -> str | None:
        step = row.step
        if step["scene"] is None or step["do"] not in _RULER | _CLOTH:
            return None
        if step["do"] in _CLOTH:
            return repr((step["scene"], step["over"]))
        values = {name: value for name, value in sorted(step["values"].items()) if name not in _BESIDE}
        return repr((step["do"], step["say"], row.piece, values))

    def _number(self, scene: int) -> int:
        if scene not in self._numbers:
            self._numbers[scene] = len(self.shown)
            self.shown.append(self.scenes[scene])
        return self._numbers[scene]
