"""Why a gauge reads other than predicted: single causes, each put into the house and solved again. Never a diagnosis: what
fits is to be checked on site."""

from collections.abc import Callable, Mapping

from plancheck.closed import closed_stretch
from plancheck.flow.flow import Flow
from plancheck.flow.gauge import predicted
from plancheck.flow.losses import VALVE_K
from plancheck.hydraulics.plain import Darcy, Law, Quadratic, Regulator
from plancheck.measures.units import PSI_PA, WATER_PA_PER_M
from plancheck.model import Ref
from plancheck.record import NamedTuple

_NEAR_PA = 0.05 * PSI_PA
_MOST_TRIES = 60


class Cause(NamedTuple):
    """One cause that explains a reading.

    words: what it is, with its figure; odds: the smaller, the likelier (how far it must be off, in usual steps); off_pa:
    what it leaves unexplained; at: where to look; flow, laws: the house with it in.
    """

    words: str
    odds: float
    off_pa: float
    at: str
    flow: Flow
    laws: Mapping[str, Law]
    running: tuple[str, ...] = ()

    def reading(self, at: Ref, opened: tuple[str, ...]) -> float | None:
        """What the gauge would read with this cause and these fixtures open, Pa."""
        found = predicted(self.flow, at, tuple(dict.fromkeys((*opened, *self.running))), self.laws)
        return None if found.missing is not None or found.why else found.pa


class _Asked(NamedTuple):
    flow: Flow
    at: Ref
    opened: tuple[str, ...]
    reads_pa: float
    expected_pa: float
    band_pa: float


def causes(
    flow: Flow, at: Ref, opened: tuple[str, ...], reads_pa: float, expected_pa: float, band_pa: float
) -> list[Cause]:
    """The single causes that would make the gauge read this, the likeliest first."""
    asked = _Asked(flow, at, opened, reads_pa, expected_pa, band_pa)
    found = [_supply(asked), *_regulators(asked), *_valves(asked), _service(asked), *_running(asked), _tank(asked)]
    return sorted((one for one in found if one is not None), key=lambda one: one.odds)


def _reading(asked: _Asked, flow: Flow, laws: Mapping[str, Law]) -> float | None:
    found = predicted(flow, asked.at, asked.opened, laws)
    return None if found.missing is not None or found.why else found.pa


def _fitted(read: Callable[[float], float | None], goal: float, low: float, high: float) -> float | None:
    """Where a reading that only rises, or only falls, between two figures meets the goal; None where it does not."""
    at_low, at_high = read(low), read(high)
    if (
        at_low is None
        or at_high is None
        or not min(at_low, at_high) - _NEAR_PA <= goal <= max(at_low, at_high) + _NEAR_PA
    ):
        return None
    rising = at_high > at_low
    middle = (low + high) / 2.0
    for _ in range(_MOST_TRIES):
        middle = (low + high) / 2.0
        found = read(middle)
        if found is None:
            return None
        if abs(found - goal) <= _NEAR_PA / 10.0:
            return middle
        if (found < goal) == rising:
            low = middle
        else:
            high = middle
    return middle


def shifted(flow: Flow, pa: float) -> Flow:
    """The house with so much more pressure at its source."""
    network = flow.house.network
    heads = {
        node: head if node.startswith("air") else head + pa / WATER_PA_PER_M for node, head in network.heads.items()
    }
    return Flow(flow.facts, flow.house._replace(network=network._replace(heads=heads)))


def _supply(asked: _Asked) -> Cause | None:
    facts = asked.flow.facts
    static = facts.plan.water.static
    if static is None or isinstance(static, str):
        return None
    fitted = _fitted(lambda pa: _reading(asked, shifted(asked.flow, pa), {}), asked.reads_pa, -static.si, 80.0 * PSI_PA)
    if fitted is None:
        return None
    way = "lower" if fitted < 0 else "higher"
    now = facts.quantity(static.si + fitted, "pressure")
    words = f"the supply is {way} than stated: {now} standing instead of {static.text}"
    return Cause(words, 0.5 + abs(fitted) / (5.0 * PSI_PA), 0.0, "the street gauge", shifted(asked.flow, fitted), {})


def _regulators(asked: _Asked) -> list[Cause]:
    found = []
    facts = asked.flow.facts
    for edge in asked.flow.house.network.edges:
        law = edge.law
        level = asked.flow.house.levels.of(Ref(edge.id, "out"))
        if not isinstance(law, Regulator) or level is None:
            continue

        def read(pa: float, name: str = edge.id, law: Regulator = law) -> float | None:
            return _reading(asked, asked.flow, {name: law._replace(set_m=law.set_m + pa / WATER_PA_PER_M)})

        said_pa = (law.set_m - level) * WATER_PA_PER_M
        fitted = _fitted(read, asked.reads_pa, -said_pa, 100.0 * PSI_PA)
        if fitted is None:
            continue
        now = facts.quantity(said_pa + fitted, "pressure")
        how = (
            f"{edge.id} is set low: it holds {now}"
            if fitted < 0
            else f"{edge.id} is set high or creeps: it holds {now}"
        )
        laws = {edge.id: law._replace(set_m=law.set_m + fitted / WATER_PA_PER_M)}
        odds = 0.6 + abs(fitted) / (5.0 * PSI_PA)
        found.append(
            Cause(f"{how} instead of {facts.quantity(said_pa, 'pressure')}", odds, 0.0, edge.id, asked.flow, laws)
        )
    return found


