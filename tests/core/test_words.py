"""The wording: every refusal has its sentence, every sentence its values, and none is unused."""

import ast
import itertools
import json
import re
import string
from pathlib import Path

import pytest

import matside
from matside.words import refusal_sentence, refusals

PACKAGE = Path(matside.__file__).parent
WEB = Path(__file__).resolve().parents[2] / "web"
WORDS = PACKAGE / "words"
LANGUAGES = sorted(folder.name for folder in WORDS.iterdir() if folder.is_dir() and not folder.name.startswith("_"))
PLURALS = {"zero", "one", "two", "few", "many", "other"}
CORE = {
    path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text("utf-8")) for path in sorted(PACKAGE.rglob("*.py"))
}


# --- The catalogue ------------------------------------------------------------------------------------------------


def once(pairs: list[tuple[str, object]]) -> dict:
    """An object of which no name stands twice: JSON would silently keep the last."""
    names = [name for name, _ in pairs]
    assert len(names) == len(set(names)), f"twice in one object: {sorted(n for n in names if names.count(n) > 1)}"
    return dict(pairs)


def sentences(tree, place: str = "") -> dict[str, str]:
    """Every text of a catalogue under its dotted path."""
    if isinstance(tree, str):
        return {place: tree}
    assert isinstance(tree, dict), f"neither a text nor an object: {place}"
    found: dict[str, str] = {}
    for name, inside in tree.items():
        found.update(sentences(inside, f"{place}.{name}".lstrip(".")))
    return found


def catalogue(language: str, folder: Path = WORDS) -> dict[str, str]:
    """All sentences of a language; the same path in two subjects is a mistake."""
    found: dict[str, str] = {}
    for subject in sorted((folder / language).glob("*.json")):
        told = sentences(json.loads(subject.read_text("utf-8"), object_pairs_hook=once))
        assert not found.keys() & told.keys(), f"told twice: {sorted(found.keys() & told.keys())}"
        found.update(told)
    return found


def told_as(path: str) -> str:
    """The path without its plural form: languages differ in how many of those they have."""
    head, _, last = path.rpartition(".")
    return head if last in PLURALS else path


def places(sentence: str) -> set[str]:
    """The names of the values that a sentence needs."""
    return {re.split(r"[:.\[]", name)[0] for _, name, _, _ in string.Formatter().parse(sentence) if name is not None}


def test_there_is_a_language_and_english_is_one():
    assert "en" in LANGUAGES
    assert len(catalogue("en")) > 30


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_sentence_says_something_and_its_places_can_be_filled(language):
    for path, text in catalogue(language).items():
        assert all(re.fullmatch(r"\w+", name) for name in places(text)), path
        if path.startswith("error."):
            assert text and text == text.strip(), path
            # Python fills these too: of the page's ways of showing a value it knows lengths.
            for _, _, spec, conversion in string.Formatter().parse(text):
                assert spec in (None, "", "length") and not conversion, path


def test_a_refusal_becomes_its_sentence_with_what_was_given_left_as_it_was():
    assert "“{least} 5”" in refusal_sentence("length_words", {"given": "{least} 5"})
    assert refusals("en") == {
        path.removeprefix("error."): text for path, text in catalogue("en").items() if path.startswith("error.")
    }


#: What is British, or says one thing by the word of another, in any of its forms.
NOT_HERE = {
    "spelling": r"colour|centimetre|\bmetres?\b|\bcentre|mitred|practis|towards|licence|defence|\bgrey|\bsewn all round\b",
    "words": r"\banew\b|\b(un)?tick(ed|s)?\b(?!\}|:length\})|forth and back|\bhalf round\b|selvedge|\bwadding\b",
    "one for many": r"\ba (8|11|18)\b|\ba \{\w+:length\}",
}


@pytest.mark.parametrize("what", NOT_HERE)
def test_the_words_are_american(what):
    found = {path: text for path, text in catalogue("en").items() if re.search(NOT_HERE[what], text, re.I)}
    assert found == {}


# --- Every code that the core refuses with ------------------------------------------------------------------------


