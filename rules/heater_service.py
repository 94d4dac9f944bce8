"""The heater can be taken out, and a tankless one flushed, without cutting pipe

Looks at: the first 24 in of pipe at each connection of a heater, for a union, a flexible connector or another joint that is made
    to be undone. At a tankless heater a valve with a flush port on each side, before the first branch.
Why: a heater lasts ten years, the pipe fifty. Without a union somebody cuts it; without flush ports nobody clears the scale
    out of a tankless heater, and its maker takes his word back.
To mend: unions or flexible connectors at both connections; a set of service valves with hose ports tight under a tankless
    heater.
Cannot see: whether there is room to swing the heater out; whether a hose gets to the ports.
Ask: whether the place asks for unions, or the energy code for isolation valves: some do.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Rule,
    Run,
    Subject,
    Value,
    ValveOwn,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.heaterends import Met

WITHIN = Limit("within", "pipe between a heater and the first joint that is made to be undone", "length", "at most",
               practice=(Value(24 * INCH_M, PRACTICE, practice=True),))  # fmt: skip
UNION = Limit("union", "connections of a heater", "text", "",
              practice=(Value("unions or flexible connectors", printed("a city's page", "", "water heaters"), practice=True),))  # fmt: skip
FLUSH = Limit("flush", "sides of a tankless heater over 6.8 kBtu/h", "text", "",
              practice=(Value("a full-way valve with a flush port on each side",
                              printed("a state's energy standard", "2016", "manual, chapter 5"), practice=True),))  # fmt: skip
RULE = Rule(highest="advice", stage="rough-in", limits=(WITHIN, UNION, FLUSH))

_APART = ("union", "push", "compression", "flare")
_SMALL_W = 2000.0


class Asked(NamedTuple):
    """One question on a side of a heater: apart, or flush."""

    part: Part
    side: str
    asks: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """The two connections of each heater; the two sides of each tankless one."""
    from plancheck.joined import is_joined

    for part in facts.plan.parts.values():
        own = part.own
        if not isinstance(own, HeaterOwn) or part.work == "removed":
            continue
        small = isinstance(own.input, Quantity) and own.input.si < _SMALL_W
        for side in ("cold", "hot"):
            if not is_joined(facts, part, side):
                continue
            path, name = ("parts", part.id, side), f"{side} connection of {facts.part_name(part.id)}"
            yield Subject(path, name, part.place, Asked(part, side, "apart"))
            if own.style == "tankless" and not small:
                yield Subject(path, f"flush port on the {side} side", part.place, Asked(part, side, "flush"))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a connection comes apart, or a side can be shut and flushed."""
    asked: Asked = subject.thing
    return _apart(asked, facts, limits) if asked.asks == "apart" else _flush(asked, facts, limits)


def _is_old(asked: Asked, facts: Facts) -> bool:
    from plancheck.heaterends import outward

    first = next((met.run for met in outward(facts, asked.part.id, asked.side) if met.run is not None), None)
    return not is_new(asked.part) and (first is None or not is_new(first))


def _apart(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.heaterends import outward

    missing, joints = None, list[str]()
    most_m = limits.of(WITHIN).number + GRACE_LENGTH_M
    for met in outward(facts, asked.part.id, asked.side):
        if met.begins_m is None or met.begins_m > most_m:
            break
        loose = _loose(met, most_m, facts)
        if loose:
            return holds(loose)
        if met.run is not None:
            reached = [met.near] if met.ends_m is None or met.ends_m > most_m else [met.near, met.far]
            joints += [joint for joint in reached if joint is not None]
            missing = missing or _unsaid(met, met.run, reached)
    if missing is not None:
        raise missing
    if _is_old(asked, facts):
        return on_site(f"existing: see whether the {asked.side} connection comes apart")
    return _fixed(asked, joints, facts, limits)


def _loose(met: "Met", most_m: float, facts: Facts) -> str:
    """What of a part or run comes apart, in words; empty where nothing does."""
    if met.part is not None:
        return f"{facts.part_name(met.part.id)} comes apart" if _comes_apart(met.part) else ""
    tube = facts.plan.tubes.get((met.run.tube if met.run is not None else None) or "")
    if tube is not None and tube.form == "connector":
        return "a flexible connector"
    if met.near in _APART:
        return f"its {met.near} joint comes apart"
    near_enough = met.ends_m is not None and met.ends_m <= most_m
    return f"its {met.far} joint comes apart" if near_enough and met.far in _APART else ""


def _unsaid(met: "Met", run: Run, reached: list[str | None]) -> NotShown | None:
    """The key of a run that would tell whether it comes apart."""
    if any(joint is None or joint == NOT_KNOWN for joint in reached):
        return NotShown(("runs", run.id, "joint"), "how the pipe at the heater is joined")
    if met.ends_m is None and met.far in (*_APART, None):
        return NotShown(("runs", run.id, "length"), "how far from the heater its next joint is")
    return None


def _comes_apart(part: Part) -> bool:
    """Whether a part is a union, or has union ends."""
    ends = part.ends if isinstance(part.ends, str) else " ".join(part.ends.values()) if part.ends is not None else ""
    return getattr(part.own, "kind", None) == "dielectric union" or part.joint in _APART or "union" in ends.lower()


def _fixed(asked: Asked, joints: list[str], facts: Facts, limits: Limits) -> Outcome:
    within = facts.length(limits.of(WITHIN).number)
    name = facts.part_name(asked.part.id)
    made = " and ".join(dict.fromkeys(joints)) or "fixed"
    return broken(
        f"{capital(name)}: nothing within {within} of its {asked.side} connection comes apart; the joints there "
        f"are {made}.",
        "advice",
        limit=limits.of(UNION),
        found=made,
        needed=f"a union, a flexible connector or the like within {within}",
        mend=f"Put a union, or a flexible connector, within {within} of {asked.part.id}/{asked.side}.",
    )


def _flush(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.heaterends import outward

    valves = [
        met.part
        for met in outward(facts, asked.part.id, asked.side)
        if met.part is not None and met.part.is_ == "valve"
    ]
    own = {valve.id: valve.own for valve in valves if isinstance(valve.own, ValveOwn)}
    for id_, said in own.items():
        if said.service is True:
            return holds(f"{id_} has a flush port")
    for id_, said in own.items():
        if not isinstance(said.service, bool):
            raise NotShown(("parts", id_, "service"), f"whether {id_} has a flush port (service: true)")
    if _is_old(asked, facts):
        return on_site(f"existing: see whether the {asked.side} side can be shut and flushed")
    name = facts.part_name(asked.part.id)
    found = f"{next(iter(own))} without a flush port" if own else "no valve before the first branch"
    return broken(
        f"{capital(name)} is tankless and cannot be flushed: {found} on its {asked.side} side.",
        "advice",
        limit=limits.of(FLUSH),
        found=found,
        needed="a full-way valve with a flush port",
        mend="Fit a set of service valves with hose ports on both sides, tight under the heater.",
    )
