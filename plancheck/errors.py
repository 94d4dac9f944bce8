"""What goes wrong with a file, as data: where, what was found, how to mend it."""

from plancheck.record import NamedTuple


class Problem(NamedTuple):
    """One thing that keeps a file from being read, or written. line and column count from 1; 0 means the whole file."""

    file: str
    line: int
    column: int
    says: str
    mend: str = ""
    wanted: str = "read"


class Unreadable(Exception):
    """A file could not be read as a plan. args[0] is a tuple of Problem, at least one, in file order.

    more counts the problems that were found but are not listed.
    """

    def __init__(self, problems: tuple[Problem, ...], more: int = 0) -> None:
        super().__init__(problems)
        self.problems = problems
        self.more = more
