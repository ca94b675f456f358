"""The ask `glossary`: a picture for each of the trade's words; their meanings are in the catalogue of wording."""

from ..glossary import pictures


def answer(request: dict) -> dict:
    """The `pictures` by the word's code, each with its `view` and `shapes`.

    >>> sorted(answer({})["pictures"]["diamond"])
    ['shapes', 'view']
    """
    return {"pictures": pictures()}
