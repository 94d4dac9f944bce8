"""The colour of the tube says what runs in it

Looks at: the water that each new plastic run carries, traced from the source, the heater and the mixing valves, against
    the colour of its tube: blue, white or natural for cold; red, white or natural for hot and return; any of them for
    mixed. Tube made for heating on drinking water; purple, which marks reclaimed water; water that is not for drinking
    in the colours of drinking water; and a written `carries` against the trace. Metal is not judged: the colours that
    copper is printed in tell the wall of the tube, not the water.
Why: whoever opens the wall in ten years goes by the colour, and lines crossed at a manifold are found by it. Tube made
    for heating is not tested for drinking water. Somebody takes purple for reclaimed water and joins more of it on.
To mend: swap the ends that were crossed, or pull tube of the right colour, or mark the run where it can be seen. Write
    the print line of the tube in the plan where it shows a mark for drinking water.
Cannot see: the tube itself, its print, marks and tape put on later, what runs in pipe that the plan does not join.
Ask: no code asks for red or blue. Only where a house has water for drinking and water that is not do the codes ask for
    colour and words on both (IPC 608.8, 608.9 from 2018; IRC P2901.2; UPC 601.2 and 601.3): the inspector says how.
"""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from plancheck.rulekit import (
    NOT_KNOWN,
    PLASTIC,
    Carried,
    Facts,
    InForce,
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
    on_site,
    printed,
    recalled,
    tube_of,
)

