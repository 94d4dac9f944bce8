"""Folders named on the command line into their plan files, in a fixed order, and what was passed over on the way."""

from __future__ import annotations

import os
from collections.abc import Sequence

from plancheck.errors import Problem
from plancheck.record import NamedTuple

ENDINGS = (".plan.yaml", ".plan.json")
_NAMES = "*.plan.yaml or *.plan.json"
_HIDDEN, _LINK, _TWICE = "hidden", "links to folders, which are not followed", "named twice"
_NEARLY, _OTHER = f"not named {_NAMES}", "other files"
_SHOWN = 6


class Walked(NamedTuple):
    """The plan files, the folders that gave none or could not be opened, and in words what was passed over."""

    plans: tuple[str, ...]
    problems: tuple[Problem, ...]
    skipped: str


def walk(said: Sequence[str]) -> Walked:
    """The plan files of what was said: files as they are, folders with all that lies in them, by name."""
    plans: list[str] = []
    problems: list[Problem] = []
    words: list[str] = []
    for name in said:
        if not os.path.isdir(name):
            plans.append(name)
            continue
        folder = _Folder(name, {os.path.realpath(plan) for plan in plans})
        folder.walk()
        plans.extend(folder.plans)
        problems.extend(folder.problems)
        words.extend(folder.words())
    return Walked(tuple(plans), tuple(problems), "".join(f"{line}\n" for line in words))


class _Folder:
    """One folder while it is walked."""

    def __init__(self, top: str, known: set[str]) -> None:
        self.top = top
        self.plans: list[str] = []
        self.problems: list[Problem] = []
        self._known = known
        self._skipped: dict[str, list[str]] = {}

    def walk(self) -> None:
        """Fills the lists, folder by folder in the order of their names."""
        left = [self.top]
        while left:
            folder = left.pop()
            try:
                with os.scandir(folder) as found:
                    entries = sorted(found, key=lambda entry: entry.name)
            except OSError as wrong:
                says = f"this folder cannot be opened: {wrong.strerror}"
                self.problems.append(Problem(folder, 0, 0, says, "change its permissions, or name the plans in it"))
                continue
            below = [path for entry in entries if (path := self._take(folder, entry)) is not None]
            left.extend(reversed(below))
        if not self.plans and not self.problems and _TWICE not in self._skipped:
            mend = f"name the file itself, or name your plans {_NAMES}"
            self.problems.append(Problem(self.top, 0, 0, f"there is no {_NAMES} in this folder", mend))

    def _take(self, folder: str, entry: os.DirEntry[str]) -> str | None:
        """Takes one entry, and gives its path where it is a folder to walk."""
        path = entry.name if folder == "." else os.path.join(folder, entry.name)
        is_folder = _is_folder(entry)
        if entry.name.startswith("."):
            self._skip(_HIDDEN, path, is_folder)
        elif is_folder and entry.is_symlink():
            self._skip(_LINK, path, is_folder)
        elif is_folder:
            return path
        elif not entry.name.endswith(ENDINGS):
            near = entry.name.lower().endswith((".yaml", ".yml", ".json"))
            self._skip(_NEARLY if near else _OTHER, path, is_folder)
        elif os.path.realpath(path) in self._known:
            self._skip(_TWICE, path, is_folder)
        else:
            self._known.add(os.path.realpath(path))
            self.plans.append(path)
        return None

    def _skip(self, why: str, path: str, is_folder: bool) -> None:
        shown = os.path.relpath(path, self.top) + ("/" if is_folder else "")
        self._skipped.setdefault(why, []).append(shown)

    def words(self) -> list[str]:
        """What was passed over and why, a line for each reason."""
        from plancheck.report.page import clean

        lines = []
        for why in (_HIDDEN, _LINK, _TWICE, _NEARLY, _OTHER):
            names = self._skipped.get(why, [])
            if why == _OTHER and names:
                lines.append(f"  {why}: {len(names)}")
            elif names:
                more = f" and {len(names) - _SHOWN} more" if len(names) > _SHOWN else ""
                lines.append(f"  {why}: {', '.join(map(clean, names[:_SHOWN]))}{more}")
        return [f"{clean(self.top)}, passed over:", *lines] if lines else []


def _is_folder(entry: os.DirEntry[str]) -> bool:
    """Whether an entry is a folder; a link that leads in a circle is none, and is told as a file that cannot be read."""
    try:
        return entry.is_dir()
    except OSError:
        return False
