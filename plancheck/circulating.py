"""The loops in which hot water is kept moving: their pumps, what closes them, the runs in them, the narrowest. SI."""

import math

from plancheck.answers import tube_of
from plancheck.facts import Facts
from plancheck.hot.stored import loop_runs
from plancheck.limits import NotShown
from plancheck.model import DeviceOwn, HeaterOwn, Path, PumpOwn, Run, Tube, ValveOwn
from plancheck.network.waters import HOT, RETURN
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_bore_m


class Circulation(NamedTuple):
    """What circulates in a plan.

    pumps: those in hot or return pipe; dedicated: heaters with a return pipe of their own; into_cold: whether a cold line
    serves as return; checked: a check stands in the return; runs: those of the loop, out and back.
    """

    pumps: tuple[str, ...]
    dedicated: tuple[str, ...]
    into_cold: bool
    checked: bool
    runs: tuple[str, ...]

    @property
    def closes(self) -> bool:
        """Whether a way back to the heater is there, of its own or through the cold line."""
        return bool(self.dedicated) or self.into_cold

    @property
    def path(self) -> Path:
        """Where it stands in the plan: its first pump, else the heater with the return."""
        first = (*self.pumps, *self.dedicated)[:1]
        return ("parts", *first) if first else ("runs",)


class Narrowest(NamedTuple):
    """The run of a loop with the smallest bore, and the area open in it."""

    run: Run
    tube: Tube
    area_m2: float


def circulation(facts: Facts) -> Circulation:
    """What circulates; everything empty in a house without pump and return."""
    graph, services = facts.network, facts.traced.services
    parts = [part for part in facts.plan.parts.values() if part.work != "removed"]
    moving = (HOT, RETURN)
    pumps = tuple(p.id for p in parts if isinstance(p.own, PumpOwn) and services.get(graph.number[p.id]) in moving)
    heaters = [p.id for p in parts if isinstance(p.own, HeaterOwn)]
    dedicated = tuple(id_ for id_ in heaters if services.get(graph.number[f"{id_}/return"]) in moving)
    checked = any(
        (p.is_ == "check valve" or (isinstance(p.own, ValveOwn | DeviceOwn) and p.own.check is True))
        and services.get(graph.number.get(p.id, -1)) == RETURN
        for p in parts
    )
    into_cold = bool(facts.traced.returns)
    if not pumps and not dedicated and not into_cold:
        return Circulation((), (), False, False, ())
    back = [run for run in facts.plan.runs if facts.carried(run).service == "hot return"]
    runs = tuple(dict.fromkeys((*loop_runs(facts), *back)))
    return Circulation(pumps, dedicated, into_cold, checked, runs)


def narrowest(facts: Facts, loop: Circulation) -> Narrowest | None:
    """The narrowest run of a loop; connectors are passed over. Raises NotShown where a bore is not known."""
    found = []
    for id_ in loop.runs:
        run = facts.plan.runs[id_]
        tube = tube_of(run, facts.plan)
        if tube is None or tube.form == "connector":
            continue
        bore_m = tube_bore_m(tube)
        if bore_m is None:
            raise NotShown(("tubes", tube.id, "type" if tube.material == "copper" else "wall"), "the bore of the loop")
        found.append(Narrowest(run, tube, math.pi / 4 * bore_m**2))
    return min(found, key=lambda one: one.area_m2) if found else None
