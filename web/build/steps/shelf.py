"""What the hall gives: the files of dist/ and a few that are made for it, read once and held in memory.

So forty phones at once do not wait for a disk, a build in between mixes no versions, and a path can lead to nothing
else."""

from collections.abc import Set
from pathlib import Path

from . import stamps
from .precache import HOST_FILES, SQUEEZED
from .serving import ENCODINGS, headers_of

Found = tuple[dict[str, str], bytes]


class Shelf:
    """Files by the path that asks for them, each with its squeezed copies."""

    def __init__(self, folder: Path, made: dict[str, bytes]) -> None:
        """`made` has what lies in no folder, by its name."""
        self._held: dict[str, dict[str, Found]] = {}
        for path in stamps.files_under(folder):
            if _is_given(path, folder):
                self._hold(path, path.relative_to(folder).as_posix())
        if "/index.html" in self._held:
            self._held["/"] = self._held["/index.html"]
        for name, content in made.items():
            self.add(name, content)

    def add(self, name: str, content: bytes) -> None:
        """Gives this too, under this name."""
        self._held[f"/{name}"] = {"": (headers_of(name, content), content)}

    def find(self, path: str, accepted: Set[str]) -> Found | None:
        """The headers and the content of the smallest copy that is accepted; none where there is no such file."""
        copies = self._held.get(path)
        if copies is None:
            return None
        return next((copies[encoding] for encoding, _ in ENCODINGS if encoding in accepted & copies.keys()), copies[""])

    def _hold(self, path: Path, inside: str) -> None:
        copies = {"": path}
        for encoding, ending in ENCODINGS:
            squeezed = path.with_name(path.name + ending)
            if squeezed.is_file():
                copies[encoding] = squeezed
        contents = {encoding: copy.read_bytes() for encoding, copy in copies.items()}
        self._held[f"/{inside}"] = {
            encoding: (headers_of(inside, content, encoding), content) for encoding, content in contents.items()
        }


def _is_given(path: Path, folder: Path) -> bool:
    """Whether a file is for phones: none that is hidden, for a host, a copy of another, or linked to from outside."""
    inside = path.relative_to(folder)
    hidden = any(part.startswith(".") for part in inside.parts)
    ours = path.resolve().is_relative_to(folder.resolve())
    return ours and not hidden and path.name not in HOST_FILES and path.suffix not in SQUEEZED
