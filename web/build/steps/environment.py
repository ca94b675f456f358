"""The virtual environment at the top, with Node from PyPI in it, and the packages from npm."""

import os
import ssl
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from . import stamps
from .console import Stop, aside, run, step
from .places import BUILD_SOURCES, NODE_MODULES, ROOT, VENV, VENV_BIN, WEB, tool

NETWORK_MEND = "check the network and the certificates, or point pip (PIP_INDEX_URL) at an index you can reach"
NPM_MEND = "check the network and the certificates, or point npm (npm_config_registry) at a registry you can reach"
RETRIES = "2"
# Nothing is taken but what has one of the hashes listed, and nothing is built, as that would
# bring tools that have none.
STRICT = ("--require-hashes", "--only-binary=:all:")
VENV_MEND = "this Python has no venv module: install it (on Debian: apt-get install python3-venv) and try again"


def prepare(kind: str) -> None:
    """Makes .venv and fills it for `kind`: "serve" or "test"."""
    _make_venv()
    _install(kind)


def _make_venv() -> None:
    wanted = stamps.digest(sys.version)
    if stamps.up_to_date("venv", wanted, tool("python")):
        return
    _require_own(VENV)
    with step("Making the environment .venv"):
        run("venv", [sys.executable, "-m", "venv", "--clear", VENV], VENV_MEND)
    stamps.forget("pip-*")
    stamps.done("venv", wanted)


@contextmanager
def preparing_aside(kind: str) -> Iterator[None]:
    """Fills .venv for `kind` while something else is done that needs less of it."""
    if _installed(kind):
        yield
        return
    with aside(_installing(kind), lambda: _fetch(kind)):
        yield


def _install(kind: str) -> None:
    if not _installed(kind):
        with step(_installing(kind)):
            _fetch(kind)


def _installing(kind: str) -> str:
    return f"Installing what `{kind}` needs from the Python package index"


def _installed(kind: str) -> bool:
    return stamps.up_to_date(f"pip-{kind}", _wanted(kind), tool("node"), VENV / "pyvenv.cfg")


def _fetch(kind: str) -> None:
    pip("install", "--quiet", *STRICT, "-r", _requirements(kind), log=f"pip-{kind}")
    stamps.done(f"pip-{kind}", _wanted(kind))


def _wanted(kind: str) -> str:
    return stamps.digest(sys.version, _requirements(kind))


def _requirements(kind: str) -> Path:
    return BUILD_SOURCES / "requirements" / f"{kind}.txt"


def pip(*arguments, log: str = "pip") -> None:
    """Runs the environment's pip; Stop with one line when the index cannot be reached."""
    run(
        log,
        [tool("python"), "-m", "pip", "--disable-pip-version-check", "--no-input", "--retries", RETRIES, *arguments],
        NETWORK_MEND,
    )


def npm_packages() -> None:
    """Puts the packages of web/package-lock.json into web/node_modules."""
    wanted = stamps.digest(WEB / "package.json", WEB / "package-lock.json", WEB / ".npmrc")
    if stamps.up_to_date("npm", wanted, NODE_MODULES / ".package-lock.json"):
        return
    _require_own(NODE_MODULES)
    with step("Installing the page's packages from npm"):
        run("npm", [tool("npm"), "ci"], NPM_MEND, env=node_settings(), cwd=WEB)
    stamps.done("npm", wanted)


def _require_own(folder: Path) -> None:
    """Stop where the folder, which is about to be emptied and filled anew, is a link to one that others may use."""
    if folder.is_symlink():
        raise Stop(
            f"{folder.relative_to(ROOT)} is a link, and what it leads to would be emptied: "
            "remove the link, and a folder takes its place"
        )


def node(name: str, *arguments) -> None:
    """Runs a script of web/build/node with the environment's Node."""
    script = BUILD_SOURCES / "node" / f"{name}.mjs"
    run(name, [tool("node"), script, *arguments], f"see what {script.name} says", env=node_settings())


def node_settings() -> dict[str, str]:
    """Environment variables for Node: the environment's programs first, and the system's own certificates."""
    settings = {"PATH": str(VENV_BIN) + os.pathsep + os.environ.get("PATH", "")}
    certificates = ssl.get_default_verify_paths().cafile
    if certificates and "NODE_EXTRA_CA_CERTS" not in os.environ:
        settings["NODE_EXTRA_CA_CERTS"] = certificates
    return settings


def require_venv_module() -> None:
    """Stop with the mend where Python came without the parts that make an environment."""
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        raise Stop(VENV_MEND) from None
