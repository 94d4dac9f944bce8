"""The colour of the tube says what runs in it

Looks at: the water that each new plastic run carries, traced from the source, the heater and the mixing valves, against
    the colour of its tube: blue, white or natural for cold; red, white or natural for hot and return; any of them for
    mixed. Tube made for heating on drinking water, or whose print bars it; purple, or a print that marks reclaimed water;
    water that is not for drinking in the colours of drinking water; and a written `carries` against the trace. Metal is
    not judged: the colours that copper is printed in tell the wall of the tube, not the water.
Why: whoever opens the wall in ten years goes by the colour, and lines crossed at a manifold are found by it. Tube made
    for heating is not tested for drinking water. Somebody takes purple for reclaimed water and joins more of it on.
To mend: swap the ends that were crossed, or pull tube of the right colour, or mark the run where it can be seen. Write
    the print line of the tube in the plan where it shows a mark for drinking water.
Cannot see: the tube itself, its print, marks and tape put on later, what runs in pipe that the plan does not join. Where
    water that is not for drinking goes to taps or a heater, the water is the question and its colour is left open.
Ask: no code asks for red or blue. Only where a house has water for drinking and water that is not do the codes ask for
    colour and words on both (IPC 608.8, 608.9 from 2018; IRC P2901.2; UPC 601.2 and 601.3): the inspector says how.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    HAZARDS,
    NOT_KNOWN,
    PLASTIC,
    Carried,
    Colours,
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
    on_site,
    printed,
    recalled,
)

_MARK = "a potable mark on the print line (NSF-pw or NSF 61)"
_PURPLE = "purple: not for drinking"
_USUAL = "red hot, blue cold, white either"
_IPC_COLOURS = printed("IPC", "2018", "608.9 (608.8 to 2015)")
_APART = "colour and words on both where both waters are in one building"
HABIT = Limit(
    "habit",
    "colour by the water carried: red or blue is habit, not code",
    "text",
    "",
    practice=(Value(_USUAL, printed("retailers' and trade pages", "", "colours"), practice=True),),
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
    ipc=(Value(_PURPLE, _IPC_COLOURS),),
    irc=(Value(_PURPLE, printed("IRC", "", "P2901.2")),),
    upc=(Value(_PURPLE, printed("UPC", "", "601.2, 601.3")),),
    practice=(Value(_PURPLE, printed("a trade page", "", "colours")),),
)
APART = Limit(
    "apart",
    "how water that is not for drinking is told from drinking water",
    "text",
    "",
    ipc=(Value("its contents and an arrow every 25 ft and at walls and floors", _IPC_COLOURS),),
    irc=(Value(_APART, printed("IRC", "", "P2901.2")),),
    upc=(Value("its contents every 20 ft, once a room at least", recalled("UPC", "", "601.2, 601.3")),),
    practice=(Value(_APART, printed("a trade page", "", "identification"), practice=True),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(HABIT, POTABLE, RECLAIMED, APART))

_THE_WATER = (
    "traced: water that is not for drinking, on its way to taps or a heater; the water itself is the question, "
    "what colour the tube ought to have comes after it"
)
_SPOKEN = {"hot": ("hot return", "mixed")}  # who writes hot also means hot on its way back and tempered


class Coloured(NamedTuple):
    """A plastic run, its tube, what it is traced to carry, and what is known of all the plan's tubes."""

    run: Run
    tube: Tube
    carried: Carried
    colours: Colours


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run of plastic, and of tube whose material is not said; and each run that says what it carries."""
    colours = Colours(facts)
    tubes = {t.id: t for t in facts.plan.tubes.values() if t.material in PLASTIC or t.material in (None, NOT_KNOWN)}
    for id_, run in facts.plan.runs.items():
        if run.work == "removed":
            continue
        place = facts.run_place(id_)
        tube = tubes.get(run.tube) if run.tube is not None else None
        if tube is not None:
            yield Subject(("runs", id_), f"colour of {id_}", place, Coloured(run, tube, facts.carried(id_), colours))
        if run.carries is not None and run.carries != NOT_KNOWN:
            yield Subject(("runs", id_, "carries"), f"what {id_} is said to carry", place, run)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether colour or written service agrees with the trace."""
    if not isinstance(subject.thing, Coloured):
        return _declared(subject.thing, facts)
    run, tube, carried, colours = subject.thing
    service, colour = carried.service, tube.colour
    fault = colours.fault(tube, service or "")
    if is_new(run):
        _joined(run, carried, facts)
    elif fault not in HAZARDS or service is None:
        return on_site(f"existing tube traced {service or 'dry'}: read its print and colour")
    if service == "not potable" and colours.is_drunk(run):
        return on_site(_THE_WATER)
    if fault is None and colour in (None, NOT_KNOWN):
        raise NotShown(("tubes", tube.id, "colour"), "the colour of the tube")
    if fault is None:
        return holds(f"{colour} on {service}")
    if tube.material not in PLASTIC:
        raise NotShown(("tubes", tube.id, "material"), "what the tube is made of")
    return _faulty(subject.thing, fault, limits)