def _valves(asked: _Asked) -> list[Cause]:
    """Each valve that the water to the gauge passes, partly shut; those of a measured service stand in its one loss."""
    if not asked.opened or asked.reads_pa >= asked.expected_pa:
        return []
    house = asked.flow.house
    found = []
    for step in predicted(asked.flow, asked.at, asked.opened).route:
        piece = house.pieces[step.edge]
        if piece.kind == "valve" and piece.bore_m is not None:
            found.append(_valve(asked, step.edge, piece.thing, piece.bore_m))
        elif piece.kind == "service":
            gone = [(one.thing, one.bore_m) for name, one in house.pieces.items()
                    if one.kind == "valve" and name not in asked.flow.edges]  # fmt: skip
            found += [_valve(asked, step.edge, thing, bore) for thing, bore in gone if bore is not None]
    return [one for one in found if one is not None]


def _valve(asked: _Asked, edge: str, thing: str, bore_m: float) -> Cause | None:
    """One valve, shut so far that the reading fits."""
    law = asked.flow.edges[edge].law
    if not isinstance(law, Quadratic | Darcy):
        return None

    def laws_at(k: float) -> dict[str, Law]:
        from plancheck.flow.devices import quadratic_of_k

        return {
            edge: law._replace(k=law.k + k) if isinstance(law, Darcy) else Quadratic(law.r + quadratic_of_k(k, bore_m))
        }

    fitted = _fitted(lambda power: _reading(asked, asked.flow, laws_at(10.0**power)), asked.reads_pa, -1.0, 5.0)
    if fitted is None:
        return None
    times = 10.0**fitted / VALVE_K["ball"]
    words = f"the valve {thing} is partly shut: it takes {times:,.0f} times what an open ball valve takes"
    return Cause(words, 1.5 + 0.2 * fitted, 0.0, thing, asked.flow, laws_at(10.0**fitted))


def _service(asked: _Asked) -> Cause | None:
    """A service grown narrow, or losing more than was read."""
    if not asked.opened or asked.reads_pa >= asked.expected_pa:
        return None
    names = [run.id for run in asked.flow.common_runs()]
    pipes = {name: asked.flow.edges[name].law for name in names if name in asked.flow.edges}
    measured = {edge.id: edge.law for edge in asked.flow.house.network.edges
                if asked.flow.house.pieces[edge.id].kind == "service"}  # fmt: skip

    def laws_at(share: float) -> dict[str, Law]:
        laws: dict[str, Law] = {}
        for name, law in pipes.items():
            if isinstance(law, Darcy):
                laws[name] = law._replace(bore_m=law.bore_m * share)
        for name, law in measured.items():
            if isinstance(law, Quadratic):
                laws[name] = Quadratic(law.r / share**5)
        return laws

    fitted = _fitted(lambda share: _reading(asked, asked.flow, laws_at(share)), asked.reads_pa, 0.2, 1.0)
    if fitted is None:
        return None
    words = f"the service has grown narrow: as if its bore were {fitted:.0%} of what it was"
    return Cause(
        words, 1.5 + (1.0 - fitted) * 4.0, 0.0, names[0] if names else "the service", asked.flow, laws_at(fitted)
    )


def _running(asked: _Asked) -> list[Cause]:
    """Something else runs: each fixture that was not said to be open."""
    if asked.reads_pa >= asked.expected_pa:
        return []
    found = []
    for fixture in asked.flow.house.fixtures.values():
        if fixture.part in asked.opened or not fixture.sides:
            continue
        one = predicted(asked.flow, asked.at, (*asked.opened, fixture.part))
        if one.missing is not None or one.why:
            continue
        off = abs(one.pa - asked.reads_pa)
        if off <= asked.band_pa:
            words = f"{asked.flow.facts.part_name(fixture.part)} runs as well"
            found.append(Cause(words, 1.2 + off / (3.0 * PSI_PA), off, fixture.part, asked.flow, {}, (fixture.part,)))
    return found


def _tank(asked: _Asked) -> Cause | None:
    """Nothing runs and the gauge reads high: heated water that finds no room."""
    if asked.opened or asked.reads_pa <= asked.expected_pa:
        return None
    facts = asked.flow.facts
    for part in facts.plan.parts.values():
        if part.is_ == "expansion tank" and part.work != "removed":
            words = f"{part.id} has lost its charge, so that heating raises the pressure (read it before and after a heating)"
            return Cause(words, 1.4, 0.0, part.id, asked.flow, {})
    heaters = [part.id for part in facts.plan.parts.values() if part.is_ == "water heater" and part.work != "removed"]
    if any(not closed_stretch(facts, heater).open_ for heater in heaters):
        words = "the house is closed and its heated water finds no room (read it before and after a heating)"
        return Cause(words, 1.6, 0.0, "the heater", asked.flow, {})
    return None
