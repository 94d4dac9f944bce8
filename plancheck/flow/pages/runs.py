"""Every run: what it carries at peak by both methods, how fast, what it loses there."""

from plancheck.demand.peaks import RunLoad
from plancheck.flow.flow import Flow
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.hydraulics.loss import loss_m
from plancheck.measures import Size
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Run

_COLUMNS = (
    Column("run"),
    Column("tube"),
    Column("carries"),
    Column("fixture units", "count"),
    Column("peak, units", "flow"),
    Column("peak, binomial", "flow"),
    Column("speed", "speed"),
    Column("loss", "pressure"),
)


def runs_table(flow: Flow, gaps: Gaps) -> Table:
    """Peak demand of every run by fixture units and by the binomial method, speed and loss at the former."""
    loads = flow.facts.loads
    rows: list[tuple[Cell, ...]] = []
    hows: dict[str, None] = {}
    for run in flow.facts.plan.runs.values():
        load = loads.get(run.id)
        if load is None or run.work == "removed":
            continue
        for gap in (*load.by_units.missing, *load.by_binomial.missing):
            gaps.add(gap.path, gap.what)
        rows.append(_row(flow, run, load))
        for peak in (load.by_units, load.by_binomial):
            if peak.flow_m3s is not None:
                hows[f"Peak by {_method(peak.how)}: {'; '.join(map(str, peak.sources))}."] = None
    notes = (
        *hows,
        (
            "Speed is at the larger of the peak and the largest outlet behind, and never at more than the outlets behind take "
            "together; loss is at the peak by fixture units, or at what they take together where that is less."
        ),
        "A run on a ring carries the whole ring's load, as either side may be shut; its speed is that of its part.",
    )
    return Table("runs", "Peak demand of every run", _COLUMNS, tuple(rows), notes=notes)


def _row(flow: Flow, run: Run, load: RunLoad) -> tuple[Cell, ...]:
    tube = flow.facts.plan.tubes.get(run.tube or "")
    size = tube.size.name if tube is not None and isinstance(tube.size, Size) else "?"
    carried, speed = flow.facts.carried(run.id), flow.speed(flow.facts.loads, run.id)
    by_units, edge = load.by_units.flow_m3s, flow.edges.get(run.id)
    known = edge is not None and flow.house.pieces[run.id].missing is None
    behind = flow.behind().get(run.id)
    peak = min(by_units, behind.all_m3s) if by_units is not None and behind is not None and behind.all_m3s else by_units
    return (
        run.id,
        f"{size} {tube.material if tube is not None else ''}".strip(),
        f"{carried.service or '?'}{', ring' if carried.ring else ''}",
        load.units.total if load.units is not None and not load.by_units.missing else None,
        by_units,
        load.by_binomial.flow_m3s,
        speed.m_s if speed.flow_m3s else None,
        loss_m(edge.law, peak) * WATER_PA_PER_M if known and edge is not None and peak is not None else None,
    )


def _method(how: str) -> str:
    """How a peak was found, without the rows of the table that one run fell between."""
    words = how.split(" (", maxsplit=1)[0].split(",", maxsplit=1)[0] if how.startswith("flush") else how
    if words.startswith("flush"):
        way = "read between its rows" if "between" in how else "rounded up to its next row"
        return f"fixture units, {words}, {way}"
    return words
