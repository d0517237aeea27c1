"""The finished site takes the place of the last one, where the system can exchange folders and where it cannot."""

from pathlib import Path

import pytest

from tankside.publish import swap


def folder(path: Path, text: str) -> Path:
    path.mkdir()
    (path / "page").write_text(text, encoding="utf-8", newline="\n")
    return path


def text(path: Path) -> str:
    return (path / "page").read_text(encoding="utf-8")


@pytest.fixture(params=["exchange", "two renames"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways of putting a folder in place."""
    if request.param == "two renames":
        monkeypatch.setattr(swap, "_exchanged", lambda first, second: False)
    return str(request.param)


def test_first_site_is_put_in_place(tmp_path: Path, way: str) -> None:
    swap.put_in_place(folder(tmp_path / "staging", "new"), tmp_path / "site")
    assert text(tmp_path / "site") == "new"


def test_new_site_replaces_the_last_one_and_nothing_else_is_left(tmp_path: Path, way: str) -> None:
    folder(tmp_path / "site", "old")
    swap.put_in_place(folder(tmp_path / "staging", "new"), tmp_path / "site")
    assert text(tmp_path / "site") == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_last_site_comes_back_after_a_stop_between_two_renames(tmp_path: Path) -> None:
    folder(tmp_path / "site.before", "old")
    swap.restore(tmp_path / "site")
    assert text(tmp_path / "site") == "old"


def test_leftover_of_a_stop_after_both_renames_is_removed(tmp_path: Path) -> None:
    folder(tmp_path / "site.before", "old")
    folder(tmp_path / "site", "new")
    swap.restore(tmp_path / "site")
    assert text(tmp_path / "site") == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]
