"""The journeys in Firefox, and screens of every width."""

from collections.abc import Iterator

import pytest
from engines.firefox import Firefox
from engines.journeys import Journeys, running
from engines.widths import Widths
from steps.testing import ENGINES, skipped


@pytest.fixture(scope="module")
def started(outside, tmp_path_factory) -> Iterator[Firefox]:
    """Firefox, once for all journeys."""
    yield from running(Firefox(tmp_path_factory.mktemp("firefox"), outside))


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestFirefox(Journeys):
    """The journeys, in Firefox."""


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestWidthsInFirefox(Widths):
    """The widths, in Firefox."""
