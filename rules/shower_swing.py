"""How far the shower swings when something else opens, and whether it scalds

Looks at: each shower, trimmed to 105 degF with all else shut, when that cold outlet opens which pulls most on its way,
    and likewise hot; the mixed water before and after, as a valve without compensation would give it. A valve listed to
    ASSE 1016 is judged by whether both sides stay within what it is tested for, at the flow of this head.
Why: a toilet fills, the cold side loses pressure, and the water on somebody's back gets hotter in a second; the other
    way round it is a cold shock on a wet floor.
To mend: fit a pressure-balanced or thermostatic valve; or take toilet and shower from different ports, make the row of
    larger tube or a ring, and hang large draws near the feed.
Cannot see: how the valve is really cut, which can halve or double the swing; the heater's own swings; the first second.
Ask: the maker of the shower valve for its least flow and the differences it takes. No code limits the swing of piping.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GPM_M3S,
    GRACE_FLOW_M3S,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    FixtureOwn,
    Limit,
    Limits,
    Measured,
    Mixer,
    NotShown,
    Outcome,
    Part,
    Quantity,
    Ref,
    Rule,
    Subject,
    Value,
    at_least,
    broken,
    capital,
    holds,
    printed,
)

if TYPE_CHECKING:
    from plancheck.flow.shower import Mixed, Swing

_ASSE = printed("ASSE 1016", "2005", "as taught")
SWING = Limit("swing", "change of a shower's temperature", "difference", "at most",
              practice=(Value(3.6 / 1.8, _ASSE, practice=True),))  # fmt: skip
SCALD = Limit("scald", "temperature of a shower", "temperature", "at most",
              irc=(Value((120 - 32) / 1.8, printed("IRC", "2021", "P2708.4")),),
              ipc=(Value((120 - 32) / 1.8, printed("IPC", "2018", "412.3")),),
              upc=(Value((120 - 32) / 1.8, printed("UPC", "2015", "408.3")),),
              practice=(Value((120 - 32) / 1.8, PRACTICE),))  # fmt: skip
BALANCED = Limit("balanced", "difference of the sides of a pressure-balanced valve, as a share of the higher", "count",
                 "at most", practice=(Value(0.5, _ASSE, practice=True),))  # fmt: skip
THERMOSTATIC = Limit("thermostatic", "the same for a thermostatic valve", "count", "at most",
                     practice=(Value(0.2, _ASSE, practice=True),))  # fmt: skip
TESTED = Limit("tested_flow", "flow a valve is tested at where its maker names no least", "flow", "at least",
               practice=(Value(2.5 * GPM_M3S, _ASSE, practice=True),))  # fmt: skip
RULE = Rule("hazard", "layout", (SWING, SCALD, BALANCED, THERMOSTATIC, TESTED))

_GRACE_C, _SCALD_GRACE_C = 0.05 / 1.8, 0.1 / 1.8
_SHOWERS = ("shower", "tub and shower")
_HOLDING = ("pressure balanced", "thermostatic", "combination")


class Question(NamedTuple):
    """A shower, and the side on which something else opens."""

    part: Part
    side: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each shower twice: when cold and when hot water is drawn elsewhere."""
    for part in facts.plan.parts.values():
        if part.is_ in _SHOWERS and part.work != "removed":
            for side in ("cold", "hot"):
                name = f"{facts.part_name(part.id)} when {side} water is drawn elsewhere"
                yield Subject(("parts", part.id, side), name, part.place, Question(part, side))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the shower stays near the temperature it was set to."""
    question: Question = subject.thing
    fixture = facts.flow.house.fixtures.get(question.part.id)
    if fixture is None or not fixture.mixed:
        raise NotShown(("parts", question.part.id), "hot and cold pipes that lead to it")
    swings = facts.flow.swings(question.part.id)
    if question.side not in swings:
        return holds("nothing else hangs on its way")
    swing = swings[question.side]
    if swing.missing is not None:
        raise NotShown(swing.missing.path, swing.missing.what)
    if swing.before is None or swing.after is None:
        raise NotShown(("parts", question.part.id), f"an answer of the computation ({swing.why})")
    mixer = question.part.own.mixer if isinstance(question.part.own, FixtureOwn) else None
    small = abs(swing.change_c) <= limits.of(SWING).number + _GRACE_C
    scalds = swing.after.celsius > limits.of(SCALD).number + _SCALD_GRACE_C
    estimate = facts.flow.estimates_to(f"{question.part.id}/cold", f"{question.part.id}/hot")
    if small and not scalds:
        return holds("", Measured(abs(swing.change_c), "difference"), limits.of(SWING), estimate)
    if mixer is None or mixer == NOT_KNOWN:
        raise NotShown(("parts", question.part.id, "mixer"), "what kind of valve mixes its water")
    if isinstance(mixer, Mixer) and _listed(mixer, question.part):
        return _compensated(question, mixer, swing, facts, limits, estimate)
    return _swings(question, swing, scalds, facts, limits, estimate)


def _listed(mixer: Mixer, part: Part) -> bool:
    """Whether the valve holds the temperature by its listing. Raises NotShown where that is not said."""
    if mixer.kind in (None, NOT_KNOWN):
        raise NotShown(("parts", part.id, "mixer", "kind"), "what kind of valve mixes its water")
    if mixer.kind not in _HOLDING:
        return False
    if mixer.standard in (None, NOT_KNOWN):
        raise NotShown(("parts", part.id, "mixer", "standard"), "the standard the valve is listed to")
    return "1016" in (mixer.standard or "") or "125.16" in (mixer.standard or "")


def _compensated(
    question: Question, mixer: Mixer, swing: Swing, facts: Facts, limits: Limits, estimate: str
) -> Outcome:
    """A listed valve holds within what it is tested for, at a head that passes its least flow."""
    part, after = question.part, swing.after
    limit = limits.of(THERMOSTATIC if mixer.kind == "thermostatic" else BALANCED)
    apart = _apart(part, after, facts) if after is not None else 0.0
    slow = apart <= limit.number and _slow(part, mixer, limits)
    if apart <= limit.number and not slow:
        return holds("its valve holds this", Measured(apart, "count"), limit, estimate)
    why = f"its two sides differ by {apart:.0%} of the higher" if apart > limit.number else "its head passes too little"
    return broken(
        f"{capital(facts.part_name(part.id))}: when {_cause(swing, facts)} opens, {why}; its valve is not tested for that.",
        "advice",
        measured=Measured(round(apart, 2), "count"),
        limit=limit,
        found=why,
        needed=f"at most {limit.number:.0%} apart, and a head of at least the valve's least flow",
        mend="Take the two from different ports, or make what they share of larger tube.",
        cause=("parts", part.id, "head") if slow else None,
        estimate=estimate,
    )


def _slow(part: Part, mixer: Mixer, limits: Limits) -> bool:
    """Whether the head passes less than the valve is tested for. Raises NotShown where one of the two is not said."""
    head = part.own.head if isinstance(part.own, FixtureOwn) else None
    least_m3s = mixer.least.si if isinstance(mixer.least, Quantity) else None
    if least_m3s is None:
        if isinstance(head, Quantity) and at_least(head.si, limits.of(TESTED).number, GRACE_FLOW_M3S):
            return False
        raise NotShown(("parts", part.id, "mixer", "least"), "the least flow the valve is tested for")
    if not isinstance(head, Quantity):
        raise NotShown(("parts", part.id, "head"), "what the shower head passes")
    return not at_least(head.si, least_m3s, GRACE_FLOW_M3S)


def _apart(part: Part, after: Mixed, facts: Facts) -> float:
    """How far the two sides differ, as a share of the higher pressure."""
    level = facts.flow.house.levels.of(Ref(part.id, "hot")) or 0.0
    hot, cold = after.hot_m - level, after.cold_m - level
    return abs(hot - cold) / max(hot, cold) if max(hot, cold) > 0 else 1.0


def _cause(swing: Swing, facts: Facts) -> str:
    return f"the {swing.side} side of {facts.part_name(swing.cause.partition('/')[0])}"


def _swings(question: Question, swing: Swing, scalds: bool, facts: Facts, limits: Limits, estimate: str) -> Outcome:
    part, before, after = question.part, swing.before, swing.after
    assert before is not None and after is not None
    start, end = facts.degrees(before.celsius), facts.degrees(after.celsius)
    apart = facts.degrees_apart(abs(swing.change_c))
    way = "hotter" if swing.change_c > 0 else "colder"
    severity = "hazard" if scalds else "advice"
    slower = f"{facts.quantity(before.flow_m3s, 'flow')} to {facts.quantity(after.flow_m3s, 'flow')}"
    return broken(
        f"{capital(facts.part_name(part.id))}: {_cause(swing, facts)} opens and its water gets about {apart} {way} ({start} to {end}).",
        severity,
        measured=Measured(after.celsius, "temperature") if scalds else Measured(abs(swing.change_c), "difference"),
        limit=limits.of(SCALD if scalds else SWING),
        found=f"about {start} before and {end} after; its flow goes from {slower}",
        needed="a valve that holds the temperature, or piping that does not move it",
        mend=f"Fit a pressure-balanced or thermostatic valve; or take {swing.cause.partition('/')[0]} from another port.",
        caution=f"At {end} skin burns in {facts.burns_in(after.celsius)}; children and the old sooner."
        if scalds
        else "",
        cause=("parts", part.id, "mixer"),
        estimate=estimate,
    )
