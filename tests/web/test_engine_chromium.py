"""The journeys in Chromium, and screens of every width."""

from collections.abc import Iterator

import pytest
from engines.chromium import Chromium
from engines.journeys import Journeys, running
from engines.widths import Widths


@pytest.fixture(scope="module")
def started(playwright, outside, tmp_path_factory) -> Iterator[Chromium]:
    """Chromium, once for all journeys."""
    yield from running(Chromium(playwright, tmp_path_factory.mktemp("chromium"), outside))


class TestChromium(Journeys):
    """The journeys, in Chromium."""


class TestWidthsInChromium(Widths):
    """The widths, in Chromium."""
