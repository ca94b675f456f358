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

    # The first two are gone through on the built page by test_cutting.py, the last by test_torture.py.
    long = (
        *Journeys.long,
        "test_a_strip_is_cut_to_its_end_with_the_network_gone",
        "test_plain_http_from_another_machine_does_without_and_says_so",
        "test_a_browser_that_ended_at_once_comes_back_to_the_same_cut",
    )


class TestWidthsInChromium(Widths):
    """The widths, in Chromium."""


class TestProbedChromium(Probed):
    """What README says of Chromium."""


@by_language((), ("en-US", "de-DE", "ar"))
class TestLocalesInChromium(Locales):
    """Locales, in Chromium; what no browser would be started in is tried in tests/web/test_start_mended.py."""

    called = {"en-US": "en-US", "de-DE": "de-DE", "ar": "ar"}
