"""Length, stored water and seconds before hot arrives

Looks at: each hot outlet at which a hand waits (lavatories, sinks, trays, showers, tubs, bidets): how long the hot pipe is
    from the heater, or from the loop where one circulates, along the shortest way; what that pipe and its manifolds
    hold by their true average bore; and how long that takes to run off at the outlet's own rate. Washers and
    dishwashers wait for themselves.
Why: what stands in the pipe has gone cold and runs down the drain, with the heat it took. Wide pipe is the usual reason: a
    foot of 3/4 in tube holds twice a foot of 1/2 in. A slow faucet makes the wait longer, not the waste.
To mend: give a far outlet a line of its own in 1/2 in, put the heater or the manifold nearer, or circulate on demand.
Cannot see: water that stays warm between two draws, the start of a tankless heater, pipe in the fixture's own fittings, how
    far the slow stream mixes on its way: what is drawn is taken as 1.2 times what is stored, and may be 1.0 to 2.0.
Ask: the length is the code's (IPC from 2012, IRC from 2021; the UPC has none); volume and seconds are an efficiency
    program's and a design society's, and the customer's own patience.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    Facts,
    FixtureOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    estimates,
    holds,
    is_new,
    length,
    of_practice,
    printed,
)

if TYPE_CHECKING:
    from plancheck.hot.stored import Route

_FT, _GALLON_M3 = 0.3048, 3.785411784e-3
LENGTH = Limit(
    "length",
    "hot pipe from the heater or the loop to an outlet",
    "length",
    "at most",
    irc=(Value(100 * _FT, printed("IRC", "2021", "P2905.3"), since=2021),),
    ipc=(
        Value(100 * _FT, printed("IPC", "2009", "607.2"), since=2009),
        Value(50 * _FT, printed("IPC", "2012", "607.2"), since=2012),
    ),
)
_HOLDS = printed("a federal efficient-home specification", "1.2", "3.3")
_CLASSES = printed("a plumbing design society", "", "classes of waiting")
_TITLE = "water stored in hot pipe before an outlet"
VOLUME = of_practice("volume", _TITLE, "volume", "at most", 0.5 * _GALLON_M3, _HOLDS)
_TITLE = "wait for hot water (up to 10 s is good, up to 30 s just passes)"
WAIT = of_practice("wait", _TITLE, "duration", "at most", 30.0, _CLASSES)
RULE = Rule(highest="correction", stage="layout", limits=(LENGTH, VOLUME, WAIT))

_GPM = 6.30901964e-5
# outlets at which a hand waits, with the slowest that is sold where nobody says the rate: common practice
_SLOWEST_M3S = {
    "lavatory": 0.5 * _GPM,
    "bidet": 0.5 * _GPM,
    "kitchen sink": 1.0 * _GPM,
    "bar sink": 1.0 * _GPM,
    "laundry tray": 1.5 * _GPM,
    "shower": 1.25 * _GPM,
    "tub and shower": 1.25 * _GPM,
    "bathtub": 2.0 * _GPM,
}
_OUNCE_M3 = _GALLON_M3 / 128
_SAME_M3 = 0.02 * _OUNCE_M3
_FIRST_OF_IRC = 2021


class Waiting(NamedTuple):
    """An outlet and the way of hot water to it; all: those of the whole house."""

    asks: str
    part: Part
    route: "Route"
    all: "dict[str, Route]"


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each outlet with hot water at which a hand waits: its length where the code has one, then volume and wait."""
    parts = [p for p in facts.plan.parts.values() if p.is_ in _SLOWEST_M3S and p.work != "removed"]
    if not parts:
        return
    from plancheck.hot.stored import routes

    found = routes(facts)
    ways = {part.id: found[f"{part.id}/hot"] for part in parts if f"{part.id}/hot" in found}
    old_irc = facts.family == "irc" and facts.edition is not None and facts.edition < _FIRST_OF_IRC
    for part in parts:
        if part.id not in ways:
            continue
        name = facts.part_name(part.id)
        if facts.family != "upc" and not old_irc:
            thing = Waiting("length", part, ways[part.id], ways)
            yield Subject(("parts", part.id), f"length of hot pipe to {name}", part.place, thing)
        thing = Waiting("wait", part, ways[part.id], ways)
        yield Subject(("parts", part.id), f"wait for hot water at {name}", part.place, thing)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the pipe is short enough, or holds little enough that hot comes soon."""
    waiting: Waiting = subject.thing
    return _length(waiting, facts, limits) if waiting.asks == "length" else _wait(waiting, facts, limits)


def _length(waiting: Waiting, facts: Facts, limits: Limits) -> Outcome:
    route = waiting.route
    shortest_m = min(float(value.value) for value in (*LENGTH.irc, *LENGTH.ipc))
    if facts.family is None and route.most_m <= shortest_m:
        return holds("short enough for every code", length(route.length_m), None, route.about)
    limit = limits.of(LENGTH)
    if not _too_long(route, limit):
        if route.most_m > limit.number + GRACE_LENGTH_M and route.missing_length is not None:
            raise NotShown(route.missing_length, "the length of the hot pipe")
        return holds("", length(route.length_m), limit, route.about)
    longest = route.longest
    first = next(id_ for id_, other in waiting.all.items() if _too_long(other, limit) and other.longest == longest)
    mine = first == waiting.part.id
    from plancheck.measures.steps import stepped_up

    name, over_m = facts.part_name(waiting.part.id), stepped_up(route.length_m - limit.number, "length", facts.units)
    return broken(
        f"{name[0].upper()}{name[1:]}: {facts.length(route.length_m)} of hot pipe from "
        f"{_start(route, facts)}; at most {facts.length(limit.number)}.",
        "advice" if _all_old(route, facts) else "correction",
        measured=length(route.length_m),
        limit=limit,
        mend=f"Bring the heater or the line {facts.length(over_m)} nearer, or circulate so that the tee of the loop stands within "
        f"{facts.length(limit.number)} of it.",
        at=("runs", longest) if mine and longest else None,
        cause=("runs", longest) if not mine and longest else None,
        estimate=route.about,
    )


def _too_long(route: "Route", limit: InForce) -> bool:
    return route.length_m > limit.number + GRACE_LENGTH_M


def _start(route: "Route", facts: Facts) -> str:
    return "the loop" if route.looped else f"the {facts.part_name(route.heater)}" if route.heater else "the heater"


def _all_old(route: "Route", facts: Facts) -> bool:
    return all(not is_new(facts.plan.runs[piece.run or ""]) for piece in route.runs)


def _wait(waiting: Waiting, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.hot.stored import wait_s

    route, volume, longest = waiting.route, limits.of(VOLUME), limits.of(WAIT)
    rate, key = _rate(waiting.part)
    if _slow(waiting.part, route, volume, longest):
        return _waits(waiting, facts, volume, longest)
    most_s = wait_s(route.most_m3, rate.si if rate is not None else _SLOWEST_M3S[waiting.part.is_])
    if route.most_m3 > volume.number + _SAME_M3 or (rate is not None and most_s > longest.number):
        if route.missing_length is not None or route.missing_bore is not None:
            missing = route.missing_length or route.missing_bore or ()
            raise NotShown(missing, "what the hot pipe holds")
    elif most_s > longest.number:
        raise NotShown(("parts", waiting.part.id, key), f"its rate ({key}), and with it the wait for hot water")
    about = ", ".join(filter(None, (route.about, estimates(rate))))
    seconds = wait_s(route.volume_m3, rate.si) if rate is not None else None
    says = f"hot after about {seconds:.0f} s" if seconds is not None else "hot soon at any rate that is sold"
    return holds(says, Measured(route.volume_m3, "volume"), volume, about)


def _rate(part: Part) -> tuple[Quantity | None, str]:
    """The rate of an outlet as the plan gives it, and the key that gives it; a tub's shower is waited for too."""
    from plancheck.flow.required import said_rate

    said, key = said_rate(part)
    if said is None and part.is_ == "tub and shower" and isinstance(part.own, FixtureOwn):
        head = part.own.head
        said = head if isinstance(head, Quantity) and head.si > 0 else None
    return said, key


