"""The lock file that the page starts from: what micropip resolved, and nothing else of the distribution."""

import hashlib
import json
from importlib.metadata import requires
from pathlib import PurePosixPath

import micropip
from archives import read_archive, write_archive
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name


async def frozen_lock(wheel: str) -> str:
    """Installs the wheel with micropip and returns the frozen lock, cut to the wheel and all that it needs.

    Then what an installation goes by is taken out of the wheel: the page opens it where it lies and installs nothing.
    """
    await micropip.install(f"emfs:{wheel}")
    lock = json.loads(micropip.freeze())
    name = canonicalize_name(PurePosixPath(wheel).name.split("-")[0])
    lock["packages"] = {each: _shipped(lock["packages"][each]) for each in sorted(_needed(name))}
    lock["packages"][name]["sha256"] = _without_records(wheel)
    return json.dumps(lock, indent=1, sort_keys=True)


def _needed(name: str) -> set[str]:
    wanted = [Requirement(line) for line in requires(name) or []]
    direct = {canonicalize_name(each.name) for each in wanted if not each.marker or each.marker.evaluate({"extra": ""})}
    return {name}.union(*map(_needed, direct))


def _shipped(package: dict) -> dict:
    return {**package, "file_name": PurePosixPath(package["file_name"]).name}


def _without_records(wheel: str) -> str:
    write_archive(wheel, {name: content for name, content in read_archive(wheel).items() if ".dist-info/" not in name})
    with open(wheel, "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()
