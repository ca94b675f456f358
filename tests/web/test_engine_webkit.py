"""The journeys in WebKit, screens of every width, and locales."""

from collections.abc import Iterator

import pytest

from engines.journeys import Journeys, running
from engines.locales import Locales, by_language
from engines.probing import Probed
from engines.webkit import WebKit
from engines.widths import Widths
from steps.testing import ENGINES, skipped


@pytest.fixture(scope="module")
def started(outside, tmp_path_factory) -> Iterator[WebKit]:
    """WebKit, once for all journeys."""
    yield from running(WebKit(tmp_path_factory.mktemp("webkit"), outside))


@pytest.mark.skipif(skipped("WebKit"), reason=ENGINES["WebKit"].reason)
class TestWebKit(Journeys):
    """The journeys, in WebKit."""

    # What the page does over plain HTTP and after a kill it does by itself: Firefox and Chromium try it in every run.
    long = (
        *Journeys.long,
        "test_plain_http_from_another_machine_does_without_and_says_so",
        "test_a_browser_that_ended_at_once_comes_back_to_the_same_cut",
    )


@pytest.mark.skipif(skipped("WebKit"), reason=ENGINES["WebKit"].reason)
class TestWidthsInWebKit(Widths):
    """The widths, in WebKit, which is never narrower than 447 px."""


@pytest.mark.skipif(skipped("WebKit"), reason=ENGINES["WebKit"].reason)
class TestProbedWebKit(Probed):
    """What README says of WebKit."""


@pytest.mark.skipif(skipped("WebKit"), reason=ENGINES["WebKit"].reason)
@by_language(
    (),
    (
        "LANG=C.UTF-8",
        "",
        "LANG=C",
        "LANG=C LANGUAGE=de:en",
        "LANG=C.UTF-8 LANGUAGE=de:en",
        "LANGUAGE=ar",
        "LC_ALL=POSIX",
        "en-US",
        "de-DE",
        "ar-EG",
    ),
)
class TestLocalesInWebKit(Locales):
    """Locales, in WebKit."""

    called = {"LANG=C.UTF-8": "C", "LANG=C.UTF-8 LANGUAGE=de:en": "C"}
