"""Reports are written whole or not at all, and what goes wrong is told in a sentence."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from plancheck.errors import Unreadable
from plancheck.writing import write_all
from tests.report.making import ROOT, SMALL, TODAY, command

PLAN = ("check", str(SMALL), *TODAY)
FULL = Path("/dev/full")
needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@needs_full
def test_a_full_disk_leaves_no_other_report_either(tmp_path: Path) -> None:
    done = command(*PLAN, "--report", f"json={tmp_path / 'made'}", "--report", "csv=/dev/full")
    assert done.returncode == 2
    assert "/dev/full could not be written:" in done.stderr
    assert "No space left on device" in done.stderr
    assert names(tmp_path) == []


def test_a_disk_that_fills_up_on_the_way(tmp_path: Path) -> None:
    if sys.platform == "win32":
        pytest.skip("no limit on the size of files here")
    before = (
        "import resource, signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN);"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (20000, 20000))"
    )
    (tmp_path / "made.sarif").write_text("old", encoding="utf-8")
    asked = ("--report", f"csv={tmp_path / 'made.csv'}", "--report", f"sarif={tmp_path / 'made.sarif'}")
    done = command(*PLAN, *asked, before=before)
    assert done.returncode == 2
    assert "made.sarif could not be written:" in done.stderr
    assert names(tmp_path) == ["made.sarif"]
    assert (tmp_path / "made.sarif").read_text("utf-8") == "old"


@needs_full
@pytest.mark.parametrize("format_", ["screen", "json", "sarif"])
def test_what_is_printed_to_a_full_disk(format_: str) -> None:
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); from plancheck.__main__ import main; sys.exit(main())"
    with FULL.open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-c", code, *PLAN, "--report", format_],
            stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.splitlines() == ["plancheck: what it prints cannot be written: No space left on device"]


def test_a_failed_rule_counts_more_than_a_file_not_written(tmp_path: Path) -> None:
    from tests.report.making import rules

    (tmp_path / "made").mkdir()
    with pytest.raises(Unreadable):
        write_all([(str(tmp_path / "made"), "text")])
    if FULL.exists():
        assert command(*PLAN, *rules(tmp_path, "1 / 0"), "--report", "csv=/dev/full").returncode == 3


def test_a_folder_that_may_not_be_written_to(tmp_path: Path) -> None:
    """Also as root, whom permissions do not stop: the system's own files take no other beside them."""
    folder = tmp_path / "shut"
    folder.mkdir()
    folder.chmod(stat.S_IRUSR | stat.S_IXUSR)
    if os.access(folder, os.W_OK):
        folder = Path("/proc")
        if not folder.is_dir():
            pytest.skip("root may write everywhere here")
    done = command(*PLAN, "--report", f"json={folder / 'made.json'}")
    assert done.returncode == 2
    assert "made.json could not be written:" in done.stderr


@pytest.mark.parametrize("name", ["file/made", "file/sub/made", "gone/made", "folder", "bad\0name"])
def test_nothing_is_left_where_no_file_can_be(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    with pytest.raises(Unreadable) as wrong:
        write_all([(str(tmp_path / "first"), "one"), (f"{tmp_path}/{name}", "two")])
    [problem] = wrong.value.problems
    assert problem.file == f"{tmp_path}/{name}"
    assert "cannot be written: " in problem.says
    assert names(tmp_path) == ["file", "folder"]


def test_what_was_there_stays_until_all_are_whole(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    first.write_text("old", encoding="utf-8")
    with pytest.raises(Unreadable):
        write_all([(str(first), "new"), (str(tmp_path / "no" / "made"), "new")])
    assert first.read_text("utf-8") == "old"
    write_all([(str(first), "new\r\n"), (str(second), "\ud800")])
    assert first.read_bytes() == b"new\r\n"
    assert second.read_bytes() == b"\\ud800"
    assert names(tmp_path) == ["first", "second"]


def test_a_link_is_followed_and_permissions_stay(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_text("old", encoding="utf-8")
    real.chmod(0o640)
    try:
        link.symlink_to("real")
    except OSError:
        pytest.skip("this system makes no links")
    write_all([(str(link), "new")])
    assert link.is_symlink()
    assert real.read_text("utf-8") == "new"
    assert sys.platform == "win32" or stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_long_name_leaves_room_for_its_draft(tmp_path: Path) -> None:
    write_all([(str(tmp_path / ("n" * 250)), "text")])
    assert names(tmp_path) == ["n" * 250]
