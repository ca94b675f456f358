"""Reading the fields of a request, each refusal naming the field it came from."""

from .errors import Refusal
from .units import parse_angle, parse_count, parse_length, parse_length_or_zero, shown


class Fields:
    """An object of a request with its place, so that a refusal can say "cloth.width" and not just "width".

    >>> fields = Fields({"cloth": {"width": "42 in"}})
    >>> fields.object("cloth").length("width")
    Fraction(42, 1)
    >>> fields.object("piece")
    Traceback (most recent call last):
    matside.errors.Refusal: piece: object_missing {}
    """

    def __init__(self, given, place: str = ""):
        if not isinstance(given, dict):
            raise Refusal(place, "object_missing" if given is None else "object_wanted", **_given(given))
        self.given = given
        self.place = place

    def at(self, name: str) -> str:
        """The full name of a field of this object."""
        return f"{self.place}.{name}" if self.place else name

    def has(self, name: str) -> bool:
        """Whether the field is there at all (null counts as not there)."""
        return self.given.get(name) is not None

    def raw(self, name: str, default=None):
        """The field as it stands, or `default` when it is not there."""
        return self.given[name] if self.has(name) else default

    def object(self, name: str) -> "Fields":
        """The object under `name`."""
        return Fields(self.given.get(name), self.at(name))

    def objects(self, name: str, most: int, least: int = 0) -> list["Fields"]:
        """The list of objects under `name`, of `least` to `most` items."""
        items = self.list(name, most, least)
        return [Fields(item, f"{self.at(name)}[{i}]") for i, item in enumerate(items)]

    def list(self, name: str, most: int, least: int = 0) -> list:
        """The list under `name`, of `least` to `most` items."""
        items = self.given.get(name)
        if not isinstance(items, list):
            raise Refusal(self.at(name), "list_wanted", **_given(items))
        if not least <= len(items) <= most:
            raise Refusal(self.at(name), "list_length", given=len(items), least=least, most=most)
        return items

    def length(self, name: str, default=None):
        """A length above 0, in inches, exact; `default` when the field is not there."""
        return default if self._use(default, name) else parse_length(self.given.get(name), self.at(name))

    def length_or_zero(self, name: str, default=None):
        """A length of 0 or above, in inches, exact."""
        if self._use(default, name):
            return default
        return parse_length_or_zero(self.given.get(name), self.at(name))

    def angle(self, name: str, default=None, least: int = 15, most: int = 90):
        """An angle in degrees, exact."""
        if self._use(default, name):
            return default
        return parse_angle(self.given.get(name), self.at(name), least, most)

    def count(self, name: str, least: int, most: int, default=None):
        """A whole number from `least` to `most`."""
        if self._use(default, name):
            return default
        return parse_count(self.given.get(name), self.at(name), least, most)

    def counts(self, name: str, least: int, most: int) -> dict[str, int]:
        """The object under `name`, all of whose fields are whole numbers from `least` to
        `most`; empty when it is not there.
        """
        counts = self.object(name) if self.has(name) else Fields({})
        return {key: counts.count(key, least, most) for key in counts.given}

    def choice(self, name: str, choices, default=None) -> str:
        """One of `choices`."""
        value = self.raw(name, default)
        if not isinstance(value, str) or value not in choices:
            raise Refusal(self.at(name), "choice", given=shown(value), choices=", ".join(sorted(choices)))
        return value

    def flag(self, name: str, default: bool = False) -> bool:
        """True or false."""
        value = self.raw(name, default)
        if not isinstance(value, bool):
            raise Refusal(self.at(name), "flag", given=shown(value))
        return value

    def text(self, name: str, default: str | None = None, most: int = 200) -> str:
        """A text of 1 to `most` characters."""
        value = self.raw(name, default)
        if not isinstance(value, str) or not 0 < len(value) <= most:
            raise Refusal(self.at(name), "text", given=shown(value), most=most)
        return value

    def _use(self, default, name: str) -> bool:
        return default is not None and not self.has(name)


def _given(value) -> dict:
    return {} if value is None else {"given": shown(value)}
