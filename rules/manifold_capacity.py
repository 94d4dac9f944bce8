"""The manifold passes what hangs on it, by the table and by its true bore

Looks at: each manifold: whether all that hangs on it, through further manifolds and a heater too, may draw at once by the
    code's table for its nominal size; whether its true bore carries that at the speed the table is made with; and whether
    a heater hangs on the far end of a row that is no larger than the heater's pipe.
Why: the tables go by the nominal size, and plastic tube is narrower than its name: 3/4 in tube is 0.671 in wide and carries a
    fifth less than its row says. What the manifold cannot pass, no line behind it gets.
To mend: make it a size larger, or hang some of it on a second one; move the heater's port next to the feed.
Cannot see: the throats of its tees and valves. An ice maker's trickle is not counted. The tables are made for lines of their
    own: where circuits branch, or the row is a ring, what is found is advice, and the pressures are for the computation.
Ask: the maker of a bought manifold for the flow it is made for. The UPC has no table; the IRC's stands in, as good practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, pi
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    FOOT_M,
    GPM_M3S,
    GRACE_FLOW_M3S,
    INCH_M,
    METAL,
    Facts,
    Length,
    Limit,
    Limits,
    ManifoldOwn,
    Measured,
    NotShown,
    Outcome,
    Part,
    Rule,
    Subject,
    Tube,
    Value,
    at_most,
    broken,
    capital,
    estimates,
    holds,
    recalled,
    tube_bore_m,
)

if TYPE_CHECKING:
    from plancheck.hangson import Drawn, Hanging

_IRC = recalled("IRC", "2018", "Table P2903.8.1")
_IPC = recalled("IPC", "2018", "Table 604.10.1, at 8 ft/s")


def _row(id_: str, title: str, ipc_gpm: float, irc_gpm: float | None) -> Limit:
    irc = (Value(irc_gpm * GPM_M3S, _IRC),) if irc_gpm is not None else ()
    practice = (Value(irc_gpm * GPM_M3S, _IRC, practice=True),) if irc_gpm is not None else ()
    ipc = (Value(ipc_gpm * GPM_M3S, _IPC),)
    return Limit(id_, f"flow through a manifold of {title}", "flow", "at most", irc=irc, ipc=ipc, practice=practice)


def _speed(id_: str, title: str, fps: float) -> Limit:
    irc, ipc = Value(fps * FOOT_M, _IRC, practice=True), Value(8 * FOOT_M, _IPC, practice=True)
    return Limit(
        id_,
        f"speed in the true bore of a manifold of {title}",
        "speed",
        "at most",
        irc=(irc,),
        ipc=(ipc,),
        practice=(irc,),
    )


PLASTIC_ROWS = {
    0.5: _row("plastic_1_2", "1/2 in plastic", 5, None),
    0.75: _row("plastic_3_4", "3/4 in plastic", 11, 17),
    1.0: _row("plastic_1", "1 in plastic", 20, 29),
    1.25: _row("plastic_1_1_4", "1-1/4 in plastic", 31, 46),
    1.5: _row("plastic_1_1_2", "1-1/2 in plastic", 44, 66),
}
METAL_ROWS = {
    0.5: _row("metal_1_2", "1/2 in metal", 5, None),
    0.75: _row("metal_3_4", "3/4 in metal", 11, 11),
    1.0: _row("metal_1", "1 in metal", 20, 20),
    1.25: _row("metal_1_1_4", "1-1/4 in metal", 31, 31),
    1.5: _row("metal_1_1_2", "1-1/2 in metal", 44, 44),
}
PLASTIC_SPEED, METAL_SPEED = _speed("plastic_speed", "plastic", 12), _speed("metal_speed", "metal", 8)
HEATER_END = Limit("heater_end", "sizes by which a row is larger than the pipe of a heater on its end", "count", "at least",
                   irc=(Value(1.0, recalled("IRC", "2018", "P2903.8.2")),))  # fmt: skip
RULE = Rule(
    "correction", "layout", (*PLASTIC_ROWS.values(), *METAL_ROWS.values(), PLASTIC_SPEED, METAL_SPEED, HEATER_END)
)

_MADE = (0.375, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0)  # nominal inches, common practice
_MOST_STEPS = 2  # so much larger holds whatever the code
_BORE_REACHES = 0.95  # a bore counts as the nominal one it comes within 5 percent of


class Asked(NamedTuple):
    """A manifold, what hangs on all of them, and of a heater on its end the port."""

    part: Part
    hanging: Hanging
    heater_port: str = ""


class Body(NamedTuple):
    """What a manifold is made of: its row of the table by nominal inches, its true bore (m), and whether of plastic.

    plastic is None where a bought one does not say.
    """

    rank: float | None
    bore_m: float | None
    plastic: bool | None
    words: str
    tube: Tube | None = None
    about: str = ""


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each manifold something hangs on; each straight row with a heater on its end where the IRC may count."""
    rows = [part for part in facts.plan.parts.values() if isinstance(part.own, ManifoldOwn) and part.work != "removed"]
    if not rows:
        return
    from plancheck.hangson import Hanging

    hanging = Hanging(facts)
    for part in rows:
        name = facts.part_name(part.id)
        yield Subject(("parts", part.id), f"capacity of {name}", part.place, Asked(part, hanging))
        port = hanging.heater_at_end(part) if facts.family in ("irc", None) else None
        if port is not None:
            path = ("parts", part.id, "ports", port.partition("/")[2])
            yield Subject(path, f"heater on the end of {name}", part.place, Asked(part, hanging, port))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a manifold passes what hangs on it, or is a size larger than the pipe of a heater on its end."""
    asked: Asked = subject.thing
    if asked.heater_port:
        return _heater(asked, facts, limits)
    from plancheck.hangson import drawn_by

    hung = asked.hanging.of(asked.part)
    if not hung.outlets and not hung.branching:
        return holds("no outlet hangs on it")
    drawn = drawn_by(facts, hung)
    body = _body(asked.part, facts)
    if drawn.missing is not None and not drawn.most_m3s:
        raise drawn.missing
    if body.plastic is not None:
        return _judged(asked.part, body, drawn, facts, limits)
    strict = _judged(asked.part, body._replace(plastic=False), drawn, facts, limits)
    loose = _judged(asked.part, body._replace(plastic=True), drawn, facts, limits)
    if strict.kind == loose.kind:
        return loose
    raise NotShown(("parts", asked.part.id, "body"), "whether the manifold is of plastic or of metal")


def _body(part: Part, facts: Facts) -> Body:
    """Raises NotShown where neither tube nor bore tells how wide it is."""
    from plancheck.ownlines import counts_as, size_words

    own = part.own
    tube = facts.plan.tubes.get(own.tube or "") if isinstance(own, ManifoldOwn) else None
    bore = own.bore if isinstance(own, ManifoldOwn) else None
    if tube is None and not isinstance(bore, Length):
        raise NotShown(("parts", part.id, "bore"), "what the manifold is made of (tube), or its bore")
    if tube is None and isinstance(bore, Length):
        rank = max((one for one in PLASTIC_ROWS if bore.m >= _BORE_REACHES * one * INCH_M), default=None)
        body = None if part.body in (None, "not known") else part.body == "plastic"
        return Body(rank, bore.m, body, f"{bore.text} bore", None, estimates(bore))
    bore_m = bore.m if isinstance(bore, Length) else tube_bore_m(tube) if tube is not None else None
    rank = counts_as(tube)
    if rank is None or tube is None:
        raise NotShown(("tubes", tube.id if tube is not None else "", "size"), "the size of the manifold's tube")
    return Body(rank, bore_m, tube.material not in METAL, f"{size_words(tube)} {tube.material or 'tube'}", tube)


def _judged(part: Part, body: Body, drawn: Drawn, facts: Facts, limits: Limits) -> Outcome:
    """The table first, then the true bore."""
    table = PLASTIC_ROWS if body.plastic else METAL_ROWS
    limit = table.get(body.rank or 0.0)
    row = limits.maybe(limit) if limit is not None else None
    speed = limits.of(PLASTIC_SPEED if body.plastic else METAL_SPEED)
    carries = speed.number * pi / 4 * body.bore_m**2 if body.bore_m is not None else inf
    most = min(row.number if row is not None else inf, carries)
    if not at_most(drawn.least_m3s, most, GRACE_FLOW_M3S):
        from plancheck.manifoldsize import Narrow, over_the_table, too_narrow

        rows = {rank: found.number for rank, one in table.items() if (found := limits.maybe(one)) is not None}
        narrow = Narrow(part, body.words, body.tube, body.bore_m, drawn, row, speed, rows)
        over = row is not None and not at_most(drawn.least_m3s, row.number, GRACE_FLOW_M3S)
        return over_the_table(narrow, row, facts) if over and row is not None else too_narrow(narrow, facts)
    if drawn.missing is not None and not at_most(drawn.most_m3s, most, GRACE_FLOW_M3S):
        raise drawn.missing
    if body.bore_m is None and body.tube is not None:
        raise _bore_not_shown(body.tube)
    says = f"{facts.quantity(drawn.most_m3s, 'flow')} {'at peak' if drawn.peak else 'of outlets'}"
    return holds(says, Measured(drawn.most_m3s, "flow"), row or speed, body.about)


def _bore_not_shown(tube: Tube) -> NotShown:
    from plancheck.flow.pipes import bore_key

    return NotShown(("tubes", tube.id, bore_key(tube)), "the bore of the manifold's tube")


def _heater(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    """Whether a row is larger than the pipe of the heater on its end."""
    from plancheck.ownlines import counts_as, size_words

    body = _body(asked.part, facts)
    run = asked.hanging.run_at(asked.heater_port)
    tube = facts.plan.tubes.get(run.tube or "") if run is not None else None
    pipe = counts_as(tube)
    if run is None or tube is None:
        return holds("no pipe of its own")
    if pipe is None or body.rank is None:
        raise NotShown(("tubes", tube.id, "size"), "the size of the heater's pipe, and of the manifold")
    larger = sum(1 for one in _MADE if pipe + 0.01 < one <= body.rank + 0.01)
    if larger >= _MOST_STEPS:
        return holds("more than a size larger", Measured(larger, "count"))
    limit = limits.of(HEATER_END)
    if larger >= limit.number:
        return holds("a size larger", Measured(larger, "count"), limit)
    name, port = facts.part_name(asked.part.id), asked.heater_port.partition("/")[2]
    words = f"{capital(name)}: the heater hangs on its end at {port} in {size_words(tube)}"
    return broken(
        f"{words}, and the row is {body.words}.",
        "advice",
        measured=Measured(larger, "count"),
        limit=limit,
        found=f"{body.words}, heater in {size_words(tube)}",
        needed="a row a size larger than the heater's pipe",
        mend="Make the row a size larger, or move the heater's port next to the feed.",
    )
