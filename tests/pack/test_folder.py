"""Writing a pack: everything in its place, or nothing and a clear reason."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from plancheck.cli import run as command
from plancheck.errors import Unreadable
from plancheck.folders import write_folder

SAMPLE = str(Path(__file__).parents[2] / "sample_plans" / "small-flat.plan.yaml")


def test_the_command_writes_pages_sheets_and_drawings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert command(["pack", SAMPLE, "--out", str(tmp_path / "out"), "--today", "2026-05-20"]) == 0
    names = {str(file.relative_to(tmp_path / "out")) for file in (tmp_path / "out").rglob("*") if file.is_file()}
    assert {"pack.html", "sheets/owner.html", "sheets/permit.html", "drawings/shutoff.svg", "drawings/riser.svg"} <= names
    assert "begin with pack.html" in capsys.readouterr().out


def test_what_stands_in_the_folder_stays_and_a_pack_made_again_takes_its_own_place(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"mine")
    for _ in range(2):
        assert command(["pack", SAMPLE, "--out", str(tmp_path), "--today", "2026-05-20"]) == 0
    assert (tmp_path / "photo.jpg").read_bytes() == b"mine"
    assert not list(tmp_path.glob(".plancheck*"))


def test_a_file_or_a_folder_in_the_way_is_told_and_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert command(["pack", SAMPLE, "--out", str(tmp_path / "file")]) == 2
    (tmp_path / "pile" / "pack.html").mkdir(parents=True)
    assert command(["pack", SAMPLE, "--out", str(tmp_path / "pile")]) == 2
    said = capsys.readouterr().err
    assert "could not be written" in said
    assert "there is a file of that name" in said
    assert "a folder named pack.html is in the way" in said
    assert [file.name for file in (tmp_path / "pile").iterdir()] == ["pack.html"]


def test_what_fails_on_the_way_leaves_nothing(tmp_path: Path) -> None:
    def fail(folder: str) -> None:
        raise OSError(28, "No space left on device")

    with pytest.raises(Unreadable, match="No space left"):
        write_folder(str(tmp_path / "new"), {"a/b.txt": "text"}, fail)
    assert not list(tmp_path.iterdir())


def test_without_a_browser_there_is_no_pdf_and_a_reason(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PLANCHECK_BROWSER", "no-such-browser")
    assert command(["pack", SAMPLE, "--out", str(tmp_path / "out"), "--pdf"]) == 2
    assert "no-such-browser" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_of_another_house_nothing_is_left_and_nobody_s_files_are_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    house = str(Path(SAMPLE).parent / "boathouse.plan.yaml")
    assert command(["pack", house, "--out", str(tmp_path), "--today", "2026-05-20"]) == 0
    (tmp_path / "drawings" / "face-cold-ring.svg").write_text("changed by hand", encoding="utf-8")
    assert command(["pack", SAMPLE, "--out", str(tmp_path), "--today", "2026-05-20"]) == 0
    there = {file.relative_to(tmp_path).as_posix() for file in tmp_path.rglob("*") if file.is_file()}
    listed = {line.partition("  ")[2] for line in (tmp_path / "contents.txt").read_text(encoding="utf-8").splitlines()}
    assert there == {*listed, "contents.txt", "drawings/face-cold-ring.svg"}
    assert "changed since and left: drawings/face-cold-ring.svg" in capsys.readouterr().err
    for line in (tmp_path / "contents.txt").read_text(encoding="utf-8").splitlines():
        sha256, _, name = line.partition("  ")
        assert hashlib.sha256((tmp_path / name).read_bytes()).hexdigest() == sha256


@pytest.mark.parametrize("name", ["sheets/cover.html", "contents.txt"])
def test_a_file_of_somebody_else_is_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_text("mine", encoding="utf-8")
    assert command(["pack", SAMPLE, "--out", str(tmp_path)]) == 2
    assert f"no part of an earlier pack: {name}" in capsys.readouterr().err
    assert [file.read_text(encoding="utf-8") for file in tmp_path.rglob("*") if file.is_file()] == ["mine"]
