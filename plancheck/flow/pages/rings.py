"""Does the ring help: where the pressure goes, and each manifold built the other ways."""

from plancheck.flow.flow import Flow
from plancheck.flow.manifolds import Taken
from plancheck.flow.pages.table import Cell, Column, Gaps, Table, not_shown
from plancheck.flow.split import MANIFOLD, PARTS, SERVICE
from plancheck.flow.variants import RING, Variant, compared
from plancheck.model import ManifoldOwn, Part

_LITTLE, _MUCH = 0.15, 0.30  # shares of the loss under and over which a manifold matters (own trials, practice)


def rings_tables(flow: Flow, gaps: Gaps) -> list[Table]:
    """For each manifold with three or more circuits the split of the loss, the variants, and a verdict in words."""
    found = []
    for part in flow.facts.plan.parts.values():
        if isinstance(part.own, ManifoldOwn) and part.work != "removed" and len(flow.used_ports(part)) >= 3:
            taken = flow.taken_by(flow.facts.loads, part)
            if taken.missing is not None:
                gaps.add(*taken.missing)
            if taken.missing is not None or taken.why or not taken.side:
                found.append(not_shown(f"manifold {part.id}", _title(flow, part), taken.why))
                continue
            found.append(_table(flow, part, taken))
    return found


def _title(flow: Flow, part: Part) -> str:
    return f"Does a ring help: {flow.facts.part_name(part.id)}"


def _table(flow: Flow, part: Part, taken: Taken) -> Table:
    facts = flow.facts
    peak = flow.network_peak(facts.loads)
    variants = compared(flow, part, dict(peak.draws))
    ports = list(variants[0].ports)
    columns = (
        Column("built"),
        *(Column(f"port {port}", "pressure") for port in ports),
        Column("highest less lowest", "pressure"),
        Column("lost in it", "pressure"),
        Column("largest swing of a shower on it", "degrees apart"),
    )
    rows: list[tuple[Cell, ...]] = [
        (one.shape, *(one.ports.get(port) for port in ports), one.spread_pa, one.lost_pa, one.swing_k)
        if not one.why
        else (f"{one.shape}: {one.why}", *(None for _ in ports), None, None, None)
        for one in variants
    ]
    total = taken.total_pa
    parts = ", ".join(f"{name} {taken.losses_pa[name] / total:.0%}" for name in PARTS if taken.losses_pa[name] > 0)
    split = f"Of the {facts.quantity(total, 'pressure')} lost to {taken.side} at peak: {parts}."
    notes = (
        (
            "Pressures at the ports while the house draws its peak as one network. What a ring brings, it brings inside the "
            "manifold: equal pressure at all ports is not to be had for nothing, and ports next to the feed gain little. Joining "
            "the free ends of a row fed in the middle may lower a port."
        ),
    )
    return Table(
        f"manifold {part.id}", _title(flow, part), columns, tuple(rows), (split, _verdict(flow, taken, variants)), notes
    )


def _verdict(flow: Flow, taken: Taken, variants: list[Variant]) -> str:
    """A plain sentence by the thresholds."""
    facts, total = flow.facts, taken.total_pa
    share = taken.losses_pa[MANIFOLD] / total if total else 0.0
    service = taken.losses_pa[SERVICE] / total if total else 0.0
    ring = next((one for one in variants if one.shape.startswith(RING)), None)
    planned = variants[0]
    other = next((one for one in variants[1:] if one.shape == RING), None)
    if other is None and ring is planned:
        other = next((one for one in variants[1:] if not one.why), None)
    change = 0.0
    if other is not None and not other.why:
        change = max(
            (abs(other.ports[port] - pa) for port, pa in planned.ports.items() if port in other.ports), default=0
        )
    amount = facts.quantity(change, "pressure")
    if ring is planned:
        what = f"cut open at its feed, its ports would change by at most {amount}"
    else:
        what = f"the ring changes its ports by at most {amount}"
    if share < _LITTLE:
        return f"The service takes {service:.0%} of the loss; {what}. Spend the money where the loss is."
    if share > _MUCH:
        return f"The manifold takes {share:.0%} of the loss: ring, larger tube or a feed in the middle help; {what}."
    return f"The manifold takes {share:.0%} of the loss, the service {service:.0%}: {what}, which is a small gain."
