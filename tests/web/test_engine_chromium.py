"""The journeys in Chromium, screens of every width, and locales."""

from collections.abc import Iterator

import pytest

from engines.chromium import Chromium
from engines.journeys import Journeys, running
from engines.locales import Locales, by_language
from engines.probing import Probed
from engines.widths import Widths


@pytest.fixture(scope="module")
def started(playwright, outside, tmp_path_factory) -> Iterator[Chromium]:
    """Chromium, once for all journeys."""
    yield from running(Chromium(playwright, tmp_path_factory.mktemp("chromium"), outside))


class TestChromium(Journeys):
    """The journeys, in Chromium."""


class TestWidthsInChromium(Widths):
    """The widths, in Chromium."""


class TestProbedChromium(Probed):
    """What README says of Chromium."""


@by_language((), ("en-US", "de-DE", "ar"))
class TestLocalesInChromium(Locales):
    """Locales, in Chromium; what no browser would be started in is tried in tests/web/test_start_mended.py."""

    called = {"en-US": "en-US", "de-DE": "de-DE", "ar": "ar"}