_MARK = "a potable mark on the print line (NSF-pw or NSF 61)"
_PURPLE = "purple: not for drinking"
_APART = "colour and words on both where both waters are in one building"
HABIT = Limit(
    "habit",
    "colour by the water carried: red or blue is habit, not code",
    "text",
    "",
    practice=(
        Value("red hot, blue cold, white either", printed("retailers' and trade pages", "", "colours"), practice=True),
    ),
)
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
    ipc=(Value(_PURPLE, printed("IPC", "2018", "608.9 (608.8 to 2015)")),),
    irc=(Value(_PURPLE, printed("IRC", "", "P2901.2")),),
    upc=(Value(_PURPLE, printed("UPC", "", "601.2, 601.3")),),
    practice=(Value(_PURPLE, printed("a trade page", "", "colours")),),
)
APART = Limit(
    "apart",
    "how water that is not for drinking is told from drinking water",
    "text",
    "",
    ipc=(
        Value(
            "its contents and an arrow every 25 ft and at walls and floors",
            printed("IPC", "2018", "608.9 (608.8 to 2015)"),
        ),
    ),
    irc=(Value(_APART, printed("IRC", "", "P2901.2")),),
    upc=(Value("its contents every 20 ft, once a room at least", recalled("UPC", "", "601.2, 601.3")),),
    practice=(Value(_APART, printed("a trade page", "", "identification"), practice=True),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(HABIT, POTABLE, RECLAIMED, APART))

_EITHER = ("white", "natural")
_FITS = {
    "cold": ("blue", *_EITHER),
    "hot": ("red", *_EITHER),
    "hot return": ("red", *_EITHER),
    "mixed": ("red", "blue", *_EITHER),
}
_SPOKEN = {"hot": ("hot return", "mixed")}  # who writes hot also means hot on its way back and tempered
_TELLS_NOTHING = ("grey", "black")
_LIKE_DRINKING = ("blue", "red", "green", *_EITHER)
_POTABLE_MARKS = ("nsfpw", "nsf61", "nsfansi61", "nsfcan61", "nsfansican61")
_BARRIER_MARKS = ("barrier", "evoh", "din4726")


class Coloured(NamedTuple):
    """A plastic run, its tube and what it is traced to carry; roots: run -> where the fault it carries on began."""

    run: Run
    tube: Tube
    carried: Carried
    roots: dict[str, str]


class Declared(NamedTuple):
    """A run with a written `carries`."""

    run: Run
    carried: Carried


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run of plastic, and of tube whose material is not said; and each run that says what it carries."""
    roots: dict[str, str] = {}
    for run in facts.plan.runs.values():
        if run.work == "removed":
            continue
        place = (facts.run_places(run.id) or (None,))[-1]
        tube = tube_of(run, facts.plan)
        carried = facts.carried(run.id)
        if tube is not None and (tube.material in PLASTIC or tube.material in (None, NOT_KNOWN)):
            yield Subject(("runs", run.id), f"colour of {run.id}", place, Coloured(run, tube, carried, roots))
        if run.carries is not None and run.carries != NOT_KNOWN:
            yield Subject(("runs", run.id, "carries"), f"what {run.id} is said to carry", place, Declared(run, carried))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether colour or written service agrees with the trace."""
    if isinstance(subject.thing, Declared):
        return _declared(subject.thing, facts)
    thing: Coloured = subject.thing
    service, colour, new = thing.carried.service, thing.tube.colour, is_new(thing.run)
    potable = service not in (None, "not potable")
    if new:
        _joined(thing.run, thing.carried, facts)
    elif not (potable and colour == "purple"):
        return on_site(f"existing tube traced {service or 'dry'}: read its print and colour")
    if colour is None or colour == NOT_KNOWN:
        raise NotShown(("tubes", thing.tube.id, "colour"), "the colour of the tube")
    if thing.tube.material not in PLASTIC and _fault(thing.tube, service or "") is not None:
        raise NotShown(("tubes", thing.tube.id, "material"), "what the tube is made of")
    return _judged(thing, colour, facts, limits)


def _joined(run: Run, carried: Carried, facts: Facts) -> None:
    """Raises NotShown where the water of the run cannot be told: nothing reaches it, or it joins hot and cold."""
    if carried.service is None:
        raise NotShown(("runs", run.id, "from"), "which water runs in it: nothing joins it to the source or a heater")
    if run.id in facts.traced.crossovers:
        raise NotShown(
            ("runs", run.id, "to"), "which water runs in it: it joins hot and cold, and is to come out first"
        )


def _declared(thing: Declared, facts: Facts) -> Outcome:
    said, traced = thing.run.carries or "", thing.carried.service
    _joined(thing.run, thing.carried, facts)
    if said == traced or traced in _SPOKEN.get(said, ()):
        return holds(f"written {said}, traced {traced}")
    mend = "See which end is joined wrongly, or take `carries` out: it is traced anyway."
    if said == "not potable":
        mend = "Draw the device that parts it from drinking water and write what it serves, or take `carries` out."
    return broken(
        f"{thing.run.id} is written to carry {_water(said)}, but as the pipe is joined it carries {_water(traced)}.",
        "advice",
        measured=Measured(traced or "", "text"),
        found=f"traced {traced}",
        needed=f"{said}, as written",
        why="Whoever reads the plan goes by the word, and whoever opens the tap by the pipe.",
        mend=mend,
    )


def _water(service: str | None) -> str:
    return "water that is not for drinking" if service == "not potable" else service or ""


@cache
def _squeezed(marks: tuple[str, ...]) -> str:
    """The print line in small letters without spaces and strokes, marks apart."""
    return ",".join("".join(letter for letter in mark.lower() if letter.isalnum()) for mark in marks)


def _print(tube: Tube) -> str:
    return _squeezed(tube.print) if isinstance(tube.print, tuple) else ""


def _is_potable(tube: Tube) -> bool:
    line = _print(tube)
    return any(mark in line for mark in _POTABLE_MARKS) or ("nsf14" in line and "pw" in line)


def _barrier(tube: Tube) -> str | None:
    """What makes it heating tube, in words, or None."""
    line = _print(tube)
    if any(part in line for part in _BARRIER_MARKS):
        return "oxygen-barrier tube"
    if "nsfrfh" in line:
        return "heating tube by its mark (NSF-rfh)"
    return "orange, which is mostly tube for heating," if tube.colour == "orange" else None


def _fault(tube: Tube, service: str) -> str | None:
    """What is wrong with this tube on that water (purple, heating, drinking colour, habit, unread), or None."""
    colour = tube.colour or ""
    if service == "not potable":
        return "drinking colour" if colour in _LIKE_DRINKING else None
    if colour == "purple":
        return "purple"
    if _barrier(tube) is not None and not _is_potable(tube):
        return "heating"
    if colour in _TELLS_NOTHING and not isinstance(tube.print, tuple):
        return "unread"
    return "habit" if colour in ("red", "blue") and colour not in _FITS.get(service, ()) else None


def _judged(thing: Coloured, colour: str, facts: Facts, limits: Limits) -> Outcome:
    service = thing.carried.service or ""
    fault = _fault(thing.tube, service)
    if fault is None:
        return holds(f"{colour} on {service}")
    if fault == "unread":
        raise NotShown(("tubes", thing.tube.id, "print"), f"the print line of the {colour} tube")
    root = _first_of_tube(thing, fault, facts) if fault in ("purple", "heating") else _upstream(thing, fault, facts)
    cause: Path | None = ("runs", root) if root != thing.run.id else None
    if fault == "purple":
        return _on_purple(thing, limits.of(RECLAIMED), cause)
    if fault == "heating":
        return _on_heating(thing, limits.of(POTABLE), cause)
    if fault == "habit":
        return _on_habit(thing, limits.of(HABIT), cause)
    return _on_drinking_colour(thing, limits.of(APART), cause)


def _on_purple(thing: Coloured, limit: InForce, cause: Path | None) -> Outcome:
    return broken(
        f"{thing.run.id} is purple and carries {thing.carried.service} drinking water.",
        "hazard",
        measured=Measured("purple", "text"),
        limit=limit,
        found="purple tube on drinking water",
        needed="any colour but purple, which marks reclaimed water",
        why="Whoever works here next takes purple for reclaimed water, and joins reclaimed water to it.",
        mend="Pull it out and run tube of another colour; keep purple for reclaimed water. A potable mark on its print "
        "does not help: nobody reads it in a wall.",
        caution="A cross-connection can make people ill: have the authority look at any purple pipe in the house.",
        cause=cause,
    )


def _on_heating(thing: Coloured, limit: InForce, cause: Path | None) -> Outcome:
    mark = "its print is not stated" if thing.tube.print is None else "its print shows no potable mark"
    barrier = _barrier(thing.tube) or ""
    return broken(
        f"{thing.run.id} is {barrier} on drinking water, and {mark}.",
        "correction",
        measured=Measured(thing.tube.colour or "", "text"),
        limit=limit,
        found=f"{barrier.strip(',')}; {mark}",
        needed=_MARK,
        why="Tube made for heating is not tested for what it gives off into drinking water.",
        mend=f"Use tube that prints a potable mark; if '{thing.tube.id}' does, write its whole print line in the plan.",
        cause=cause,
    )


def _on_drinking_colour(thing: Coloured, limit: InForce, cause: Path | None) -> Outcome:
    colour = thing.tube.colour or ""
    return broken(
        f"{thing.run.id} carries water that is not for drinking in {colour} tube.",
        "advice",
        measured=Measured(colour, "text"),
        limit=limit,
        found=f"{colour} tube on water that is not for drinking",
        needed="colour and words that tell it from drinking water; purple for reclaimed water",
        why="In the colour of drinking water the next tee goes in for drinking.",
        mend=f"Use purple tube where the water is reclaimed; else mark the run: {limit.value}.",
        cause=cause,
    )


def _on_habit(thing: Coloured, limit: InForce, cause: Path | None) -> Outcome:
    service, colour = thing.carried.service or "", thing.tube.colour or ""
    other = "cold" if colour == "blue" else "hot"
    port = thing.carried.circuit or "the joint it starts from"
    return broken(
        f"{thing.run.id} is {colour} but carries {service}.",
        "advice",
        measured=Measured(colour, "text"),
        limit=limit,
        found=f"{colour} tube, traced {service}",
        needed=f"{_FITS[service][0]}, white or natural; no code asks for it, people go by it",
        why="Whoever opens the wall in ten years goes by the colour, and lines crossed at a manifold are found by it.",
        mend=f"If {thing.run.id} should carry {other}, its ends are crossed: swap them at {port}. Else change the "
        "tube, or mark both ends.",
        cause=cause,
    )


def _first_of_tube(thing: Coloured, fault: str, facts: Facts) -> str:
    """The first run that has the same fault of the same tube: one coil, one thing to mend."""
    key = f"{fault} {thing.tube.id}"
    if key not in thing.roots:
        for run in facts.plan.runs.values():
            potable = facts.carried(run.id).service not in (None, "not potable")
            if (
                run.tube == thing.tube.id
                and potable
                and (is_new(run) or (fault == "purple" and run.work == "existing"))
            ):
                thing.roots[key] = run.id
                break
    return thing.roots.get(key, thing.run.id)


def _upstream(thing: Coloured, fault: str, facts: Facts) -> str:
    """The run nearest the port or the source from which on every run to this one has the same fault and water."""
    here = thing.run.id
    way = {here: here}
    while here not in thing.roots:
        before = facts.before(here)
        if before is None or before in way or not _same(facts.plan.runs[before], thing, fault, facts):
            break
        here = before
        way[here] = here
    root = thing.roots.get(here, here)
    thing.roots.update(dict.fromkeys(way, root))
    return root


def _same(run: Run, thing: Coloured, fault: str, facts: Facts) -> bool:
    tube = tube_of(run, facts.plan)
    if tube is None or tube.material not in PLASTIC or not is_new(run) or run.id in facts.traced.crossovers:
        return False
    return facts.carried(run.id).service == thing.carried.service and _fault(tube, thing.carried.service or "") == fault
