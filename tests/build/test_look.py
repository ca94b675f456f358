"""The look in one short file: colors, sizes of type, spacing and durations stand in tokens.css, and all else names them."""

import re

import pytest

from steps.places import WEB

LOOK = WEB / "look"
TOKENS = (LOOK / "tokens.css").read_text("utf-8")
SHEETS = sorted(path.name for path in LOOK.glob("*.css") if path.name != "tokens.css") + ["../patterns/patterns.css"]
#: px that a line, a dash or the ground beside one may have: they are no spacing.
HAIRLINES = {"0", "1", "2", "3"}
#: By sheet and declaration, with the reason.
EXCEPTIONS = {
    ("sizes.css", "margin-block-end: 26px"): "room for the handle of a picture that is drawn in px",
    ("paper.css", "margin: 12mm"): "the edge of a printed page, where browsers take no token",
}

COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
DECLARATION = re.compile(r"([\w-]+):\s*([^;{}]+);")
COLOR = re.compile(r"#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\(", re.IGNORECASE)
NAMED = re.compile(r"\b(?:white|black|gray|grey|red|green|blue|yellow|orange|purple|brown)\b")
LENGTH = re.compile(r"(?<![\w.-])(\d*\.?\d+)(px|rem|pt|cm|mm)\b")
DURATION = re.compile(r"(?<![\w.-])\d*\.?\d+m?s\b")
SPACED = re.compile(r"^(?:padding|margin|gap|row-gap|column-gap|border-radius)(?:-|$)")


def declared(name: str) -> list[tuple[str, str]]:
    """The declarations of a style sheet; what a selector is never ends in a semicolon."""
    return DECLARATION.findall(COMMENT.sub("", (LOOK / name).read_text("utf-8")))


def strays(name: str, wrong) -> list[str]:
    """What is wrong in a style sheet, but for the exceptions."""
    found = [f"{key}: {value}" for key, value in declared(name) if wrong(key, value)]
    return [one for one in found if (name, one) not in EXCEPTIONS]


def lengths(value: str) -> set[str]:
    """The lengths in px, rem and so on that are more than a hairline."""
    return {number + unit for number, unit in LENGTH.findall(value) if unit != "px" or number not in HAIRLINES}


@pytest.mark.parametrize("name", SHEETS)
def test_a_color_is_a_token(name: str):
    assert strays(name, lambda _, value: COLOR.search(value) or NAMED.search(value)) == []


@pytest.mark.parametrize("name", SHEETS)
def test_a_size_of_type_is_a_token_or_a_part_of_one(name: str):
    """By em and percent it goes with the type around it."""
    assert strays(name, lambda key, value: key in ("font-size", "font") and (lengths(value) or "vw" in value)) == []


@pytest.mark.parametrize("name", SHEETS)
def test_spacing_and_corners_are_tokens(name: str):
    assert strays(name, lambda key, value: SPACED.match(key) and lengths(value)) == []


@pytest.mark.parametrize("name", SHEETS)
def test_a_duration_is_a_token(name: str):
    assert strays(name, lambda _, value: DURATION.search(value)) == []


def test_every_token_is_used_and_every_name_is_a_token_or_set_where_it_is_used():
    others = "".join(
        COMMENT.sub("", path.read_text("utf-8")) for path in [*LOOK.glob("*.css"), *WEB.glob("[clspo]*/**/*.js")]
    )
    tokens = set(re.findall(r"^\s+(--[\w-]+):", TOKENS, re.MULTILINE))
    assert {token for token in tokens if f"var({token}" not in others} == set()
    used = set(re.findall(r"var\((--[\w-]+)", others))
    assert {name for name in used - tokens if f"{name}:" not in others and f'"{name}"' not in others} == set()


def test_the_browser_s_own_bars_have_the_color_of_paper():
    paper = re.search(r"--paper: light-dark\((#\w+), (#\w+)\)", TOKENS).groups()
    page = (WEB / "index.html").read_text("utf-8")
    assert tuple(re.findall(r'name="theme-color" content="(#\w+)"', page)) == paper


def test_icons_are_drawn_in_one_module():
    paths = re.compile(r"\"[Mm]-?[\d.]+[ ,-][^\"]*[A-Za-z][^\"]*\"")
    modules = [path for folder in ("components", "screens", "lib") for path in (WEB / folder).rglob("*.js")]
    drawn = {path.relative_to(WEB).as_posix() for path in modules if paths.search(path.read_text("utf-8"))}
    # The ends of lines belong to the drawing of lines.
    assert drawn == {"lib/page/icons.js", "lib/page/drawing.js"}