def _joined(run: Run, carried: Carried, facts: Facts) -> None:
    """Raises NotShown where the water of the run cannot be told: nothing reaches it, or it joins hot and cold."""
    if carried.service is None:
        raise NotShown(("runs", run.id, "from"), "which water runs in it: nothing joins it to the source or a heater")
    if run.id in facts.traced.crossovers:
        raise NotShown(
            ("runs", run.id, "to"), "which water runs in it: it joins hot and cold, and is to come out first"
        )


def _declared(run: Run, facts: Facts) -> Outcome:
    carried = facts.carried(run.id)
    said, traced = run.carries or "", carried.service
    _joined(run, carried, facts)
    if said == traced or traced in _SPOKEN.get(said, ()):
        return holds(f"written {said}, traced {traced}")
    mend = "See which end is joined wrongly, or take `carries` out: it is traced anyway."
    if said == "not potable":
        mend = "Draw the device that parts it from drinking water and write what it serves, or take `carries` out."
    return broken(
        f"{run.id} is written to carry {_water(said)}, but as the pipe is joined it carries {_water(traced)}.",
        "advice",
        measured=Measured(traced or "", "text"),
        found=f"traced {traced}",
        needed=f"{said}, as written",
        why="Whoever reads the plan goes by the word, and whoever opens the tap by the pipe.",
        mend=mend,
    )


def _water(service: str | None) -> str:
    return "water that is not for drinking" if service == "not potable" else service or ""


def _faulty(thing: Coloured, fault: str, limits: Limits) -> Outcome:
    run, tube, carried, colours = thing
    if fault == "unread" and tube.print == NOT_KNOWN:
        return on_site(f"the print of the {tube.colour} tube '{tube.id}' could not be read: look for {_MARK}")
    if fault == "unread":
        raise NotShown(("tubes", tube.id, "print"), "the print line of the tube")
    root = colours.root(run, tube, carried.service or "", fault)
    cause: Path | None = ("runs", root) if root != run.id else None
    if cause is None and fault in ("heating", "denied"):
        cause = ("tubes", tube.id, "print")  # what the print lacks comes first; its colour follows
    from plancheck.colourfaults import (
        on_barred,
        on_drinking_colour,
        on_habit,
        on_heating,
        on_purple,
    )

    if fault == "purple":
        return on_purple(thing, limits.of(RECLAIMED), cause)
    if fault in ("reclaimed", "denied"):
        return on_barred(
            thing, fault, limits.of(RECLAIMED if fault == "reclaimed" else POTABLE), limits.of(POTABLE), cause
        )
    if fault == "heating":
        return on_heating(thing, limits.of(POTABLE), cause)
    if fault == "habit":
        return on_habit(thing, limits.of(HABIT), cause or colours.crossed(run.id))  # crossed sides are told first
    return on_drinking_colour(thing, limits.of(APART), cause)
