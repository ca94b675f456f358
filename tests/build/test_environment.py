"""The environment is made in the project's own folders only."""

from pathlib import Path

import pytest

from steps import environment, stamps
from steps.console import Stop


@pytest.mark.parametrize(
    ("folder", "make"), [("VENV", environment._make_venv), ("NODE_MODULES", environment.npm_packages)]
)
def test_what_a_link_leads_to_is_not_emptied(folder: str, make, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Both `venv --clear` and `npm ci` follow a link, and what other checkouts use would be gone."""
    others = tmp_path / "others"
    others.mkdir()
    (others / "kept").write_text("needed there")
    (tmp_path / "linked").symlink_to(others)
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, folder, tmp_path / "linked")
    monkeypatch.setattr(environment, "run", lambda *_, **__: pytest.fail("it is made anew all the same"))
    monkeypatch.setattr(stamps, "up_to_date", lambda *_: False)
    with pytest.raises(Stop, match="linked is a link"):
        make()
    assert (others / "kept").read_text() == "needed there"
