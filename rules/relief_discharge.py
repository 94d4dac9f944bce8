"""The relief pipe is full size, falls all the way and ends where nobody is scalded

Looks at: the pipe from each heater's relief valve: that there is one; its size against the valve's outlet; its material; where
    it ends and how high; whether it falls and whether anything can shut it.
Why: when the valve opens, water of up to 210 degF comes out and turns to steam. A pipe that is narrow, rises or is
    plugged keeps it in the tank; one that ends high scalds whoever stands there.
To mend: hard copper of the valve's own size, falling all the way, strapped, its plain end a hand's breadth above a floor
    drain in the same room. PEX one size larger, with its end fastened, where the code takes it.
Cannot see: a thread at its end, another pipe joined to it, frost at an end outdoors.
Ask: where it may end under the UPC; whether a pan may take it under older codes.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GALLON_M3,
    INCH_M,
    NONE,
    NOT_KNOWN,
    PEX,
    Discharge,
    Facts,
    HeaterOwn,
    InForce,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Path,
    Quantity,
    Relief,
    Rule,
    Size,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    known_text,
    on_site,
    printed,
    recalled,
)

_PIPE = "a full-size pipe that falls, without valve, plug or trap"
_INTO = "floor, floor drain, waste receptor or outdoors"
PIPE = Limit("pipe", "pipe of a heater's relief valve", "text", "", irc=(Value(_PIPE, printed("IRC", "2015", "P2804.6.1")),),
             ipc=(Value(_PIPE, printed("IPC", "2015", "504.6")),), upc=(Value(_PIPE, printed("UPC", "2015", "608.5")),),
             practice=(Value(_PIPE, printed("IRC and IPC", "2015", "P2804.6.1, 504.6"), practice=True),))  # fmt: skip
LARGER = Limit("larger", "size of a relief pipe of PEX over the valve's outlet", "text", "",
               irc=(Value("one size larger, end fastened", printed("IRC", "2015", "P2804.6.1")),),
               ipc=(Value("one size larger, end fastened", printed("IPC", "2018", "504.6")),),
               upc=(Value("galvanised steel, hard copper, CPVC or listed drain tube",
                          printed("UPC", "a state's amendment", "608.5"), practice=True),))  # fmt: skip
INTO = Limit("into", "where a relief pipe may end", "text", "",
             irc=(Value(_INTO, recalled("IRC", "2012", "P2803.6.1"), practice=True),
                  Value(f"{_INTO}, or pan", printed("IRC", "2015", "P2804.6.1"), since=2015)),
             ipc=(Value(_INTO, recalled("IPC", "2012", "504.6"), practice=True),
                  Value(f"{_INTO}, or pan", printed("IPC", "2015", "504.6"), since=2015)),
             upc=(Value(f"{_INTO}, no pan", printed("UPC", "2015", "608.5")),))  # fmt: skip
MOST = Limit("most", "end of a relief pipe above floor or receptor", "length", "at most",
             irc=(Value(6 * INCH_M, printed("IRC", "2015", "P2804.6.1")),),
             ipc=(Value(6 * INCH_M, printed("IPC", "2015", "504.6")),))  # fmt: skip
LEAST = Limit("least", "end of a relief pipe above floor or receptor", "diameters", "at least",
              irc=(Value(0.0, printed("IRC", "2015", "P2804.6.1")),
                   Value(2.0, printed("IRC", "2018", "P2804.6.1"), since=2018)),
              ipc=(Value(0.0, printed("IPC", "2015", "504.6")),
                   Value(2.0, printed("IPC", "2018", "504.6"), since=2018)))  # fmt: skip
OUT_LEAST = Limit("out_least", "end of a relief pipe above ground", "length", "at least",
                  upc=(Value(6 * INCH_M, printed("UPC", "2015", "608.5")),))  # fmt: skip
OUT_MOST = Limit("out_most", "end of a relief pipe above ground", "length", "at most",
                 upc=(Value(24 * INCH_M, printed("UPC", "2015", "608.5")),))  # fmt: skip
RULE = Rule(highest="hazard", stage="layout", limits=(PIPE, LARGER, INTO, MOST, LEAST, OUT_LEAST, OUT_MOST))

_INSERTS = PEX  # their fittings go inside the tube
_NEVER = ("PVC", "PE", "polybutylene", "lead")
_BIG_M3 = 20 * GALLON_M3


class Asked(NamedTuple):
    """One question on the relief pipe of a heater: pipe, size, material, to, end, shut, falls, sight."""

    part: Part
    relief: Relief
    pipe: Discharge | str | None
    asks: str

    @property
    def path(self) -> Path:
        """Where the pipe is in the plan."""
        return ("parts", self.part.id, "relief", "discharge")


def subjects(facts: Facts) -> Iterator[Subject]:
    """For each heater with a relief valve whether it has a pipe, and seven questions on that."""
    for part in facts.plan.parts.values():
        relief = part.own.relief if isinstance(part.own, HeaterOwn) and part.work != "removed" else None
        if not isinstance(relief, Relief):
            continue
        pipe, name = relief.discharge, facts.part_name(part.id)
        first = Asked(part, relief, pipe, "pipe")
        yield Subject(first.path, f"relief pipe of {name}", part.place, first)
        if isinstance(pipe, Discharge):
            for asks in ("size", "material", "to", "end", "shut", "falls"):
                asked, title = Asked(part, relief, pipe, asks), f"relief pipe of {name}, {_TITLES[asks]}"
                yield Subject((*first.path, asks), title, part.place, asked, "rough-in")
            seen = Asked(part, relief, pipe, "sight")
            yield Subject(first.path, f"end of the relief pipe of {name}", part.place, seen, "rough-in")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the pipe lets the valve's water out, and where."""
    asked: Asked = subject.thing
    if not isinstance(asked.pipe, Discharge):
        return _pipe(asked, facts, limits)
    if asked.asks == "pipe":
        return holds("it has one")
    if asked.asks == "sight":
        return on_site("its end in sight in the same room, no thread on it, no other pipe joined to it")
    said = getattr(asked.pipe, asked.asks)
    if not is_new(asked.part) and not (asked.asks == "shut" and said in ("valve", "plug")):
        return on_site(f"existing relief pipe: look at {_LOOK.get(asked.asks, f'its {asked.asks}')}")
    return _ASKS[asked.asks](asked, asked.pipe, facts, limits)


