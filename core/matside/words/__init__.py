"""The catalogue of wording: `catalogue` reads it, `saying` makes sentences of it, `plurals` knows counts and numbers.

Python needs the refusals only (the "error" part of each subject); the page takes the whole folder of a language. Only a
refusal needs the modules beside this one, so they are loaded by the first.
"""


def refusals(language: str = "en") -> dict[str, str]:
    """The sentences for refusals in a language, by code."""
    from .catalogue import subjects

    return subjects(language)["error"]


def refusal_sentence(code: str, values: dict, language: str = "en") -> str:
    """The sentence for a refusal's code and values: what is wrong and what to do.

    >>> refusal_sentence("count_missing", {"least": 1, "most": 12})
    'Write a whole number from 1 to 12.'
    >>> refusal_sentence("backing_narrow", {"given": 3.5})
    'Backing fabric 3½ in wide is too narrow to be joined. Give its usable width.'
    """
    from .saying import refused

    return refused(refusals(language)[code], values, language)
