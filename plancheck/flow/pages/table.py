"""A table of answers: SI figures with the kind of their unit, words, or nothing."""

from plancheck.record import NamedTuple

Cell = float | str | None


class Column(NamedTuple):
    """A column: its name; kind: text, or the kind of its figures (pressure, flow, speed, temperature, difference, length,
    volume, duration, share, count)."""

    name: str
    kind: str = "text"


class Table(NamedTuple):
    """Rows of cells under columns; says: sentences that go with it; notes: sources and what is not in it."""

    id: str
    title: str
    columns: tuple[Column, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    says: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def not_shown(id_: str, title: str, why: str) -> Table:
    """A table that says that it cannot be shown, and why where that is known."""
    return Table(id_, title, says=(f"Not shown{f' ({why})' if why else ''}.",))


class Page(NamedTuple):
    """All answers on one plan. assumed: what was taken where the plan says nothing; not_shown: (what, key) that is
    missing; not_modelled: what the computation leaves out; cautions: for people."""

    file: str
    raw: bytes
    title: str
    code: str
    tables: tuple[Table, ...]
    assumed: tuple[str, ...]
    not_shown: tuple[tuple[str, str], ...]
    not_modelled: tuple[str, ...]
    cautions: tuple[str, ...]


class Gaps:
    """Collects what is missing, each key once."""

    def __init__(self) -> None:
        self.found: dict[tuple[str, str], None] = {}

    def add(self, path: tuple[str | int, ...], what: str) -> None:
        """A missing fact: the key to add, and what it is."""
        self.found["".join(f"/{step}" for step in path), what] = None
