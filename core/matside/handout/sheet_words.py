"""What the things on a cutting sheet are called, and how its codes are said, by the catalogue."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..guide.finishing import JOINED
from ..words.saying import say


@dataclass
class SheetWords:
    """One sheet in one language and one kind of units; `names` are those of kinds and cloths, by id."""

    sheet: dict
    language: str
    units: str
    names: Mapping[str, str]
    pieces: dict[str, dict] = field(init=False)

    def __post_init__(self):
        self.pieces = {piece["id"]: piece for piece in self.sheet["pieces"]}

    def cloth_said(self, cloth: dict, how: str = "sheet.cloth") -> str:
        """A cloth with its sides, by a sentence for one, or several alike."""
        fabric = self.say("join.fabric", {"fabric": cloth["fabric"]}) if cloth["fabric"] else ""
        sides = {"n": cloth["times"], "length": cloth["length"], "width": cloth["width"]}
        return self.say(how, {**sides, "name": self.names.get(cloth["id"], cloth["id"]), "of_fabric": fabric})

    def short(self, row: dict) -> str:
        """The short sentence of a row."""
        return self.say(row["short"], self.values_of(row))

    def values_of(self, row: dict) -> dict:
        """What stands in the sentences of a row."""
        return {**self.called(row["piece"]), **row["values"]}

    def called(self, kind: str | None) -> dict:
        """The name of a kind of piece, and its fabric."""
        if kind is None:
            return {}
        piece = self.pieces.get(kind) or self.pieces[kind.removesuffix(JOINED)]
        fabric = self.say("join.fabric", {"fabric": piece["fabric"]}) if piece["fabric"] else ""
        return {"name": self.named(kind), "of_fabric": fabric}

    def named(self, kind: str) -> str:
        """What a kind of piece is called: by its name, by its shape where it is the only one, or by its id."""
        own = kind.removesuffix(JOINED)
        if own == "piece" and own not in self.names:
            return self.say(f"mat.shape.{self.pieces[own]['shape'].replace('-', '_')}")
        return self.names.get(own, own)

    def caution(self, code: str) -> str:
        """A caution of the guide."""
        return self.say(f"guide.caution.{code}")

    def say(self, path: str, values: dict | None = None) -> str:
        """The sentence under a path of the catalogue."""
        return say(path, values or {}, self.language, self.units)

    def sentences(self, said: Iterable[str]) -> str:
        """Sentences one after another, without the empty ones."""
        return self.say("join.sentences").join(filter(None, said))
