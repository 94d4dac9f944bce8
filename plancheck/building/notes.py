"""What is wrong with a plan's names and values, gathered while it is built."""

from collections.abc import Iterable

from plancheck.model import Path
from plancheck.record import NamedTuple


class Note(NamedTuple):
    """One thing that keeps the plan from being built; path is where it stands in the file."""

    path: Path
    says: str
    mend: str
    key: bool = False


class Notes:
    """Gathers Note records; the first at a path and with the same words is kept."""

    def __init__(self) -> None:
        self.found: dict[tuple[Path, str], Note] = {}

    def add(self, path: Path, says: str, mend: str, key: bool = False) -> None:
        """Notes what was found at the path and how to mend it; key: it is the key, not the value, that is wrong."""
        self.found.setdefault((path, says), Note(path, says, mend, key))


def nearest(name: str, names: Iterable[str]) -> str:
    """ "did you mean NAME? " for the names that may be meant, or an empty text."""
    from plancheck.shapenear import near  # only for a mistake

    found = near(name, names)
    return f"did you mean {' or '.join(found)}? " if found else ""
