"""How far one cut can go: whether a cloth must be folded before strips are cut off it."""

from collections.abc import Sequence
from fractions import Fraction

#: More folds than this and the layers shift: the ruler is slid instead. Common practice, no published source.
MOST_FOLDS = 2
#: A ruler must pass the cloth by this much in all, half at either end.
_OVER = 1


def folds_needed(run: Fraction, mat: Fraction, ruler_lengths: Sequence[Fraction]) -> int:
    """How often to fold a cloth, end to end, so that mat and longest ruler reach across it; never over `MOST_FOLDS`.

    >>> mat, ruler = Fraction(24), Fraction(24)
    >>> folds_needed(Fraction(42), mat, [ruler]), folds_needed(Fraction(18), mat, [ruler])
    (1, 0)
    >>> folds_needed(Fraction(42), Fraction(24), [])
    1
    """
    reach = min([mat, *([max(ruler_lengths) - _OVER] if ruler_lengths else [])])
    folds = 0
    while folds < MOST_FOLDS and run / 2**folds > reach:
        folds += 1
    return folds
