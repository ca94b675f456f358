"""Zip archives that come out the same for the same content."""

import zipfile

_LONG_AGO = (1980, 1, 1, 0, 0, 0)


def write_archive(path: str, contents: dict[str, bytes]) -> None:
    """Writes the contents by name, sorted, with one fixed time.

    They are stored as they are: Python starts sooner, and the host's compression of the whole
    file makes it smaller still."""
    with zipfile.ZipFile(path, "w") as archive:
        for name in sorted(contents):
            archive.writestr(zipfile.ZipInfo(name, _LONG_AGO), contents[name])


def read_archive(path: str) -> dict[str, bytes]:
    """The files of an archive by name."""
    with zipfile.ZipFile(path) as archive:
        return {entry.filename: archive.read(entry) for entry in archive.infolist() if not entry.is_dir()}
