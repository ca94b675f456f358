"""In place of the colours of a terminal, which a page has none of: what `traceback` asks for, all of it without colour.

To make the real one takes a sixth of all that Python imports before the page's first answer.
"""


class _Plain:
    """A theme, and each section of one: no name of it adds anything to a text."""

    def __init__(self, of) -> None:
        self._of = of

    def __getattr__(self, name: str):
        return self._of


_THEME = _Plain(_Plain(""))


def can_colorize(*, file=None) -> bool:
    """Never."""
    return False


def get_theme(*, tty_file=None, force_color: bool = False, force_no_color: bool = False):
    """The theme without colours."""
    return _THEME
