"""What a sheet of the pack is made of: plain data that a template prints."""

from __future__ import annotations

from collections.abc import Mapping

from plancheck.drawing.svg import Picture
from plancheck.facts import Facts
from plancheck.limits import Amended, InForce, Limit, Limits
from plancheck.loader import LoadedRule
from plancheck.record import NamedTuple
from plancheck.report.data import PlanReport

BLANK = ""  # a value to be written by hand


class Heading(NamedTuple):
    """A heading within a sheet."""

    text: str
    kind: str = "heading"


class Text(NamedTuple):
    """A paragraph."""

    text: str
    kind: str = "text"


class Pairs(NamedTuple):
    """Names with their values; a blank one is a line to write on. caption: what they are about."""

    rows: tuple[tuple[str, str], ...]
    caption: str = ""
    kind: str = "pairs"


class Grid(NamedTuple):
    """A table. figures: the places of columns that hold figures; marked: the rows that need attention, and why.

    A blank cell of a column in `writable` is a line to write on.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: frozenset[int] = frozenset()
    writable: frozenset[int] = frozenset()
    marked: Mapping[int, str] = {}
    notes: tuple[str, ...] = ()
    kind: str = "grid"


class Tick(NamedTuple):
    """One line with a box before it. done: who, when: a record that the plan already carries, shown as a claim."""

    text: str
    where: str = ""
    done: str = ""


class Boxes(NamedTuple):
    """Lines with boxes to tick by hand."""

    ticks: tuple[Tick, ...]
    kind: str = "boxes"


class Items(NamedTuple):
    """A plain list."""

    items: tuple[str, ...]
    kind: str = "items"


class Image(NamedTuple):
    """A drawing. true_size: to be printed in its own millimetres."""

    picture: Picture
    true_size: bool = False
    kind: str = "image"


class PunchList(NamedTuple):
    """The findings of the report, in full."""

    kind: str = "punch list"


Block = Heading | Text | Pairs | Grid | Boxes | Items | Image | PunchList


class Sheet(NamedTuple):
    """One sheet of the pack; about: what it is for, in a sentence."""

    id: str
    title: str
    about: str
    blocks: tuple[Block, ...]


class Material(NamedTuple):
    """All a pack is made from. amended: by rule, then by limit; pictures: drawings by their names."""

    facts: Facts
    report: PlanReport
    rules: tuple[LoadedRule, ...]
    amended: Mapping[str, Mapping[str, Amended]]
    pictures: Mapping[str, Picture]

    def in_force(self, rule: str, limit: str) -> InForce | None:
        """The value of a rule's limit that counts here; None where there is none, or no such rule ran."""
        for one in self.rules:
            if one.id == rule:
                found: Limit | None = next((own for own in one.rule.limits if own.id == limit), None)
                limits = Limits(self.facts.family, self.facts.edition, self.amended.get(rule))
                return limits.maybe(found) if found is not None else None
        return None


def said(value: object) -> str:
    """A value of a plan as it was written; blank where it is not said."""
    if value is None or value == "not known":
        return BLANK
    text = getattr(value, "text", None)
    return text if isinstance(text, str) else str(value)


def joined(*parts: str, by: str = ", ") -> str:
    """The parts that are not blank, in a row."""
    return by.join(part for part in parts if part)
