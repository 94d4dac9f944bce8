"""The tube is rated for this pressure at this temperature

Looks at: each run of plastic that carries water: the standing pressure of its zone against what its tube is rated for at the
    temperature of its water. Cold counts as 73 degF, hot as the heater's setting, tempered water as the valve's. A rating
    on the tube's own print line stands before the standard's. The service has a rating of its own to meet.
Why: plastic is strong cold and soft hot. PEX that stands 160 psi at room temperature is rated for 100 at 180 degF; over
    it the tube does not burst tomorrow, it creeps and lets go years early.
To mend: bring the pressure down with a regulator, or the heater to its ordinary setting; above 180 degF use metal.
Cannot see: cold tube in a hot attic, sun on it, water hammer, how hot the water gets when a thermostat fails; the relief
    valve's 150 psi and 210 degF are no working state and are not compared.
Ask: the tube maker for a rating between the printed points; the standard prints none, so the hotter point counts.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_PRESSURE_PA,
    GRACE_TEMPERATURE_C,
    PEX,
    PSI_PA,
    Carried,
    Facts,
    HeaterOwn,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Quantity,
    Rule,
    Run,
    Subject,
    Tube,
    Value,
    broken,
    estimates,
    holds,
    is_new,
    printed,
    recalled,
    tube_of,
)

if TYPE_CHECKING:
    from plancheck.standing import Zone

_COLD_C, _HOT_C = (73.4 - 32) / 1.8, (180 - 32) / 1.8


def _everywhere(id_: str, title: str, psi: float, value: Value) -> Limit:
    """A rating of a product standard, which every family takes over."""
    value = value._replace(value=psi * PSI_PA)
    usual = (value._replace(practice=True),)
    return Limit(id_, title, "pressure", "at most", (value,), (value,), (value,), usual)


_PEX_STANDARD = Value(0, printed("ASTM F876", "", "ratings"))
PEX_COLD = _everywhere("pex_cold", "pressure in PEX at 73 degF", 160, _PEX_STANDARD)
PEX_HOT = _everywhere("pex_hot", "pressure in PEX at 180 degF", 100, _PEX_STANDARD)
CPVC_COLD = _everywhere(
    "cpvc_cold", "pressure in CPVC at 73 degF", 400, Value(0, recalled("ASTM D2846", "", "ratings"))
)
CPVC_HOT = _everywhere("cpvc_hot", "pressure in CPVC at 180 degF", 100, Value(0, printed("ASTM D2846", "", "ratings")))
_160_PSI = 160 * PSI_PA
SERVICE = Limit(
    "service",
    "rating of a plastic service at 73 degF",
    "pressure",
    "at least",
    irc=(Value(_160_PSI, printed("IRC", "2018", "P2906.4")),),
    ipc=(Value(_160_PSI, printed("IPC", "", "605.3")),),
    upc=(Value(_160_PSI, recalled("UPC", "", "604")),),
    practice=(Value(_160_PSI, printed("IPC", "", "605.3"), practice=True),),
)
RULE = Rule(highest="hazard", stage="layout", limits=(PEX_COLD, PEX_HOT, CPVC_COLD, CPVC_HOT, SERVICE))

_WARM = ("hot", "hot return", "mixed")


class Rated(NamedTuple):
    """A plastic run, its tube, its water and its zone; printed: the ratings on its print line, degC and Pa."""

    run: Run
    tube: Tube
    carried: Carried
    zone: "Zone"
    roots: dict[str, str]
    printed: tuple[tuple[float, float], ...]


class Point(NamedTuple):
    """What a tube stands at a temperature; where: the limit it comes from, None for its own print."""

    celsius: float
    pa: float
    limit: InForce | None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each run of PEX or CPVC that carries water."""
    runs = [(run, tube_of(run, facts.plan)) for run in facts.plan.runs.values() if run.work != "removed"]
    mine = [(run, tube) for run, tube in runs if tube is not None and (tube.material in PEX or tube.material == "CPVC")]
    if not mine:
        return
    from plancheck.printmarks import ratings_in

    found, number, roots = facts.standing, facts.network.number, dict[str, str]()
    for run, tube in mine:
        zone = found.at(number[str(run.from_)]) if run.from_ is not None else None
        if zone is not None and facts.carried(run.id).service is not None:
            place = (facts.run_places(run.id) or (None,))[-1]
            marks = ratings_in(tube.print) if isinstance(tube.print, tuple) else ()
            thing = Rated(run, tube, facts.carried(run.id), zone, roots, marks)
            yield Subject(("runs", run.id), f"rating of {run.id}", place, thing)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the pressure is within the rating at the temperature, and the service is rated high enough."""
    rated: Rated = subject.thing
    points = _points(rated, limits)
    if _is_service(rated.run, facts):
        service = limits.of(SERVICE)
        if points[0].pa < service.number - GRACE_PRESSURE_PA:
            return _weak_service(rated, points[0], service, facts)
    pressure_pa = rated.zone.pressure_pa
    if pressure_pa is None:
        raise NotShown(rated.zone.missing or ("water", "static"), "the standing pressure")
    hot, about = _temperature(rated, facts), rated.zone.about
    if hot is None and pressure_pa > points[-1].pa + GRACE_PRESSURE_PA:
        raise NotShown(_set_key(rated), "the temperature it is set to")
    celsius = _COLD_C if rated.carried.service not in _WARM else hot.si if hot is not None else points[-1].celsius
    if hot is not None and rated.carried.service in _WARM:
        about = ", ".join(filter(None, (about, estimates(hot))))
    if celsius > points[-1].celsius + GRACE_TEMPERATURE_C:
        return _too_hot(rated, celsius, points[-1], facts, about)
    step = next(point for point in points if celsius <= point.celsius + GRACE_TEMPERATURE_C)
    if pressure_pa <= step.pa + GRACE_PRESSURE_PA:
        return holds("", Measured(pressure_pa, "pressure"), step.limit, about)
    return _over(rated, celsius, points, step, facts, about)


def _points(rated: Rated, limits: Limits) -> list[Point]:
    """The rating by temperature, coldest first: from the print line, else from the standard."""
    if rated.printed:
        return [Point(celsius, pa, None) for celsius, pa in rated.printed]
    cold, hot = (CPVC_COLD, CPVC_HOT) if rated.tube.material == "CPVC" else (PEX_COLD, PEX_HOT)
    found = limits.of(cold), limits.of(hot)
    return [Point(_COLD_C, found[0].number, found[0]), Point(_HOT_C, found[1].number, found[1])]


def _temperature(rated: Rated, facts: Facts) -> Quantity | None:
    """What its water is set to, where it is warm and the plan tells."""
    from plancheck.network.trace import temperature

    found = temperature(facts.plan, rated.carried)
    if rated.carried.service not in _WARM:
        return Quantity(_COLD_C, "temperature", "73 degF")
    return found if isinstance(found, Quantity) else None


def _set_key(rated: Rated) -> Path:
    return ("parts", rated.carried.heated_by or "", "set")


def _is_service(run: Run, facts: Facts) -> bool:
    """Whether a run comes straight from the source, or lies in the ground."""
    source = run.from_ is not None and facts.plan.parts[run.from_.part].is_ == "source"
    return source or run.cover is not None


def _cause(rated: Rated) -> Path | None:
    """The pressure of the house, where that is too high by itself."""
    return rated.zone.path if (rated.zone.pressure_pa or 0.0) > 80.5 * PSI_PA else None


def _over(rated: Rated, celsius: float, points: list[Point], step: Point, facts: Facts, about: str) -> Outcome:
    pressure_pa = rated.zone.pressure_pa or 0.0
    line_pa = _on_line(points, celsius)
    within = pressure_pa <= line_pa + GRACE_PRESSURE_PA
    at, shown = facts.quantity(celsius, "temperature"), facts.quantity(pressure_pa, "pressure")
    step_at, step_shown = facts.quantity(step.celsius, "temperature"), facts.quantity(step.pa, "pressure")
    between = f"; on a straight line between its points about {facts.quantity(line_pa, 'pressure')}" if within else ""
    own = ("tubes", rated.tube.id, "print") if step.limit is None else None  # told once for all its runs
    again = rated.roots.setdefault(f"{rated.tube.id} printed", rated.run.id) != rated.run.id
    return broken(
        f"{rated.run.id} at {at} and {shown}: {rated.tube.material} is rated {step_shown} at {step_at}{between}.",
        "advice" if within or not is_new(rated.run) else "correction",
        measured=Measured(pressure_pa, "pressure"),
        limit=step.limit,
        found=f"{shown} at {at}",
        needed=f"at most {step_shown}",
        mend=f"Bring the pressure to {step_shown} or less: a regulator at {_target(facts)}.",
        cause=_cause(rated) or (own if again else None),
        at=own,
        estimate=about,
    )


def _target(facts: Facts) -> str:
    return facts.quantity(60 * PSI_PA if facts.units.pressure == "psi" else 4e5, "pressure")


def _on_line(points: list[Point], celsius: float) -> float:
    """The rating on straight lines between the points."""
    if celsius <= points[0].celsius:
        return points[0].pa
    for cold, hot in pairwise(points):
        if celsius <= hot.celsius:
            share = (celsius - cold.celsius) / (hot.celsius - cold.celsius)
            return cold.pa + share * (hot.pa - cold.pa)
    return points[-1].pa


def _too_hot(rated: Rated, celsius: float, last: Point, facts: Facts, about: str) -> Outcome:
    at, most = facts.quantity(celsius, "temperature"), facts.quantity(last.celsius, "temperature")
    heater = facts.plan.parts.get(rated.carried.heated_by or "")
    own = heater.own if heater is not None else None
    wild = isinstance(own, HeaterOwn) and (own.style == "boiler coil" or own.fuel in ("wood", "solar"))
    first = rated.roots.setdefault(f"{rated.tube.id} {rated.carried.heated_by}", rated.run.id)
    return broken(
        f"{rated.run.id} carries water of {at}; {rated.tube.material} is rated up to {most}.",
        "hazard" if wild else "correction" if is_new(rated.run) else "advice",
        measured=Measured(celsius, "temperature"),
        limit=last.limit,
        found=f"water of {at}",
        needed=f"at most {most}",
        why="Over its highest rated temperature the tube has no rating at all, and the water scalds at once.",
        mend=f"Set the heater to {facts.quantity(60.0, 'temperature')} at most, or put a mixing valve at it.",
        caution="Who is licensed for boilers and fires looks at what heats it." if wild else "",
        cause=("runs", first) if first != rated.run.id else None,
        estimate=about,
    )


def _weak_service(rated: Rated, point: Point, limit: InForce, facts: Facts) -> Outcome:
    shown, least = facts.quantity(point.pa, "pressure"), facts.quantity(limit.number, "pressure")
    return broken(
        f"{rated.run.id} is the service, and its tube prints {shown} at {facts.quantity(point.celsius, 'temperature')}; "
        f"at least {least}.",
        "correction" if is_new(rated.run) else "advice",
        measured=Measured(point.pa, "pressure"),
        limit=limit,
        mend=f"Lay tube rated {least} at {facts.quantity(_COLD_C, 'temperature')} or more.",
        at=("tubes", rated.tube.id, "print"),
    )
