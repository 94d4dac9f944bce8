"""Supply to each fixture at least its table size, or a short individual line

Looks at: for each side of a fixture the smallest pipe of the last stretch, from the last branch (or the manifold's port) to
    where its stop or body sits, beside the table of the code; for a line from a manifold to one outlet alone what the code
    allows it to be smaller, with its length and the pressure at the meter; and how far the connector reaches.
Why: the last pipe cannot be made up for by a larger main. A thin line of its own is good, hot water comes soon through it,
    as long as it is short and the street is strong.
To mend: run the stretch in the size named, or move the port nearer.
Cannot see: the bore of stops, valves and connectors; whether a one-piece toilet or a large tub asks for more: that is
    on its maker's sheet.
Ask: the inspector which sizes he goes by: the IRC names one for lines of their own only, its others here are the IPC's, as
    good practice; the UPC has 1/2 in for nearly everything, short or not.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    BROKEN,
    FOOT_M,
    GRACE_LENGTH_M,
    INCH_M,
    KINDS,
    PSI_PA,
    Facts,
    FixtureOwn,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Rule,
    Subject,
    Supply,
    Value,
    at_most,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    later,
    length,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.ownlines import Line

_IPC = printed("IPC", "", "Table 604.5, as a city prints it")
_UPC = recalled("UPC", "2021", "Table 610.3, smallest branch")
_NOTE_A = recalled("IPC", "2018", "Table 604.5 note a")
_OWN = printed("IRC", "2012", "P2903.8.2, as a design guide quotes it")


def _size(id_: str, title: str, inches: float, ipc: bool = True, upc: float = 0.5) -> Limit:
    kept, practice = (Value(inches, _IPC),) if ipc else (), (Value(inches, _IPC, practice=True),)
    return Limit(id_, title, "count", "at least", ipc=kept, upc=(Value(upc, _UPC),), practice=practice)


SMALL = _size("small", "supply to a lavatory, bidet or tank toilet, nominal inches", 0.375)
USUAL = _size(
    "usual",
    "supply to a tub, shower, sink, tray, washer, dishwasher, hose outlet or one-piece toilet, nominal inches",
    0.5,
)
BAR_SINK = _size("bar_sink", "supply to a bar sink, nominal inches", 0.5, ipc=False)
FLUSH_VALVE = _size("flush_valve", "supply to a toilet with a flush valve, nominal inches", 1.0, upc=1.0)
OWN_SIZE = Limit("own_size", "line from a manifold to one outlet alone, nominal inches", "count", "at least",
                 irc=(Value(0.375, _OWN),))  # fmt: skip
OWN_STEPS = Limit("own_steps", "sizes by which a line of its own may be under the table", "count", "at most",
                  ipc=(Value(1.0, _NOTE_A),))  # fmt: skip
OWN_LENGTH = Limit("own_length", "length of a smaller line of its own", "length", "at most",
                   irc=(Value(60 * FOOT_M, _OWN),), ipc=(Value(60 * FOOT_M, _NOTE_A),))  # fmt: skip
OWN_PRESSURE = Limit("own_pressure", "pressure at the meter for a smaller line of its own", "pressure", "at least",
                     irc=(Value(40 * PSI_PA, _OWN),), ipc=(Value(35 * PSI_PA, _NOTE_A),))  # fmt: skip
REACH = Limit("reach", "from the end of the pipe to the fixture", "length", "at most",
              ipc=(Value(30 * INCH_M, printed("IPC", "", "604.5, as a city prints it")),),
              practice=(Value(30 * INCH_M, _IPC, practice=True),))  # fmt: skip
RULE = Rule(
    "correction", "layout", (SMALL, USUAL, BAR_SINK, FLUSH_VALVE, OWN_SIZE, OWN_STEPS, OWN_LENGTH, OWN_PRESSURE, REACH)
)

_USUAL = (
    "bathtub",
    "shower",
    "tub and shower",
    "kitchen sink",
    "laundry tray",
    "clothes washer",
    "dishwasher",
    "hose outlet",
)
_ROWS = dict.fromkeys(_USUAL, (USUAL,)) | {"lavatory": (SMALL,), "bidet": (SMALL,), "bar sink": (BAR_SINK,)}
_TOILETS = {
    "close coupled": (SMALL,),
    "flushometer tank": (SMALL,),
    "one piece": (USUAL,),
    "flush valve": (FLUSH_VALVE,),
}
_ANY_TOILET = (SMALL, USUAL)
_CONNECTED = ("angle", "straight", "dual")


class Side(NamedTuple):
    """One side of a fixture (`part/side`), the rows of the table it may belong to, and the least size the plan has at all."""

    part: Part
    side: str
    rows: tuple[Limit, ...]
    least: float


class Reaching(NamedTuple):
    """A fixture whose stops have connectors, with the side that reaches furthest; key: where that is said."""

    part: Part
    connector: Length | None
    key: Path


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each side of a fixture that water comes to, then the connectors of each fixture."""
    fed, least, parts = facts.traced.parents, _least(facts), facts.plan.parts
    for name, tap in facts.network.outlets.items():
        id_, _, side = name.partition("/")
        part = parts[id_]
        rows = _rows(part)
        if rows and tap in fed:
            title = facts.part_name(id_)
            if len(KINDS[part.is_].connections) > 1:
                title = f"{title} {side}"
            yield Subject(("parts", part.id), f"supply of {title}", part.place, Side(part, name, rows, least))
    for part in facts.plan.parts.values():
        if part.work != "removed" and (found := _reaching(part)) is not None:
            yield Subject(("parts", part.id), f"connectors of {facts.part_name(part.id)}", part.place, found)


