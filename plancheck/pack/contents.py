"""contents.txt of a pack: its files with their hashes, so that a pack made again takes away what is left of an earlier one."""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterable, Mapping

from plancheck.errors import Problem, Unreadable

NAME = "contents.txt"
_SHOWN = 4


def contents_of(folder: str) -> Mapping[str, str]:
    """The files of an earlier pack in a folder, with their SHA-256; none where there is no such list."""
    try:
        with open(os.path.join(folder, NAME), encoding="utf-8") as handle:
            lines = [line.rstrip("\n").split("  ", 1) for line in handle]
    except (OSError, UnicodeDecodeError):
        return {}
    return {line[1]: line[0] for line in lines if len(line) == 2 and len(line[0]) == 64 and _is_below(line[1])}


def _is_below(name: str) -> bool:
    """Whether a name stays in its folder."""
    return not os.path.isabs(name) and ".." not in name.split("/")


def check_others(folder: str, names: Iterable[str], earlier: Mapping[str, str]) -> None:
    """Refuses to write over files that are no part of an earlier pack. Raises Unreadable."""
    known = {*earlier, NAME} if earlier else set()
    strange = [
        name for name in sorted((*names, NAME)) if name not in known and os.path.isfile(os.path.join(folder, name))
    ]
    if strange:
        more = f" and {len(strange) - _SHOWN} more" if len(strange) > _SHOWN else ""
        says = f"there are files that are no part of an earlier pack: {', '.join(strange[:_SHOWN])}{more}"
        raise Unreadable((Problem(folder, 0, 0, says, "name an empty folder; nothing was written", wanted="written"),))
    changed = [
        name for name in sorted(names) if name in earlier and _is_changed(os.path.join(folder, name), earlier[name])
    ]
    if changed:
        says = f"somebody has written in files of the earlier pack: {', '.join(changed[:_SHOWN])}"
        mend = "keep them elsewhere and take them away here, or name another folder; nothing was written"
        raise Unreadable((Problem(folder, 0, 0, says, mend, wanted="written"),))


def _is_changed(file: str, sha256: str) -> bool:
    return os.path.isfile(file) and _hash(file) != sha256


def write_contents(folder: str) -> None:
    """Writes the list of all files of a folder into it."""
    names = sorted(
        os.path.relpath(os.path.join(where, name), folder) for where, _, found in os.walk(folder) for name in found
    )
    lines = [f"{_hash(os.path.join(folder, name))}  {name.replace(os.sep, '/')}\n" for name in names if name != NAME]
    with open(os.path.join(folder, NAME), "w", encoding="utf-8", newline="\n") as handle:
        handle.writelines(lines)


def take_away(folder: str, earlier: Mapping[str, str]) -> tuple[str, ...]:
    """Removes the files of an earlier pack that the new one has not, as far as nobody has changed them; which it left."""
    now, left = contents_of(folder), []
    for name, sha256 in earlier.items():
        file = os.path.join(folder, name)
        if name in now or not os.path.isfile(file):
            continue
        if _hash(file) != sha256:
            left.append(name)
            continue
        with contextlib.suppress(OSError):
            os.unlink(file)
            os.rmdir(os.path.dirname(file))
    return tuple(left)


def _hash(file: str) -> str:
    with open(file, "rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()
