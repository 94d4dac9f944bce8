"""Writing several files into one folder: all made ready in a folder beside them, then put in place one by one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Mapping

from plancheck.errors import Problem, Unreadable

Finish = Callable[[str], object]


def check_folder(folder: str) -> None:
    """Refuses a name that is no folder to write into. Raises Unreadable."""
    if os.path.lexists(folder) and not os.path.isdir(folder):
        raise _wrong(folder, "there is a file of that name")


def write_folder(folder: str, files: Mapping[str, str], finish: Finish | None = None) -> None:
    """Writes the files (name with / -> text) into the folder, each whole or not at all; others in it stay as they are.

    finish: makes more files in the folder it is given, before any is put in place. Raises Unreadable.
    """
    check_folder(folder)
    made = not os.path.isdir(folder)
    draft = os.path.join(folder, f".plancheck-{os.getpid()}.part")
    try:
        os.makedirs(draft)
        for name, text in files.items():
            _write(os.path.join(draft, *name.split("/")), text)
        if finish is not None:
            finish(draft)
        _put_in_place(draft, folder)
    except OSError as wrong:
        raise _wrong(folder, wrong.strerror or str(wrong)) from None
    finally:
        shutil.rmtree(draft, ignore_errors=True)
        if made and os.path.isdir(folder) and not os.listdir(folder):
            os.rmdir(folder)


def _write(file: str, text: str) -> None:
    os.makedirs(os.path.dirname(file), exist_ok=True)
    with open(file, "w", encoding="utf-8", newline="\n") as handle:
        handle.write(text)


def _put_in_place(draft: str, folder: str) -> None:
    names = [os.path.relpath(os.path.join(where, name), draft) for where, _, found in os.walk(draft) for name in found]
    for name in sorted(names):
        if os.path.isdir(os.path.join(folder, name)):
            raise IsADirectoryError(0, f"a folder named {name} is in the way")
    for name in sorted(names):
        os.makedirs(os.path.dirname(os.path.join(folder, name)), exist_ok=True)
        os.replace(os.path.join(draft, name), os.path.join(folder, name))


def _wrong(folder: str, why: str) -> Unreadable:
    mend = "name a folder you may write to; nothing was written"
    return Unreadable((Problem(folder, 0, 0, f"the files cannot be written: {why}", mend, wanted="written"),))