def _wrong(
    asked: Asked, severity: str, says: str, limit: InForce | None, found: str, needed: str, mend: str
) -> Outcome:
    return broken(says, severity, limit=limit, found=found, needed=needed, mend=mend, caution=_COLD)


def _pipe(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    if asked.pipe is None or asked.pipe == NOT_KNOWN:
        raise NotShown(asked.path, "the pipe from the relief valve (discharge: material, size, to), or none")
    size = f"{asked.relief.size.words} " if isinstance(asked.relief.size, Size) else ""
    return _wrong(asked, "hazard", f"The relief valve of {facts.part_name(asked.part.id)} has no pipe.", limits.of(PIPE),
                  "none", _PIPE, f"Run {size}hard copper, falling, to {facts.length(4 * INCH_M)} over a floor drain.")  # fmt: skip


def _size(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(pipe.size, Size):
        raise NotShown((*asked.path, "size"), "the size of the relief pipe")
    outlet = asked.relief.size
    if isinstance(outlet, Size) and pipe.size.rank >= outlet.rank - 0.001:
        return holds(f"{pipe.size.words} on an outlet of {outlet.words}")
    own = asked.part.own
    volume = own.volume if isinstance(own, HeaterOwn) else None
    big = isinstance(volume, Quantity) and volume.si > _BIG_M3
    if not isinstance(outlet, Size) and (pipe.size.rank >= 0.749 or not big):
        raise NotShown(("parts", asked.part.id, "relief", "size"), "the size of the relief valve's outlet")
    known = outlet.words if isinstance(outlet, Size) else "3/4 in"
    doubt = "The valve's outlet is not said; no tank of this size has one under 3/4 in."
    return broken(
        f"The relief pipe is {pipe.size.words} on a valve of {known}.",
        "correction",
        limit=limits.of(PIPE),
        found=pipe.size.words,
        needed=f"at least {known}",
        mend=f"Run it in {known} or larger all the way.",
        caution="" if isinstance(outlet, Size) else doubt,
    )


def _material(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.reliefpipe import judge_inserts

    material = known_text(pipe.material, (*asked.path, "material"), "what the relief pipe is made of")
    if material in _NEVER:
        return _wrong(asked, "correction", f"The relief pipe is {material}, which softens or is not listed for hot water.",
                      limits.of(PIPE), material, "copper, CPVC, steel or listed drain tube",
                      f"Run it in hard copper{_of_size(asked)}.")  # fmt: skip
    if material == "ductile iron":
        return on_site("ductile iron is odd here: see what it is")
    if material not in _INSERTS and material != "PP":
        return holds(f"{material} stands it")
    limit = limits.of(LARGER)
    if facts.family == "upc":
        return _wrong(asked, "advice", f"The relief pipe is {material}, which is not on the UPC's list.", limit, material,
                      str(limit.value), f"Ask the authority, or run it in hard copper{_of_size(asked)}.")  # fmt: skip
    return (
        holds("PP is listed for hot water")
        if material == "PP"
        else judge_inserts(pipe, asked.relief.size, asked.path, limit, facts)
    )


def _of_size(asked: Asked) -> str:
    return f" of {asked.relief.size.words}" if isinstance(asked.relief.size, Size) else ""


def _to(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    to = known_text(pipe.to, (*asked.path, "to"), "where the relief pipe ends (to: floor drain)")
    if to == "drain":
        return _wrong(asked, "correction", "The relief pipe is joined to a drain without an air gap.", limits.of(PIPE), "joined "
                      "to a drain", "an air gap in the same room",
                      f"End it {facts.length(4 * INCH_M)} over a floor drain or a receptor.")  # fmt: skip
    if to == "pan":
        limit = limits.of(INTO)
        if "or pan" in str(limit.value):
            return holds("into the pan")
        return _wrong(asked, "correction", "The relief pipe ends in the pan.", limit, "pan", str(limit.value),
                      "Run it on to a floor drain, a receptor or outdoors.")  # fmt: skip
    if to == "floor" and facts.family == "upc":
        return on_site("the authority says whether it may end on the floor")
    return holds(f"to {to}")


def _end(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.reliefpipe import judge_end

    if pipe.to == "drain":
        return holds("it ends in no air: told where it ends")
    if not isinstance(pipe.end, Length):
        raise NotShown((*asked.path, "end"), "how high its end is above the floor, receptor or ground")
    if pipe.to is None or pipe.to == NOT_KNOWN:
        raise NotShown((*asked.path, "to"), "where the relief pipe ends (to: floor drain)")
    if facts.family == "upc" and pipe.to != "outdoors":
        return on_site(f"{pipe.end.text} above {pipe.to}: whether that leaves an air gap, and does not splash")
    if facts.family in ("irc", "ipc") and pipe.to == "outdoors":
        return on_site("outdoors: pointing down where nobody is hurt, and where it does not freeze shut")
    if pipe.to == "outdoors":
        return judge_end(pipe.end, limits.of(OUT_LEAST), limits.of(OUT_MOST), facts, asked.path, pipe.size)
    return judge_end(pipe.end, limits.of(LEAST), limits.of(MOST), facts, asked.path, pipe.size)


def _shut(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    shut = known_text(pipe.shut, (*asked.path, "shut"), "whether anything can shut the relief pipe (shut: none)")
    if shut == NONE:
        return holds("nothing shuts it")
    return _wrong(asked, "hazard", f"A {shut} can shut the relief pipe.", limits.of(PIPE), f"a {shut}", "nothing that shuts it",
                  f"Take the {shut} out before the heater runs again.")  # fmt: skip


def _falls(asked: Asked, pipe: Discharge, facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(pipe.falls, bool):
        raise NotShown((*asked.path, "falls"), "whether the relief pipe falls all the way (falls: true)")
    if pipe.falls:
        return holds("it falls all the way")
    return _wrong(asked, "correction", "The relief pipe rises or holds water.", limits.of(PIPE), "rises or traps",
                  "falling all the way", "Rehang it so that it falls from the valve to its end.")  # fmt: skip


_ASKS = {"size": _size, "material": _material, "to": _to, "end": _end, "shut": _shut, "falls": _falls}
_TITLES = {"size": "size", "material": "material", "to": "where it ends", "end": "height of its end", "shut": "valve or plug",
           "falls": "fall"}  # fmt: skip
_COLD = "What comes out of it scalds: fuel or power off and the tank cool before anybody works on it."
_LOOK = {"to": "where it ends", "end": "how high it ends", "shut": "what can shut it", "falls": "how it falls"}
