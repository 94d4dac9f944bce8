"""The loop returns, is controlled, runs slow, and does not warm the cold

Looks at: each pump in hot pipe and each return: whether the loop closes, what starts the pump, a check valve in the return, how
    fast the water runs in the narrowest tube of the loop, and how hot it is in PEX. And where the cold line serves as
    the return, what starts the pump there.
Why: a loop that runs all day wears tube and fittings from inside, the faster and hotter the sooner, and heats the house. Without
    a check the tap upstairs draws cold backwards through the return. Hot water pushed into the cold line is drunk.
To mend: a pump on demand or by sensor, throttled to 2 ft/s; a check valve in the return; 140 degF at most.
Cannot see: how long the pump runs, the flow it really makes, how warm the cold line gets (at most 104 degF), whether a tankless
    heater may be circulated: its maker says so or not.
Ask: the energy code asks for a pump that stops by itself; tube makers want their tube's first digit 5 for a loop that never stops.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_TEMPERATURE_C,
    NOT_KNOWN,
    PEX,
    PRACTICE,
    Facts,
    HeaterOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Quantity,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    estimates,
    holds,
    of_practice,
    on_site,
    printed,
    tube_of,
)

if TYPE_CHECKING:
    from plancheck.circulating import Circulation, Narrowest

_FT = 0.3048
_ON_DEMAND = (
    "a pump on demand or by sensor where the cold line serves as the return, and no water over 104 degF into it"
)
_ENERGY = printed("energy code for dwellings", "2015", "R403.5.2")
_STOPS = printed("energy code for dwellings", "2015", "R403.5.1, as relayed")
_SLOW = printed("a tube maker's sheet (others: 2 to 3 ft/s)", "", "circulation")
_COOL = printed("a trade association's note", "2018", "circulation")
COLD_RETURN = Limit(
    "cold_return",
    "what starts the pump where the cold line is the return",
    "text",
    "",
    irc=(Value(_ON_DEMAND, _ENERGY, since=2015),),
    ipc=(Value(_ON_DEMAND, printed("IPC", "2015", "607.2.1.2"), since=2015),),
    practice=(Value(_ON_DEMAND, _ENERGY, practice=True),),
)
CONTROL = of_practice("control", "what stops the pump of a loop", "text", "", "a control, no gravity", _STOPS)
CHECK = of_practice("check", "a check valve in the return", "text", "", "a check valve in the return", PRACTICE)
SPEED = of_practice("speed", "speed of circulating water in tube", "speed", "at most", 2 * _FT, _SLOW)
WARM = of_practice("warm", "temperature of a circulating loop in PEX", "temperature", "at most", 60.0, _COOL)
_INTO_COLD_C = 40.0  # the words of COLD_RETURN: 104 degF
RULE = Rule(highest="correction", stage="layout", limits=(COLD_RETURN, CONTROL, CHECK, SPEED, WARM))

_BY_ITSELF = ("demand", "sensor")
_GRACE_M_S = 0.001 * _FT


class Asked(NamedTuple):
    """One question on the loops of the plan (closes, control, check, speed, warm, cold); pump: the part it is about."""

    asks: str
    pump: str
    loop: "Circulation"


def subjects(facts: Facts) -> Iterator[Subject]:
    """For each pump what it closes, its control and speed; once a check, the heat of the loop, the cold line."""
    plan = facts.plan
    pumped = any(part.is_ == "pump" for part in plan.parts.values())
    ends = (run.to for run in plan.runs.values() if run.work != "removed")
    if not (pumped or facts.traced.returns or any(to is not None and to.connection == "return" for to in ends)):
        return
    from plancheck.circulating import circulation

    loop = circulation(facts)
    for pump in loop.pumps:
        place, name = plan.parts[pump].place, facts.part_name(pump)
        yield Subject(("parts", pump), f"the way back to the heater from {name}", place, Asked("closes", pump, loop))
        if not loop.into_cold:
            yield Subject(("parts", pump), f"control of {name}", place, Asked("control", pump, loop))
        if loop.dedicated:  # through a cold line it runs for a minute, as a tap does
            yield Subject(("parts", pump), f"speed behind {name}", place, Asked("speed", pump, loop))
    if loop.dedicated and not loop.pumps:
        yield Subject(loop.path, "pump of the return", None, Asked("closes", "", loop))
    if loop.dedicated:
        yield Subject(loop.path, "check valve in the return", None, Asked("check", "", loop))
    if loop.closes:
        yield Subject(loop.path, "heat of the loop", None, Asked("warm", "", loop))
    if loop.into_cold:
        yield Subject(
            loop.path, "cold line as the return", None, Asked("cold", loop.pumps[0] if loop.pumps else "", loop)
        )


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """The answer to one of the questions."""
    asked: Asked = subject.thing
    answers = {"closes": _closes, "control": _control, "check": _check, "speed": _speed, "warm": _warm, "cold": _cold}
    return answers[asked.asks](asked, facts, limits)


def _closes(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    if asked.pump and asked.loop.closes:
        return holds("the loop closes")
    found, says = "no pump", "The return has no pump: it moves by gravity, if at all."
    mend = "Put a pump on demand into the return."
    if asked.pump:
        found, says = "no return", f"{capital(facts.part_name(asked.pump))} has no way back to the heater."
        mend = "Bring a return to the heater, or take it out."
    needed = "a loop with a pump and a return"
    return broken(says, "advice", limit=limits.of(CONTROL), found=found, needed=needed, mend=mend)


def _said(asked: Asked, facts: Facts) -> str:
    """What starts the pump. Raises NotShown."""
    said = getattr(facts.plan.parts[asked.pump].own, "control", None) if asked.pump else "always"
    if said is None or said == NOT_KNOWN:
        raise NotShown(
            ("parts", asked.pump, "control"), "what starts the pump (demand, sensor, timer, aquastat, always)"
        )
    return str(said)


def _control(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    said = _said(asked, facts)
    if said != "always":
        return holds(f"started by {said}" if said in _BY_ITSELF else f"{said}: on demand it would run still less")
    name = facts.part_name(asked.pump)
    return broken(
        f"{capital(name)} runs always.",
        "advice",
        limit=limits.of(CONTROL),
        found="runs always",
        needed="demand or sensor; a timer or aquastat at least",
        mend="Start it by a button or a sensor at the far outlet.",
        at=("parts", asked.pump, "control"),
    )


def _check(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    if asked.loop.checked:
        return holds("a check valve in the return")
    return broken(
        "No check valve stands in the return.",
        "advice",
        limit=limits.of(CHECK),
        found="no check valve",
        needed="one between the last draw and the heater",
        mend="Put a check valve into the return, behind the pump.",
        caution="It may close the house for heated water: see that there is an expansion tank.",
    )


def _speed(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.circulating import narrowest

    limit = limits.of(SPEED)
    flow = getattr(facts.plan.parts[asked.pump].own, "flow", None)
    if not isinstance(flow, Quantity):
        raise NotShown(("parts", asked.pump, "flow"), "the flow the pump makes in the loop")
    narrow = narrowest(facts, asked.loop)
    if narrow is None:
        return on_site("the loop is not drawn in tube: measure its flow")
    speed = flow.si / narrow.area_m2
    measured = Measured(speed, "speed")
    if speed <= limit.number + _GRACE_M_S:
        return holds("", measured, limit, estimates(flow))
    return _too_fast(asked, narrow, flow, limit, measured, facts)


def _too_fast(
    asked: Asked, narrow: "Narrowest", flow: Quantity, limit: InForce, measured: Measured, facts: Facts
) -> Outcome:
    from plancheck.measures.steps import stepped_down

    most_m3s = stepped_down(limit.number * narrow.area_m2, "flow", facts.units)
    return broken(
        f"Loop {facts.quantity(flow.si, 'flow')} in {getattr(narrow.tube.size, 'words', '')} {narrow.tube.material} "
        f"({narrow.run.id}): {facts.quantity(flow.si / narrow.area_m2, 'speed')}, limit {facts.quantity(limit.number, 'speed')}.",
        "advice",
        measured=measured,
        limit=limit,
        mend=f"Throttle it to {facts.quantity(most_m3s, 'flow')}.",
        at=("parts", asked.pump, "flow"),
        estimate=estimates(flow),
    )


def _warm(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    limit: InForce = limits.of(WARM)
    plastic = [
        run for run in asked.loop.runs if (tube := tube_of(facts.plan.runs[run], facts.plan)) and tube.material in PEX
    ]
    if not plastic:
        return holds("no PEX in the loop")
    heater, set_ = facts.carried(plastic[0]).heated_by or "", facts.hot_set(plastic[0])
    if not isinstance(set_, Quantity):
        raise NotShown(("parts", heater, "set"), "the temperature it is set to")
    measured = Measured(set_.si, "temperature")
    if set_.si <= limit.number + GRACE_TEMPERATURE_C:
        return holds("", measured, limit, estimates(set_))
    return broken(
        f"The loop circulates {facts.quantity(set_.si, 'temperature')} in {plastic[0]}; PEX is made for "
        f"{facts.quantity(limit.number, 'temperature')} at most.",
        "advice",
        measured=measured,
        limit=limit,
        mend=f"Set {'the heater' if isinstance(facts.plan.parts[heater].own, HeaterOwn) else 'the valve'} to "
        f"{facts.quantity(limit.number, 'temperature')} or less, or temper the loop at the heater.",
        cause=("parts", heater, "set"),
        at=("parts", heater, "set"),
        estimate=estimates(set_),
    )


def _cold(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    said, most = _said(asked, facts), facts.quantity(_INTO_COLD_C, "temperature")
    if said in _BY_ITSELF:
        return on_site(f"feel the cold tap after the pump has run: water into the cold line is not to pass {most}")
    runs = "its pump runs always" if said == "always" else f"its pump is started by {said}"
    what = runs if asked.pump else "no pump starts it"
    return broken(
        f"The cold line is the return, and {what}.",
        "correction",
        limit=limits.of(COLD_RETURN),
        found=said if asked.pump else "no pump",
        needed="a pump on demand or by sensor",
        mend="Start the pump by a button or a sensor, and let it stop when warm water comes.",
        caution=f"Water over {most} is not to be pushed into the cold line.",
        at=("parts", asked.pump, "control") if asked.pump else None,
    )
