"""The list of what ships: right by the official schema, complete, and true of every file in dist/."""

import base64
import hashlib
import json
import re
from collections import Counter
from pathlib import Path

import pytest
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from license_expression import get_spdx_licensing
from packageurl import PackageURL

from steps.places import BUILD_SOURCES, NODE_MODULES, ROOT
from steps.precache import HOST_FILES, SBOM, SQUEEZED
from steps.sbom import LINKED, inside, sbom_text


@pytest.fixture
def listed(dist: Path) -> dict:
    """The list as it ships."""
    return json.loads((dist / SBOM).read_text("utf-8"))


def parts(listed: dict) -> list[dict]:
    """All components, those inside others too, but no files."""
    waiting, found = [listed["metadata"]["component"], *listed["components"]], []
    while waiting:
        one = waiting.pop()
        if one["type"] != "file":
            found.append(one)
            waiting += one.get("components", [])
    return found


def files_of(one: dict) -> dict[str, str]:
    """The files that a component names, with their hashes."""
    return {item["name"]: item["hashes"][0]["content"] for item in one.get("components", []) if item["type"] == "file"}


def by_name(listed: dict) -> dict[str, dict]:
    """The components by their names."""
    return {one["name"]: one for one in parts(listed)}


def test_it_is_right_by_the_official_schema(dist: Path):
    # CycloneDX 1.6, JSON schema, as the package cyclonedx-python-lib brings it along.
    validator = JsonStrictValidator(SchemaVersion.V1_6)
    assert validator.validate_str((dist / SBOM).read_text("utf-8")) is None
    assert validator.validate_str((dist / SBOM).read_text("utf-8").replace('"MIT"', '"no such licence"')) is not None


def test_every_file_that_ships_is_in_it_once_with_its_true_hash(dist: Path, listed: dict):
    there = {
        path.relative_to(dist).as_posix(): path
        for path in dist.rglob("*")
        if path.is_file() and path.suffix not in SQUEEZED
    }
    told = Counter(name for one in parts(listed) for name in files_of(one))
    assert told == Counter(there.keys() - {SBOM, *HOST_FILES})
    wrong = [
        name
        for one in parts(listed)
        for name, digest in files_of(one).items()
        if hashlib.sha256(there[name].read_bytes()).hexdigest() != digest
    ]
    assert wrong == []


def test_every_component_has_its_licence_and_where_it_is_known_by(listed: dict):
    licensing = get_spdx_licensing()
    for one in parts(listed):
        (terms,) = one["licenses"]
        named = terms.get("expression") or terms["license"]["id"]
        assert licensing.validate(named).errors == [], named
        assert PackageURL.from_string(one["purl"]).name == one["name"].lower()
        assert one["bom-ref"] == one["purl"]


def test_the_packages_are_those_that_were_installed(listed: dict):
    wanted = json.loads((ROOT / "web" / "package.json").read_text("utf-8"))["dependencies"]
    lock = json.loads((NODE_MODULES / ".package-lock.json").read_text("utf-8"))["packages"]
    from_npm = {PackageURL.from_string(one["purl"]): one for one in parts(listed) if one["purl"].startswith("pkg:npm/")}
    assert {
        f"{purl.namespace}/{purl.name}" if purl.namespace else purl.name: purl.version for purl in from_npm
    } == wanted
    for purl, one in from_npm.items():
        name = "/".join(filter(None, [purl.namespace, purl.name]))
        own = json.loads((NODE_MODULES / name / "package.json").read_text("utf-8"))
        (terms,) = one["licenses"]
        assert one["version"] == own["version"]
        assert (terms.get("expression") or terms["license"]["id"]) == own["license"]
        sri = "sha512-" + base64.b64encode(bytes.fromhex(one["hashes"][0]["content"])).decode()
        assert (one["hashes"][0]["alg"], sri) == ("SHA-512", lock[f"node_modules/{name}"]["integrity"])


def test_each_file_belongs_to_whom_it_comes_from(listed: dict):
    found = by_name(listed)
    assert {Path(name).name for name in files_of(found["pyodide"])} == {
        "pyodide.mjs",
        "pyodide.asm.mjs",
        "pyodide.asm.wasm",
    }
    assert {Path(name).name for name in files_of(found["python"])} == {"python_stdlib.zip"}
    assert {Path(name).name for name in files_of(found["idb"])} == {"idb.js"}
    assert {Path(name).suffix for name in files_of(found["atkinson-hyperlegible-next"])} == {".woff2"}
    assert {Path(name).name for name in files_of(found["json-schema"])} >= {"index.js", "validate.js"}
    assert {"index.html", "sw.js"} <= files_of(found["matside"]).keys()
    assert [name for name in files_of(found["matside"]) if "/vendor/" in name or name.startswith("pyodide-")] == []


def test_what_is_linked_into_pyodide_is_what_the_licences_name(listed: dict):
    text = (BUILD_SOURCES / "licences" / "linked-libraries.txt").read_text("utf-8").split("-----")[0].split("\n\n")[1]
    named = re.findall(r"^(?:Parts of )?([A-Za-z0-9*]+)(?: \([^)]*\))?\. ", text, re.MULTILINE)
    assert set(named) == LINKED.keys() and len(named) == len(LINKED)
    found = {one["name"] for one in by_name(listed)["pyodide"]["components"] if one["type"] != "file"}
    assert found == set(inside()) < LINKED.keys()


def test_what_was_altered_is_said_with_its_sources_and_steps(listed: dict, dist: Path):
    text = (dist / "licences.txt").read_text("utf-8")
    version = json.loads((NODE_MODULES / "pyodide" / "package.json").read_text("utf-8"))["version"]
    for notes in (by_name(listed)[name]["pedigree"]["notes"] for name in ("pyodide", "python")):
        assert notes in text
        for path in re.findall(r"web/build/[\w./]+\w", notes):
            assert (ROOT / path).exists(), path
    assert by_name(listed)["pyodide"]["pedigree"]["notes"].endswith(f" of version {version}")
    assert f" of version {version}, at https://" in text


def test_python_is_the_one_that_pyodide_holds(listed: dict):
    info = json.loads((NODE_MODULES / "pyodide" / "pyodide-lock.json").read_text("utf-8"))["info"]
    assert by_name(listed)["python"]["version"] == info["python"]


def test_dependencies_lead_to_what_is_listed(listed: dict):
    refs = {one["bom-ref"] for one in parts(listed)}
    told = {one["ref"]: one["dependsOn"] for one in listed["dependencies"]}
    assert told.keys() == refs and {ref for needed in told.values() for ref in needed} <= refs
    reached, waiting = set(), [listed["metadata"]["component"]["bom-ref"]]
    while waiting:
        reached.add(ref := waiting.pop())
        waiting += set(told[ref]) - reached
    assert reached == refs


def test_it_names_no_time_and_comes_out_the_same(dist: Path, listed: dict):
    assert "timestamp" not in listed["metadata"]
    assert sbom_text(dist) == (dist / SBOM).read_text("utf-8")
