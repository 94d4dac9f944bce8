"""The loops in which hot water is kept moving: their pumps, what closes them, the runs in them."""

from plancheck.facts import Facts
from plancheck.hot.stored import loop_runs
from plancheck.model import DeviceOwn, HeaterOwn, PumpOwn, ValveOwn
from plancheck.network.waters import HOT, RETURN
from plancheck.record import NamedTuple


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
