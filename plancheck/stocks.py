"""Tubes by what uses them: the new runs of each stock, and the new manifolds made of it."""

from __future__ import annotations

from plancheck.answers import is_new, tube_of
from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Part, Run, Tube
from plancheck.record import NamedTuple

_OLD = ("lead", "polybutylene", "galvanised steel")


class Stock(NamedTuple):
    """A tube with the new runs and the new manifolds that are made of it, as they stand in the plan."""

    tube: Tube
    runs: tuple[Run, ...]
    manifolds: tuple[Part, ...]

    @property
    def users(self) -> str:
        """What is made of it, in words: the first names, and how many more."""
        names = [run.id for run in self.runs] + [part.id for part in self.manifolds]
        more = f" and {len(names) - 4} more" if len(names) > 5 else ""
        return ", ".join(names[: 4 if more else 5]) + more


def new_stocks(facts: Facts) -> list[Stock]:
    """The stocks that new work uses, in the order of the plan; ready-made connectors are none."""
    runs: dict[str, list[Run]] = {}
    manifolds: dict[str, list[Part]] = {}
    for run in facts.plan.runs.values():
        if run.tube is not None and is_new(run):
            runs.setdefault(run.tube, []).append(run)
    for part in facts.plan.parts.values():
        if isinstance(part.own, ManifoldOwn) and part.own.tube is not None and is_new(part):
            manifolds.setdefault(part.own.tube, []).append(part)
    return [
        Stock(tube, tuple(runs.get(id_, ())), tuple(manifolds.get(id_, ())))
        for id_, tube in facts.plan.tubes.items()
        if (id_ in runs or id_ in manifolds) and tube.form != "connector"
    ]


def is_drinking(stock: Stock, facts: Facts) -> bool | None:
    """Whether any of it carries drinking water; None where no water is traced to any of it."""
    services = {facts.carried(run.id).service for run in stock.runs}
    number, found = facts.network.number, facts.traced.services
    for part in stock.manifolds:
        if isinstance(part.own, ManifoldOwn):
            services.update(found.get(number.get(f"{part.id}/{port}", -1)) for port in part.own.ports)
    services.discard(None)
    return any(service != "not potable" for service in services) if services else None


class Used(NamedTuple):
    """A stock put to one use by these runs; old: they are there already."""

    tube: Tube
    use: str
    runs: tuple[Run, ...]
    old: bool

    @property
    def named(self) -> str:
        """The first of its runs, and how many more."""
        more = len(self.runs) - 3
        return ", ".join(run.id for run in self.runs[:3]) + (f" and {more} more" if more > 0 else "")


def used_stocks(facts: Facts) -> list[Used]:
    """Each stock by the uses that new runs put it to, where they matter for its material; and the bad ones that stay."""
    found: dict[tuple[str, str], list[Run]] = {}
    for run in facts.plan.runs.values():
        tube = tube_of(run, facts.plan)
        if tube is None or run.work == "removed" or tube.form == "connector":
            continue
        if is_new(run):
            found.setdefault((tube.id, _use(run, tube, facts)), []).append(run)
        elif tube.material in _OLD:
            found.setdefault((tube.id, "existing"), []).append(run)
    tubes = facts.plan.tubes
    return [Used(tubes[id_], use, tuple(runs), use == "existing") for (id_, use), runs in found.items()]


def _use(run: Run, tube: Tube, facts: Facts) -> str:
    """What it is used for, where that matters for the material."""
    slab = tube.material == "copper" and any(place.is_ == "slab" for place in facts.plan.places.values())
    if tube.material not in ("PE", "PVC") and not slab:
        return "new"
    from plancheck.uses import UNDER_SLAB, use_of

    use = use_of(run, facts)
    return "new" if slab and use != UNDER_SLAB else use
