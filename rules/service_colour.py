"""The colour of the tube says what runs in it

Looks at: the water each new plastic run carries, traced from the source and the heater, against the colour of its tube;
    and a written `carries` against the trace. Metal tube is not judged: the colours printed on copper tell its wall.
Why: whoever opens the wall in ten years believes the colour. Purple means reclaimed water everywhere; tube made for
    heating is not made for drinking water. Red and blue are only habit, but crossed lines are found by them.
To mend: pull the tube of the right colour, or swap the ends that were crossed, or mark the run where it can be seen.
Cannot see: the tube itself, its print, or marks and tape put on later.
Ask: no model code asks for red or blue; where a house has water that is not for drinking, the code asks for marks and
    colour on both, and the inspector says how.
"""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from plancheck.rulekit import (
    NOT_KNOWN,
    Carried,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Subject,
    Tube,
    Value,
    broken,
    holds,
    is_new,
    is_plastic,
    on_site,
    printed,
    recalled,
    tube_of,
)

HABIT = Limit(
    "habit",
    "colour by the water carried: red or blue is habit, not code",
    "text",
    "",
    practice=(Value("red hot, blue cold, white either", printed("retailers' and trade pages", "", "colours"), practice=True),),
)
_MARK = "a potable mark on the print line (NSF-pw or NSF 61)"
POTABLE = Limit(
    "potable",
    "tube for drinking water is listed and marked for it",
    "text",
    "",
    irc=(Value(_MARK, recalled("IRC", "2018", "P2906")),),
    ipc=(Value(_MARK, printed("IPC", "", "605.3 (NSF/ANSI 61)")),),
    upc=(Value(_MARK, recalled("UPC", "2018", "604.1")),),
    practice=(Value(_MARK, printed("a retailer's and trade pages", "", "barrier tube"), practice=True),),
)
RECLAIMED = Limit(
    "reclaimed",
    "purple marks reclaimed water",
    "text",
    "",
    ipc=(Value("purple: not for drinking", printed("IPC", "2018", "608.9 (608.8 to 2015)")),),
    irc=(Value("purple: not for drinking", printed("IRC", "", "P2901.2")),),
    upc=(Value("purple: not for drinking", printed("UPC", "", "601.2, 601.3")),),
    practice=(Value("purple: not for drinking", printed("a trade page", "", "colours")),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(HABIT, POTABLE, RECLAIMED))

_FITS = {
    "cold": ("blue", "white", "natural"),
    "hot": ("red", "white", "natural"),
    "hot return": ("red", "white", "natural"),
    "mixed": ("red", "blue", "white", "natural"),
}
_POTABLE_MARKS = ("nsf-pw", "nsfpw", "nsf61", "nsf/ansi61", "nsf/ansi/can61", "nsf-61")
_BARRIER_MARKS = ("barrier", "evoh", "din4726")


class Coloured(NamedTuple):
    """A plastic run with its tube and what it is traced to carry."""

    run: Run
    tube: Tube
    carried: Carried


class Declared(NamedTuple):
    """A run with a written `carries`."""

    run: Run
    carried: Carried


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each plastic run, and each run that says what it carries."""
    for run in facts.plan.runs.values():
        if run.work == "removed":
            continue
        place = (facts.run_places(run.id) or (None,))[-1]
        tube = tube_of(run, facts.plan)
        carried = facts.carried(run.id)
        if tube is not None and is_plastic(tube):
            yield Subject(("runs", run.id), f"colour of {run.id}", place, Coloured(run, tube, carried))
        if run.carries is not None and run.carries != NOT_KNOWN:
            yield Subject(("runs", run.id, "carries"), f"what {run.id} is said to carry", place, Declared(run, carried))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether colour or written service agrees with the trace."""
    if isinstance(subject.thing, Declared):
        return _declared(subject.thing)
    thing: Coloured = subject.thing
    if thing.carried.service is None:
        raise NotShown(_loose_end(thing.run), "which water runs in it: nothing joins it to the source or a heater")
    if not is_new(thing.run):
        return on_site(f"existing tube traced {thing.carried.service}: read its print and colour")
    colour = thing.tube.colour
    if colour is None or colour == NOT_KNOWN:
        raise NotShown(("tubes", thing.tube.id, "colour"), "the colour of the tube")
    if thing.carried.service == "not potable":
        return _not_potable(thing, colour, limits)
    if colour == "purple":
        return _purple(thing, limits)
    barrier = _barrier(thing.tube, colour)
    if barrier is not None and not _has_potable_mark(thing.tube):
        return _heating_tube(thing, barrier, limits)
    return _plain(thing, colour, facts, limits)


def _loose_end(run: Run) -> Path:
    return ("runs", run.id, "from")


def _declared(thing: Declared) -> Outcome:
    said, traced = thing.run.carries, thing.carried.service
    if traced is None:
        raise NotShown(_loose_end(thing.run), "which water runs in it: nothing joins it to the source or a heater")
    if said == traced:
        return holds(f"written and traced {traced}")
    return broken(
        f"{thing.run.id} is written to carry {said}, but the way the pipe is joined it carries {traced}.",
        "advice",
        measured=Measured(traced, "text"),
        found=f"traced {traced}",
        needed=f"{said}, as written",
        mend="See which end is joined wrongly, or take `carries` out: it is traced anyway.",
        at=("runs", thing.run.id, "carries"),
    )


@cache
def _squeezed(marks: tuple[str, ...]) -> tuple[str, ...]:
    """The marks of a print line without white space and capitals."""
    return tuple("".join(mark.lower().split()) for mark in marks)


def _marks(tube: Tube) -> tuple[str, ...]:
    return _squeezed(tube.print) if isinstance(tube.print, tuple) else ()


def _has_potable_mark(tube: Tube) -> bool:
    marks = _marks(tube)
    return any(mark.startswith(_POTABLE_MARKS) for mark in marks) or ("nsf14" in marks and "pw" in marks)


def _barrier(tube: Tube, colour: str) -> str | None:
    """What makes it heating tube, in words, or None."""
    marks = _marks(tube)
    if any(part in mark for mark in marks for part in _BARRIER_MARKS):
        return "oxygen-barrier tube"
    if "nsf-rfh" in marks:
        return "heating tube by its mark (NSF-rfh)"
    return "orange tube, which is mostly made for heating" if colour == "orange" else None


def _purple(thing: Coloured, limits: Limits) -> Outcome:
    return broken(
        f"{thing.run.id} is purple and carries {thing.carried.service} drinking water.",
        "hazard",
        measured=Measured("purple", "text"),
        limit=limits.of(RECLAIMED),
        found="purple tube on drinking water",
        needed="any colour but purple, which marks reclaimed water",
        why="Whoever works here next takes purple for reclaimed water, and joins reclaimed water to it.",
        mend="Pull it out and run tube of another colour; keep purple for reclaimed water.",
        caution="A cross-connection can make people ill: have the authority look at any purple pipe in the house.",
    )


def _heating_tube(thing: Coloured, barrier: str, limits: Limits) -> Outcome:
    mark = "its print is not stated" if thing.tube.print is None else "its print shows no potable mark"
    return broken(
        f"{thing.run.id} is {barrier} on drinking water, and {mark}.",
        "correction",
        measured=Measured(thing.tube.colour or "", "text"),
        limit=limits.of(POTABLE),
        found=f"{barrier}; {mark}",
        needed="a potable mark on the print line (NSF-pw or NSF 61)",
        mend="Use tube that prints a potable mark; if this one does, write its whole print line in the plan.",
    )


def _not_potable(thing: Coloured, colour: str, limits: Limits) -> Outcome:
    if colour == "purple":
        return holds("purple on water that is not for drinking")
    return broken(
        f"{thing.run.id} carries water that is not for drinking in {colour} tube.",
        "advice",
        measured=Measured(colour, "text"),
        found=f"{colour} tube on water that is not for drinking",
        needed="colour and words that tell it from drinking water; purple for reclaimed water",
        mend="Use purple tube where the water is reclaimed, else mark the run with its contents and direction.",
        ask="The code asks for marks where both waters are in one house (IPC 608.9, IRC P2901.2, UPC 601): ask how.",
    )


def _plain(thing: Coloured, colour: str, facts: Facts, limits: Limits) -> Outcome:
    service = thing.carried.service or ""
    if colour in ("grey", "black"):
        if not isinstance(thing.tube.print, tuple):
            raise NotShown(("tubes", thing.tube.id, "print"), f"the print line of the {colour} tube")
        return holds(f"{colour}, known by its print")
    if colour in _FITS.get(service, ()) or colour not in ("red", "blue"):
        return holds(f"{colour} on {service}")
    other = "cold" if colour == "blue" else "hot"
    return broken(
        f"{thing.run.id} is {colour} but carries {service}.",
        "advice",
        measured=Measured(colour, "text"),
        limit=limits.of(HABIT),
        found=f"{colour} tube, traced {service}",
        needed=f"{' or '.join(_FITS[service])}; no code asks for it, people go by it",
        mend=f"If {thing.run.id} should carry {other}, its ends are crossed: swap them at {_port(thing)}. Else change the "
        "tube or mark both ends.",
        cause=_root(thing, facts),
    )


def _port(thing: Coloured) -> str:
    return thing.carried.circuit or "the joint it starts from"


def _root(thing: Coloured, facts: Facts) -> Path | None:
    """The first run of the same circuit and colour: crossed ends at its port make all of them wrong at once."""
    for run in facts.plan.runs.values():
        carried = facts.carried(run.id)
        tube = tube_of(run, facts.plan)
        if carried.circuit == thing.carried.circuit and tube is not None and tube.colour == thing.tube.colour:
            if carried.circuit is None or run.id == thing.run.id:
                return None
            return ("runs", run.id) if carried.service == thing.carried.service else None
    return None
