"""Files written whole or not at all: every draft is complete beside its target before any takes its place."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterable

from plancheck.errors import Problem, Unreadable

_MEND = "name a file in a folder you may write to; nothing was written"


def check_targets(files: Iterable[str], what: str = "the report") -> None:
    """Refuses, before any work is done, what cannot be a file: a folder's name, one in no folder. Raises Unreadable."""
    for file in files:
        if os.path.isdir(file):
            raise _wrong(file, what, "there is a folder of that name")
        above = os.path.dirname(file) or "."
        if not os.path.isdir(above):
            raise _wrong(file, what, f"{above} is a file" if os.path.lexists(above) else f"there is no folder {above}")


def write_all(files: Iterable[tuple[str, str]], what: str = "the report") -> None:
    """Writes the texts to the files: all of them, or none. Raises Unreadable.

    A link is followed to its file; what is no ordinary file (a device, a pipe) is written straight.
    """
    drafts: list[tuple[str, str]] = []
    file = ""
    try:
        straight = []
        for file, text in files:
            if _is_ordinary(file):
                drafts.append(_draft(file, text))
            else:
                straight.append((file, text))
        for file, text in straight:
            _write(file, text, "w")
        while drafts:
            os.replace(*drafts[0])
            del drafts[0]
    except (OSError, ValueError) as wrong:
        raise _wrong(file, what, getattr(wrong, "strerror", None) or "its name cannot be used") from None
    finally:
        for draft, _ in drafts:
            _remove(draft)


def _is_ordinary(file: str) -> bool:
    """Whether the name is of an ordinary file, or of nothing yet."""
    try:
        mode = os.stat(file).st_mode
    except FileNotFoundError:
        return True
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(0, "there is a folder of that name")
    return stat.S_ISREG(mode)


def _draft(file: str, text: str) -> tuple[str, str]:
    """Writes the text beside its target: the draft's name and the target's."""
    target = os.path.realpath(file)
    there = os.path.exists(target)
    if there and not os.access(target, os.W_OK):
        raise PermissionError(0, "the file that is there may not be changed")
    draft = os.path.join(os.path.dirname(target), f".plancheck-{os.urandom(6).hex()}.part")
    try:
        _write(draft, text, "x")
        if there:
            os.chmod(draft, stat.S_IMODE(os.stat(target).st_mode))
    except BaseException:
        _remove(draft)
        raise
    return draft, target


def _write(file: str, text: str, mode: str) -> None:
    with open(file, mode, encoding="utf-8", errors="backslashreplace", newline="\n") as handle:
        handle.write(text)


def _remove(draft: str) -> None:
    with contextlib.suppress(OSError):
        os.unlink(draft)


def _wrong(file: str, what: str, why: str) -> Unreadable:
    return Unreadable((Problem(file, 0, 0, f"{what} cannot be written: {why}", _MEND, "written"),))