def _least(facts: Facts) -> float:
    """The smallest nominal inches of all tube that runs are made of, connectors apart; 0 where one is not known."""
    from plancheck.ownlines import counts_as

    return min((counts_as(tube) or 0.0 for tube in facts.plan.tubes.values() if tube.form != "connector"), default=0.0)


def _rows(part: Part) -> tuple[Limit, ...]:
    if part.is_ == "toilet":
        style = part.own.style if isinstance(part.own, FixtureOwn) else None
        return _TOILETS.get(style or "", _ANY_TOILET)
    return _ROWS.get(part.is_, ())


def _reaching(part: Part) -> Reaching | None:
    """The longest connector of a fixture, or that one is to be said."""
    if not isinstance(part.own, FixtureOwn) or part.is_ in ("clothes washer", "dishwasher"):
        return None
    said = [(key, one) for key, one in (("supply", part.own.supply), ("cold", part.own.cold), ("hot", part.own.hot))
            if isinstance(one, Supply)]  # fmt: skip
    known = [(one.connector, key) for key, one in said if isinstance(one.connector, Length)]
    if known:
        longest, key = max(known, key=lambda one: one[0].m)
        return Reaching(part, longest, ("parts", part.id, key, "connector"))
    open_ = next((key for key, one in said if one.stop in _CONNECTED and one.connector != "none"), None)
    return Reaching(part, None, ("parts", part.id, open_, "connector")) if open_ is not None else None


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a side's last stretch is large enough, or a fixture's connectors short enough."""
    if isinstance(subject.thing, Reaching):
        return _reach(subject.thing, facts, limits)
    from plancheck.ownlines import line_to

    asked: Side = subject.thing
    largest = limits.of(asked.rows[-1])
    if asked.least >= largest.number:
        return holds("", None, largest)
    line = line_to(facts, asked.side)
    if line is None or not line.runs:
        return on_site("no pipe of its own: see what brings its water up to the stop")
    if len(asked.rows) == 1:
        return _sized(subject, asked.part, asked.rows[0], line, facts, limits)
    small, large = asked.rows
    strict = _sized(subject, asked.part, large, line, facts, limits)
    if strict.kind != BROKEN:
        return strict
    loose = _sized(subject, asked.part, small, line, facts, limits)
    if loose.kind != BROKEN:
        raise NotShown(
            ("parts", asked.part.id, "style"), "whether the toilet is one piece, which asks for a larger supply"
        )
    return loose


def _sized(subject: Subject, part: Part, row: Limit, line: Line, facts: Facts, limits: Limits) -> Outcome:
    """One stretch beside one row of the table."""
    from plancheck.ownlines import counts_as, size_key
    from plancheck.thinlines import OwnLimits, Thin, judge_thin

    tubes = [facts.plan.tubes.get(facts.plan.runs[run].tube or "") for run in line.runs]
    ranks = [counts_as(tube) for tube in tubes]
    known = [(rank, run) for rank, run in zip(ranks, line.runs, strict=True) if rank is not None]
    limit = limits.of(row)
    rank, run = min(known, default=(float("inf"), ""))
    if rank < limit.number - 0.01:
        if row is FLUSH_VALVE:
            line = line._replace(port=None)  # it takes too much at once for a thinner line of its own
        own = OwnLimits(*(limits.maybe(one) for one in (OWN_SIZE, OWN_STEPS, OWN_LENGTH, OWN_PRESSURE)))
        return judge_thin(Thin(part, subject.name.removeprefix("supply of "), line, run, rank, limit), own, facts)
    if None in ranks:
        tube = tubes[ranks.index(None)]
        said = facts.plan.runs[line.runs[ranks.index(None)]].tube or ""
        raise NotShown(("tubes", said, size_key(tube)), "the size of the tube")
    return holds("", Measured(rank, "count"), limit)


def _reach(reaching: Reaching, facts: Facts, limits: Limits) -> Outcome:
    """Whether the connectors reach no further than allowed."""
    connector, limit = reaching.connector, limits.of(REACH)
    if connector is None:
        if facts.stage != "finished":
            return later("connectors are fitted last")
        raise NotShown(reaching.key, "how long its connector is")
    if at_most(connector.m, limit.number, GRACE_LENGTH_M):
        return holds("", length(connector.m), limit, estimates(connector))
    has, most, _ = limit.told_apart(
        connector.m, facts.units, facts.length(connector.m) if not connector.about else connector.text
    )
    name = facts.part_name(reaching.part.id)
    return broken(
        f"{capital(name)}: connector of {has}; the pipe ends at most {most} from the fixture.",
        "correction" if is_new(reaching.part) else "advice",
        measured=length(connector.m),
        limit=limit,
        found=has,
        needed=f"at most {most}",
        mend=f"Bring the stub-out within {most}, with a connector to match.",
        at=reaching.key,
        estimate=estimates(connector),
    )
