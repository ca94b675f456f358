"""The journeys in WebKit, and screens of every width."""

from collections.abc import Iterator

import pytest
from engines.journeys import Journeys, running
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


@pytest.mark.skipif(skipped("WebKit"), reason=ENGINES["WebKit"].reason)
@pytest.mark.long
class TestWidthsInWebKit(Widths):
    """The widths, in WebKit, which is never narrower than 447 px."""