class Refusals(ast.NodeVisitor):
    """Every `Refusal(field, code, **values)` of a module: the codes it may carry and the names of its values.

    A code that is a parameter of the function around it is followed to that function's calls in the same module; a
    refusal that is passed on (`refusal.code`) was read where it was first made.
    """

    def __init__(self, tree: ast.AST):
        self.tree = tree
        self.around: list[ast.FunctionDef] = []
        self.found: list[tuple[int, set[str], set[str]]] = []
        self.visit(tree)

    def visit_FunctionDef(self, node: ast.FunctionDef):
        self.around.append(node)
        self.generic_visit(node)
        self.around.pop()

    def visit_Call(self, node: ast.Call):
        self.generic_visit(node)
        if isinstance(node.func, ast.Name) and node.func.id == "Refusal":
            self.read(node)

    def read(self, node: ast.Call) -> None:
        if len(node.args) != 2:
            raise AssertionError(f"line {node.lineno}: a Refusal takes its field and its code by position")
        if isinstance(node.args[1], ast.Attribute) and node.args[1].attr == "code":
            return
        for binding in self.bindings(node):
            self.found.append((node.lineno, self.codes(node.args[1], binding), self.values(node, binding)))

    def bindings(self, node: ast.Call) -> list[dict]:
        """How the parameters of the function around are bound: once for each call of it
        where the refusal hangs on them.
        """
        if not self.around:
            return [{}]
        function, names = self.around[-1], {name.id for name in ast.walk(node) if isinstance(name, ast.Name)}
        parameters = [
            argument.arg for argument in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
        ]
        in_code = names_chosen(node.args[1])
        rest = function.args.kwarg.arg if function.args.kwarg else None
        if not (in_code & set(parameters) or rest in names):
            return [{}]
        calls = [call for call in ast.walk(self.tree) if isinstance(call, ast.Call) and called(call) == function.name]
        return [self.bound(call, parameters, rest) for call in calls]

    def bound(self, call: ast.Call, parameters: list[str], rest: str | None) -> dict:
        skip = 1 if parameters[:1] == ["self"] else 0
        binding: dict = dict(zip(parameters[skip:], call.args))
        binding |= {word.arg: word.value for word in call.keywords if word.arg in parameters}
        if rest:
            binding[f"**{rest}"] = {word.arg for word in call.keywords if word.arg not in parameters}
        return binding

    def codes(self, node: ast.expr, binding: dict) -> set[str]:
        if isinstance(node, ast.Constant):
            return {node.value}
        if isinstance(node, ast.IfExp):
            return self.codes(node.body, binding) | self.codes(node.orelse, binding)
        if isinstance(node, ast.FormattedValue):
            return self.codes(node.value, binding)
        if isinstance(node, ast.JoinedStr):
            return {
                "".join(parts)
                for parts in itertools.product(*(sorted(self.codes(value, binding)) for value in node.values))
            }
        if isinstance(node, ast.Name) and node.id in binding:
            return self.codes(binding[node.id], {})
        if isinstance(node, ast.Name) and self.around:
            return self.assigned(node.id, binding)
        raise AssertionError(f"line {node.lineno}: this code cannot be read: {ast.unparse(node)}")

    def assigned(self, name: str, binding: dict) -> set[str]:
        found: set[str] = set()
        for node in ast.walk(self.around[-1]):
            if isinstance(node, ast.Assign) and any(
                isinstance(target, ast.Name) and target.id == name for target in node.targets
            ):
                found |= self.codes(node.value, binding)
        assert found, f"nothing is known of the code {name!r} in {self.around[-1].name}"
        return found

    def values(self, node: ast.Call, binding: dict) -> set[str]:
        found = {word.arg for word in node.keywords if word.arg}
        for word in node.keywords:
            if word.arg is None:
                found |= binding.get(f"**{ast.unparse(word.value)}", set()) or self.returned(word.value)
        return found

    def returned(self, node: ast.expr) -> set[str]:
        """The names in the objects that a function of the module returns."""
        if not isinstance(node, ast.Call):
            return set()
        functions = [
            made for made in ast.walk(self.tree) if isinstance(made, ast.FunctionDef) and made.name == called(node)
        ]
        shown = [inside for made in functions for inside in ast.walk(made) if isinstance(inside, ast.Dict)]
        return {key.value for made in shown for key in made.keys if isinstance(key, ast.Constant)}


def names_chosen(node: ast.expr) -> set[str]:
    """The names that an expression may become; what only decides between them does not count."""
    if isinstance(node, ast.IfExp):
        return names_chosen(node.body) | names_chosen(node.orelse)
    return {name.id for name in ast.walk(node) if isinstance(name, ast.Name)}


