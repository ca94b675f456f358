"""The one exception that bad input ends in.

A `Refusal` carries codes and values, never sentences: the wording lives in `words/`, and whoever shows the
refusal (the door, the page) turns the code into a sentence of the reader's language.
"""


class Refusal(Exception):
    """Bad input: which `field` it came from, a `code` naming what is wrong, and the `values` a sentence needs.

    >>> refusal = Refusal("piece.size", "length_not_positive", given="-4 in")
    >>> refusal.field, refusal.code, refusal.values
    ('piece.size', 'length_not_positive', {'given': '-4 in'})
    """

    def __init__(self, field: str, code: str, **values):
        super().__init__(f"{field}: {code} {values}")
        self.field = field
        self.code = code
        self.values = values
