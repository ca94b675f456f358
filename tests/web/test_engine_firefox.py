"""The journeys in Firefox, screens of every width, and locales."""

from collections.abc import Iterator

import pytest
from engines.firefox import Firefox
from engines.journeys import Journeys, running
from engines.locales import Locales, by_language
from engines.probing import Probed
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


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
class TestProbedFirefox(Probed):
    """What README says of Firefox."""


@pytest.mark.skipif(skipped("Firefox"), reason=ENGINES["Firefox"].reason)
@by_language(("C",), ("en-US", "de-DE", "ar", "", "en-US@posix"))
class TestLocalesInFirefox(Locales):
    """Locales, in Firefox."""

    called = {name: name for name in ("C", "en-US", "de-DE", "ar", "en-US@posix")}