def called(call: ast.Call) -> str | None:
    """The bare name of what is called."""
    return (
        call.func.id
        if isinstance(call.func, ast.Name)
        else call.func.attr
        if isinstance(call.func, ast.Attribute)
        else None
    )


REFUSED = [
    (f"{module}:{line}", code, values)
    for module, tree in CORE.items()
    for line, codes, values in Refusals(tree).found
    for code in sorted(codes)
]


def test_the_refusals_of_the_core_are_read():
    read = {code for _, code, _ in REFUSED}
    # Plain, chosen by `if`, put together, handed down as a parameter, assigned first.
    assert {
        "length_over_zero",
        "piece_too_small",
        "length_too_large",
        "angle_not_finite",
        "count_missing",
        "angle_decimal_comma",
    } <= read


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_refusal_has_a_sentence_and_every_value_the_sentence_needs(language):
    told = refusals(language)
    silent = [f"{where} {code}" for where, code, _ in REFUSED if code not in told]
    lacking = [
        f"{where} {code} {sorted(places(told[code]) - values)}"
        for where, code, values in REFUSED
        if code in told and places(told[code]) - values
    ]
    assert (silent, lacking) == ([], [])


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_refusals_sentence_is_unused(language):
    by_the_page = set(re.findall(r'\bcode: "(\w+)"', "\n".join(page_sources().values())))
    assert refusals(language).keys() - {code for _, code, _ in REFUSED} - by_the_page == set()


# --- Every sentence of the page -----------------------------------------------------------------------------------

PATHS = {told_as(path) for path in catalogue("en") if not path.startswith("error.")}
SUBJECTS = {path.split(".")[0] for path in PATHS}


def page_sources() -> dict[str, str]:
    """The page's own source, by file; what a page names in braces is a text as well."""
    files = [
        path
        for kind in ("*.js", "*.html")
        for path in sorted(WEB.rglob(kind))
        if not {"node_modules", "build"} & set(path.relative_to(WEB).parts)
    ]
    return {path.relative_to(WEB).as_posix(): in_braces(path.read_text("utf-8"), path.suffix) for path in files}


def in_braces(source: str, suffix: str) -> str:
    """The source of a page with its "{start.slow}" as "start.slow"; any other as it is."""
    return re.sub(r'"?\{(\w+(?:\.\w+)+)\}"?', r'"\1"', source) if suffix == ".html" else source


def quoted(source: str) -> set[str]:
    """Every text of a JavaScript source that may be a path, `*` standing for what it puts in:
    "guide.${say}.short" is guide.*.short.
    """
    texts = re.findall(r'"([^"\n]*)"|\'([^\'\n]*)\'|`([^`\n]*)`', source)
    flat = {re.sub(r"\$\{[^}]*\}", "*", "".join(text)) for text in texts}
    return {text for text in flat if re.fullmatch(r"[\w*]+(\.[\w*]+)*", text)}


def asked_for(source: str, subjects: set[str]) -> set[str]:
    """The paths of sentences that a source names in full, and the subjects that it takes as a whole."""
    whole = {f"{subject}.**" for subject in re.findall(r"\bcatalogue\.(\w+)", source)}
    return whole | {path for path in quoted(source) if "." in path and path.split(".")[0] in subjects}


def said_in_vain(source: str, paths: set[str], subjects: set[str]) -> set[str]:
    """What `say("…")` starts with and is no sentence, neither as it is nor after a beginning
    that the source puts before it.
    """
    said = quoted("\n".join(re.findall(r"""\bsay\(("[^"\n]*"|'[^'\n]*'|`[^`\n]*`)""", source)))
    begun = {path.removesuffix("*") for path in asked_for(source, subjects) if path.endswith(".*")}
    meant = said if begun else {path for path in said if path.split(".")[0] in subjects}
    return {
        path for path in meant if not any(matches(f"{start}{path}", there) for start in ("", *begun) for there in paths)
    }


def matches(pattern: str, path: str) -> re.Match | None:
    """Whether a pattern may mean a path; what it puts in may have several parts."""
    return re.fullmatch(pattern.replace(".", r"\.").replace("*", r"([\w.]+)"), path)


def words_in(source: str) -> set[str]:
    """Every word of a source, and every text that it puts together, as in `by_${way}`."""
    parts = {part for text in quoted(source) for part in text.split(".")}
    return set(re.findall(r"\w+", source)) | {part for part in parts if part.strip("*_")}


