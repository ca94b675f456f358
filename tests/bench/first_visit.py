"""What crosses the network on a first visit, until the page is ready offline, by the compression that the browser takes."""

from collections.abc import Iterator

from host import Host
from phone import until
from steps.places import DIST

from .figures import Figure
from .phones import Contexts

MOST = {"gzip": 3.4, "br": 2.6}  # million bytes
MOST_OF_A_LANGUAGE = 30  # thousand bytes


def measure(contexts: Contexts) -> Iterator[Figure]:
    """Contents and headers of all answers, in millions of bytes."""
    for encoding in MOST:
        yield _visit(contexts, encoding)
    yield _second_language()


def _visit(contexts: Contexts, encoding: str) -> Figure:
    host = Host(DIST, encodings=(encoding,))
    context = contexts()
    page = context.new_page()
    page.goto(host.url)
    until(
        page,
        """import(document.querySelector('script[type=module]').src.replace('main.js', 'offline.js'))
      .then(({ offline }) => offline.state === 'ready')""",
    )
    context.close()
    host.stop()
    twice = len(host.asked) - len(set(host.asked))
    told = f"{len(host.asked)} requests, {twice} for something asked for before"
    return Figure("A first visit, everything", host.sent / 1e6, MOST[encoding], f"MB {encoding}", told)


def _second_language() -> Figure:
    """What a visitor's own language adds to that, as it is served: its words and its glossary."""
    kept: dict[str, float] = {}
    for path in DIST.glob("app-*/*/*.json.br"):
        language = path.name.split(".")[0]
        if path.parent.name in ("words", "glossary") and language not in ("en", "pictures"):
            kept[language] = kept.get(language, 0) + path.stat().st_size / 1e3
    told = ", ".join(f"{language} {size:.1f}" for language, size in sorted(kept.items()))
    return Figure("A second language on a first visit", max(kept.values()), MOST_OF_A_LANGUAGE, "KB brotli", told)
