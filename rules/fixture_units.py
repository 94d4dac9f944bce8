"""Declared load agrees with the fixtures

Looks at: the fixture units on the permit, cold, hot and total, against those of the plan's fixtures by the table of the code
    family in force: groups of a bathroom together, and each fixture by itself. A figure from the one sum to the other holds.
    Old fixtures that stay count, those taken out do not.
Why: meter, tap and fee follow the declared load. A sheet that declares less than hangs on the pipe is corrected at the counter
    or at the final, with the meter already in the ground.
To mend: count again by the table named, and correct the sheet; or draw what the sheet has and the plan has not.
Cannot see: how the office counts: some take their own sheet, some round up, some do not count old fixtures.
Ask: the office that takes the sheet, which table and edition it counts by.
"""

from collections.abc import Iterator, Mapping

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    broken,
    holds,
    on_site,
)

RULE = Rule("correction", "layout", ())

_SAME = 0.05 + 1e-9  # sheets round to a tenth
_SORTS = ("cold", "hot", "total")
_PATH: Path = ("permit", "units")
_TABLES = {"irc": "IRC Table P2903.6", "ipc": "IPC Table E103.3(2)", "upc": "UPC Table 610.3"}


class Declared(NamedTuple):
    """One declared total: cold, hot or total; None where nothing is declared."""

    sort: str | None
    said: float | str | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each total the permit declares; once, where it declares none and the plan has fixtures."""
    permit = facts.plan.permit
    units = permit.units if permit is not None else facts.source.data.get("permit")
    if isinstance(units, Mapping):
        for sort in _SORTS:
            if sort in units:
                yield Subject((*_PATH, sort), f"fixture units, {sort}", None, Declared(sort, units[sort]))
    elif facts.network.outlets:
        yield Subject(_PATH, "fixture units", None, Declared(None, units))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a declared total lies between the two sums of the plan's fixtures."""
    declared: Declared = subject.thing
    if declared.said == NONE:
        return on_site("none declared: ask the office whether it wants a count")
    if declared.sort is None:
        raise NotShown(_PATH, "the fixture units the permit declares (units: {total: 13.0})")
    number, about = _number(declared)
    if facts.family is None:
        raise NotShown(("code", "family"), "the code the job is built under (irc, ipc or upc)")
    from plancheck.demand.totals import totals_of

    found = totals_of(facts.plan, facts.family)
    sums = [getattr(one, declared.sort) for one in (found.grouped, found.single)]
    least, most = min(sums), max(sums)
    if number >= least - _SAME and found.missing:
        raise NotShown(found.missing[0].path, found.missing[0].what)
    measured = Measured(least if number < least - _SAME else min(max(number, least), most), "count")
    if least - _SAME <= number <= most + _SAME:
        return holds(f"{_figure(number)} declared", measured)
    return _differs(declared.sort, number, least, most, measured, about, facts)


def _number(declared: Declared) -> tuple[float, str]:
    """The declared figure, and its text where it is an estimate."""
    said = str(declared.said)
    try:
        number = float(said.removeprefix("about "))
    except ValueError:
        number = -1.0
    if declared.said in (None, NOT_KNOWN) or not 0 <= number < 1e6:
        raise NotShown((*_PATH, declared.sort or ""), "a bare figure of fixture units, such as 13.0")
    return number, said if said.startswith("about ") else ""


def _differs(
    sort: str, number: float, least: float, most: float, measured: Measured, about: str, facts: Facts
) -> Outcome:
    family = facts.family or ""
    sums = _figure(least) if most - least <= _SAME else f"{_figure(least)} with groups, {_figure(most)} one by one"
    name = "fixture units" if sort == "total" else f"{sort} fixture units"
    lower = number < least
    return broken(
        f"The permit says {_figure(number)} {name}, the plan's fixtures make {sums} ({_TABLES[family]}).",
        "correction" if lower else "advice",
        measured=measured,
        found=f"{_figure(number)} declared",
        needed=sums,
        why="Meter and tap are sized by what is declared."
        if lower
        else "The sheet declares more than is drawn: a fixture is missing here, or the count is by another table.",
        mend=f"Count again by {_TABLES[family]} and correct the sheet."
        if lower
        else "Draw what the sheet has and the plan has not, or correct the sheet.",
        ask="Ask the office which table and edition it counts by.",
        cause=("permit", "fixtures"),
        estimate=about,
    )


def _figure(units: float) -> str:
    text = f"{units + 1e-9:.2f}"
    return text.removesuffix("0")
