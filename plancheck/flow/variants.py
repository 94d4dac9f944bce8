"""One plan with a manifold built another way: ring, straight fed at the end or in the middle, of the next larger tube."""

from plancheck.facts import Facts
from plancheck.flow.flow import Flow
from plancheck.flow.mending import next_size
from plancheck.flow.shower import showers, swing, trimmed
from plancheck.measures import read_size
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import ManifoldOwn, Part, Port, Ref, Tube
from plancheck.record import NamedTuple

RING, END, MIDDLE, LARGER = "ring", "straight, fed at the end", "straight, fed in the middle", "next larger tube"
SHAPES = (RING, END, MIDDLE, LARGER)


class Variant(NamedTuple):
    """A manifold one way.

    shape: in words; ports: port -> pressure at it, Pa, while the house draws its peak; port_pa: loss from the feed to the
    port of the worst outlet; swings: largest change of a shower on it, K, with what opens; why: why there is none.
    """

    shape: str
    ports: dict[str, float]
    lost_pa: float = 0.0
    swing_k: float | None = None
    why: str = ""

    @property
    def spread_pa(self) -> float:
        """Highest less lowest port."""
        return max(self.ports.values()) - min(self.ports.values()) if self.ports else 0.0


def variant_plan(facts: Facts, part: Part, shape: str) -> Facts | None:
    """The facts of the same plan with the manifold built the other way; None where that cannot be said."""
    own = part.own
    if not isinstance(own, ManifoldOwn):
        return None
    plan = facts.plan
    if shape == LARGER:
        tube = _larger(facts, own)
        if tube is None:
            return None
        plan = plan._replace(tubes={**plan.tubes, tube.id: tube})
        changed = own._replace(tube=tube.id)
    elif shape == RING:
        changed = own._replace(shape="ring")
    else:
        changed = own._replace(shape="straight", ports=_fed(own, shape == MIDDLE))
    parts = {**plan.parts, part.id: part._replace(own=changed)}
    return Facts(plan._replace(parts=parts), facts.source, facts.today)


def as_built(own: ManifoldOwn) -> str:
    """How a manifold is built, in the same words."""
    if own.shape == "ring":
        return RING
    names = list(own.ports)
    place = next((names.index(name) for name, port in own.ports.items() if port.use == "feed"), 0)
    return END if place in (0, len(names) - 1) else MIDDLE


def _fed(own: ManifoldOwn, middle: bool) -> dict[str, Port]:
    """The ports in their order with the feed first, or in the middle of them."""
    feeds = [(name, port) for name, port in own.ports.items() if port.use == "feed"]
    rest = [(name, port) for name, port in own.ports.items() if port.use != "feed"]
    place = (len(rest) + 1) // 2 if middle else 0
    return dict([*rest[:place], *feeds, *rest[place:]])


def _larger(facts: Facts, own: ManifoldOwn) -> Tube | None:
    """The manifold's tube in its next size."""
    tube = facts.plan.tubes.get(own.tube or "")
    found = next_size(tube) if tube is not None else None
    if tube is None or found is None or own.bore is not None:
        return None
    return tube._replace(id=f"{tube.id} in {found[0]}", size=read_size(found[0]), outside=None, wall=None)


def solved(flow: Flow, part: Part, shape: str, draws: dict[str, float]) -> Variant:
    """A manifold of a house while its fixtures draw, and how far showers on it swing."""
    own = part.own
    if not isinstance(own, ManifoldOwn):
        return Variant(shape, {}, why="it is no manifold")
    solution = flow.drawn(draws)
    if solution.why:
        return Variant(shape, {}, why=solution.why)
    used = set(flow.used_ports(part))
    feed = next((name for name, port in own.ports.items() if port.use == "feed"), "")
    heads = {name: solution.heads.get(flow.house.node(f"{part.id}/{name}:row")) for name in own.ports}
    entry = heads.get(feed)
    level = flow.house.levels.of(Ref(part.id, feed)) or 0.0
    ports = {name: (head - level) * WATER_PA_PER_M for name, head in heads.items() if head is not None and name in used}
    lost = max(((entry - head) * WATER_PA_PER_M for name, head in heads.items()
                if entry is not None and head is not None and name in used), default=0.0)  # fmt: skip
    return Variant(shape, ports, lost, _swing(flow, part))


def _swing(flow: Flow, part: Part) -> float | None:
    """The largest change, K, of a shower on this manifold by one draw on another port of it."""
    sides = set(flow.sides_on(part))
    worst: float | None = None
    for fixture in showers(flow):
        if not sides.intersection(fixture.sides.values()):
            continue
        before, _, _ = trimmed(flow, fixture)
        if before is None:
            continue
        for edge in sides:
            if edge.partition("/")[0] != fixture.part and edge in flow.house.closed:
                change = abs(swing(flow, fixture, edge, before).change_c)
                worst = change if worst is None else max(worst, change)
    return worst


def compared(flow: Flow, part: Part, draws: dict[str, float]) -> list[Variant]:
    """The manifold as built, and every other way."""
    own = part.own
    if not isinstance(own, ManifoldOwn):
        return []
    built = as_built(own)
    found = [solved(flow, part, f"{built} (as planned)", draws)]
    for shape in SHAPES:
        if shape == built:
            continue
        facts = variant_plan(flow.facts, part, shape)
        if facts is not None:
            found.append(solved(Flow(facts), facts.plan.parts[part.id], shape, draws))
    return found
