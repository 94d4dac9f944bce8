"""Who is who: a roster kept outside the results gives each file its pseudonym; without one the file's hash does."""

from __future__ import annotations

import csv
import os
from collections.abc import Mapping, Sequence

from plancheck.errors import Problem, Unreadable
from plancheck.reading import MOST_BYTES

_COLUMNS = ("file", "candidate")


def load_roster(file: str) -> Mapping[str, str]:
    """File name -> pseudonym, from a CSV file with the columns file and candidate. Raises Unreadable."""
    try:
        with open(file, encoding="utf-8-sig", newline="") as handle:
            text = handle.read(MOST_BYTES + 1)
    except (OSError, UnicodeDecodeError) as wrong:
        says = getattr(wrong, "strerror", None) or "it is not UTF-8 text"
        raise _wrong(file, 0, f"the roster cannot be read: {says}", "name a CSV file with the columns file,candidate") from None
    rows = list(csv.reader(text.splitlines()))
    head = [name.strip().casefold() for name in rows[0]] if rows else []
    if any(name not in head for name in _COLUMNS):
        raise _wrong(file, 1, "the first line does not name the columns file and candidate", "begin with  file,candidate")
    places = [head.index(name) for name in _COLUMNS]
    found: dict[str, str] = {}
    for number, row in enumerate(rows[1:], 2):
        if not any(cell.strip() for cell in row):
            continue
        name, candidate = (row[place].strip() if place < len(row) else "" for place in places)
        _check(file, number, name, candidate, found)
        found[name] = candidate
    return found


def _check(file: str, line: int, name: str, candidate: str, found: Mapping[str, str]) -> None:
    if not name or not candidate:
        raise _wrong(file, line, "the line lacks a file or a candidate", "write both: c01.plan.yaml,C01")
    if name in found:
        raise _wrong(file, line, f"{name} stands there twice", "leave one of the two lines out")
    if candidate in found.values():
        raise _wrong(file, line, f"{candidate} stands for two files", "give every file a pseudonym of its own")


def _wrong(file: str, line: int, says: str, mend: str) -> Unreadable:
    return Unreadable((Problem(file, line, 1 if line else 0, says, mend),))


def pseudonyms(files: Sequence[str], hashes: Sequence[str], roster: Mapping[str, str]) -> tuple[str, ...]:
    """A pseudonym for each file. A file the roster does not name is called by its hash, the same one by a number too."""
    found: list[str] = []
    for file, digest in zip(files, hashes, strict=True):
        name = roster.get(file) or roster.get(os.path.basename(file)) or f"plan-{digest[:8]}"
        number, one = 2, name
        while one in found:
            one, number = f"{name}-{number}", number + 1
        found.append(one)
    return tuple(found)
