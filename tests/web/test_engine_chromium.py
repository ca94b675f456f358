"""The journeys in Chromium."""

from collections.abc import Iterator

import pytest
from engines.chromium import Chromium
from engines.journeys import Journeys, running


@pytest.fixture(scope="module")
def started(playwright, outside, tmp_path_factory) -> Iterator[Chromium]:
    """Chromium, once for all journeys."""
    yield from running(Chromium(playwright, tmp_path_factory.mktemp("chromium"), outside))


class TestChromium(Journeys):
    """The journeys, in Chromium."""
