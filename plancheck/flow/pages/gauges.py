"""What a gauge should read at each connection made for one, standing and with one fixture open at a time."""

from plancheck.flow.flow import Flow
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.model import GaugePortOwn, ManifoldOwn, Ref

_PSI = 6894.757293168
STANDING_BAND_PA, RUNNING_SHARE = 3.0 * _PSI, 0.25  # as the rule gauge_reading has them


def ports_of(flow: Flow) -> list[Ref]:
    """The connections a gauge is put on: test ports, and manifold ports used for testing."""
    found = []
    for part in flow.facts.plan.parts.values():
        if part.work == "removed":
            continue
        if isinstance(part.own, GaugePortOwn):
            found.append(Ref(part.id, "in"))
        elif isinstance(part.own, ManifoldOwn):
            found += [Ref(part.id, port.id) for port in part.own.ports.values() if port.use == "test"]
    return found


def gauge_table(flow: Flow, gaps: Gaps) -> Table:
    """Expected readings with their bands."""
    columns = (
        Column("gauge at"),
        Column("open"),
        Column("expected", "pressure"),
        Column("lowest", "pressure"),
        Column("highest", "pressure"),
        Column("flow", "flow"),
    )
    rows: list[tuple[Cell, ...]] = []
    for ref in ports_of(flow):
        name = ref.part if ref.connection == "in" else str(ref)
        for opened in ((), *((one,) for one in flow.house.fixtures)):
            found = flow.predicted(ref, opened)
            if found.missing is not None:
                gaps.add(*found.missing)
            if found.missing is not None or found.why:
                continue
            band = STANDING_BAND_PA + RUNNING_SHARE * found.friction_pa
            rows.append(
                (name, opened[0] if opened else "nothing", found.pa, found.pa - band, found.pa + band, found.flow_m3s)
            )
    return Table("gauge", "What the gauge should read", columns, tuple(rows))