def texts_of(tree: ast.AST) -> set[str]:
    """Every text that a module of the core may give, `*` standing for what an f-string puts in."""
    found = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            found.add("".join(part.value if isinstance(part, ast.Constant) else "*" for part in node.values))
    # A pattern that is nothing but places would know every word.
    return {text for text in found if re.fullmatch(r"[\w*]+", text) and text.strip("*_")}


class Known:
    """The texts that the sources may put into a path."""

    def __init__(self, texts):
        self.texts = set(texts)
        self.patterns = re.compile(
            "|".join([r"[\d_]+", *(text.replace("*", r"\w+") for text in self.texts if "*" in text)])
        )

    def __contains__(self, text: str) -> bool:
        return text in self.texts or bool(self.patterns.fullmatch(text))


def unused(paths: set[str], asked: set[str], known: Known) -> set[str]:
    """The sentences that nothing asks for; what a pattern puts in must be texts that the sources know, or numbers."""
    whole = tuple(pattern.removesuffix("**") for pattern in asked if pattern.endswith(".**"))
    patterns = asked - {f"{start}**" for start in whole}
    return {
        path
        for path in paths
        if not path.startswith(whole) and not any(asks_for(pattern, path, known) for pattern in patterns)
    }


def asks_for(pattern: str, path: str, known: Known) -> bool:
    """Whether a pattern may mean a path with what the sources know put in."""
    fits = matches(pattern, path)
    return bool(fits) and all(word in known for put_in in fits.groups() for word in put_in.split("."))


def said_by(tree: ast.AST, subjects: set[str]) -> set[str]:
    """The paths of sentences that a module of the core names, `*` standing for what an f-string puts in."""
    nodes = [node for node in ast.walk(tree) if isinstance(node, (ast.Constant, ast.JoinedStr))]
    texts = [
        "".join(part.value if isinstance(part, ast.Constant) else "*" for part in node.values)
        if isinstance(node, ast.JoinedStr)
        else str(node.value)
        for node in nodes
    ]
    return {text for text in texts if re.fullmatch(r"\w+(\.[\w*]+)+", text) and text.split(".")[0] in subjects}


def test_no_sentence_is_unused_by_page_and_handouts():
    source = "\n".join(page_sources().values())
    known = Known([*words_in(source), *itertools.chain.from_iterable(map(texts_of, CORE.values()))])
    by_the_core = set().union(*(said_by(tree, SUBJECTS) for tree in CORE.values()))
    assert sorted(unused(PATHS, asked_for(source, SUBJECTS) | by_the_core, known)) == []


def test_every_sentence_that_the_core_names_is_there():
    in_vain = {
        name: {path for path in said_by(tree, SUBJECTS) if not any(matches(path, there) for there in PATHS)}
        for name, tree in CORE.items()
        # There "cloth.answer" is a function of a module, and "cloth.kind" a field of a request.
        if name not in ("asks/__init__.py", "shell.py")
    }
    assert {name: sorted(found) for name, found in in_vain.items() if found} == {}
    made_up = ast.parse('say("page.titel"); say(f"cloth.{kind}.name"); open("page.py"); say("other.thing")')
    assert said_by(made_up, {"page", "cloth"}) == {"page.titel", "cloth.*.name", "page.py"}


def test_every_sentence_that_the_page_names_is_there():
    in_vain = {name: said_in_vain(source, PATHS, SUBJECTS) for name, source in page_sources().items()}
    assert {name: sorted(found) for name, found in in_vain.items() if found} == {}


def test_sentences_unused_or_not_there_would_be_found():
    # The search itself, on a made-up page.
    source = (
        'say("page.title"); say(`cloth.${kind}.name`); const kinds = ["fat_quarter"]; const t = words.catalogue.terms;'
    )
    paths = {
        "page.title",
        "page.gone",
        "cloth.fat_quarter.name",
        "cloth.velvet.name",
        "cloth.fat_quarter.hint",
        "terms.bias",
    }
    asked = asked_for(source, {"page", "cloth", "terms"})
    assert asked == {"page.title", "cloth.*.name", "terms.**"}
    assert unused(paths, asked, Known(words_in(source))) == {"page.gone", "cloth.velvet.name", "cloth.fat_quarter.hint"}
    assert said_in_vain('say("page.titel"); say("page.title")', paths, {"page"}) == {"page.titel"}
    assert said_in_vain(
        'const say = (code) => words.say(`page.${code}`); say("title"); say("lost")', paths, {"page"}
    ) == {"lost"}