def _slow(part: Part, route: "Route", volume: InForce, longest: InForce) -> bool:
    """Whether, at the least that it may hold, it holds too much or takes too long."""
    from plancheck.hot.stored import wait_s

    rate = _rate(part)[0]
    if route.least_m3 > volume.number + _SAME_M3:
        return True
    return rate is not None and wait_s(route.least_m3, rate.si) > longest.number + 0.05


def _waits(waiting: Waiting, facts: Facts, volume: InForce, longest: InForce) -> Outcome:
    from plancheck.hot.stored import DRAWN_RANGE, wait_s
    from plancheck.hot.words import made_of, mend_words, volume_words

    route, rate = waiting.route, _rate(waiting.part)[0]
    over = route.least_m3 > volume.number + _SAME_M3
    name, holds_ = facts.part_name(waiting.part.id), volume_words(route.volume_m3, facts)
    seconds = f"; about {wait_s(route.volume_m3, rate.si):.0f} s at {facts.quantity(rate.si, 'flow')}" if rate else ""
    spread = ""
    if rate is not None:
        low, high = (wait_s(route.volume_m3, rate.si, drawn) for drawn in DRAWN_RANGE)
        spread = f"As the stream mixes in the pipe it may take {low:.0f} to {high:.0f} s."
    return broken(
        f"{name[0].upper()}{name[1:]}: {made_of(route, facts)} hold {holds_}{seconds}.",
        "advice",
        measured=Measured(route.volume_m3, "volume"),
        limit=volume if over else longest,
        found=f"{holds_}{seconds}",
        needed=f"at most {volume_words(volume.number, facts)}, and {longest.number:.0f} s",
        mend=mend_words(route, rate, facts, volume.number, longest.number),
        caution=spread,
        cause=_cause(waiting, facts, volume, longest),
        estimate=", ".join(filter(None, (route.about, estimates(rate)))),
    )


def _cause(waiting: Waiting, facts: Facts, volume: InForce, longest: InForce) -> Path | None:
    """The run that is too long by the code; else the first outlet that waits for the same run."""
    fullest = waiting.route.fullest
    limit = Limits(facts.family, facts.edition).maybe(LENGTH) if facts.family != "upc" else None
    old_irc = facts.family == "irc" and facts.edition is not None and facts.edition < _FIRST_OF_IRC
    if limit is not None and not old_irc and _too_long(waiting.route, limit):
        run = waiting.route.longest
        return ("runs", run) if run is not None else None
    parts = facts.plan.parts
    for id_, route in waiting.all.items():
        if route.fullest == fullest and _slow(parts[id_], route, volume, longest):
            return ("parts", id_) if id_ != waiting.part.id else None
    return None
