"""Each outlet alone and at peak: what it takes, what is left there; low and high by the spread of the fittings."""

from plancheck.flow.flow import Flow
from plancheck.flow.gauge import opened_edges
from plancheck.flow.house import Fixture
from plancheck.flow.pages.largest import least_left
from plancheck.flow.pages.table import Cell, Column, Gaps, Table
from plancheck.flow.required import rate_of
from plancheck.model import Ref

MOST_OUTLETS = 100


def outlets_table(middle: Flow, low: Flow, high: Flow, gaps: Gaps) -> Table:
    """Each opening alone; and each fixture at peak by sections and in the network. low and high: the same house with the
    lowest and the highest losses of fittings."""
    columns = (
        Column("outlet"),
        Column("standing", "pressure"),
        Column("takes alone", "flow"),
        Column("at least", "flow"),
        Column("at most", "flow"),
        Column("left alone", "pressure"),
        Column("at peak, sections", "pressure"),
        Column("at peak, network", "pressure"),
    )
    every = list(middle.house.fixtures.values())
    shown = least_left(middle, every, MOST_OUTLETS)
    rows = [row for fixture in shown for row in _rows(middle, low, high, fixture, gaps)]
    share = 0.8 if middle.facts.family == "upc" else 1.0
    notes = ["Left is at the stub-outs, at the valve body of showers and tubs, while the outlet takes what it takes."]
    notes.append(
        "At peak by sections every run of the way carries its peak by fixture units, but no more than the outlets behind "
        "take together, and no less than the outlet itself, as the code sizes pipe" + (", and a regulator holds 0.8 of its set." if share < 1.0 else ".")
    )
    peak = middle.network_peak(middle.facts.loads)
    if peak.by:
        notes.append(
            f"At peak as a network every fixture draws {peak.share:.0%} of its rate, so that the service carries its peak "
            f"of {middle.facts.quantity(peak.flow_m3s, 'flow')}."
        )
    says: tuple[str, ...] = ()
    if len(shown) < len(every):
        says = (f"{len(every) - len(shown)} more outlets are not shown: these have least left at peak as a network.",)
    return Table("outlets", "What every outlet gets", columns, tuple(rows), says, tuple(notes))


def _rows(middle: Flow, low: Flow, high: Flow, fixture: Fixture, gaps: Gaps) -> list[tuple[Cell, ...]]:
    found: list[tuple[Cell, ...]] = []
    openings: list[tuple[str, tuple[str, ...]]] = [(side, (edge,)) for side, edge in fixture.sides.items()]
    if fixture.mixed:
        openings.append(("mixed", opened_edges(middle, (fixture.part,))))
    peaks = _peak(middle, fixture, gaps)
    network = middle.network_peak(middle.facts.loads).by
    for side, edges in openings:
        name = f"{fixture.part}/{side}" if len(openings) > 1 else fixture.part
        ref = Ref(fixture.part, side if side != "mixed" else "cold")
        standing = middle.standing(ref)
        if standing.missing is not None:
            gaps.add(*standing.missing)
        solution = middle.opened(edges)
        reading = middle.reading(solution, ref)
        if reading.missing is not None:
            gaps.add(*reading.missing)
        known = reading.missing is None and not reading.why
        takes = _takes(middle, edges) if known else None
        band = sorted(one for one in (_takes(low, edges), _takes(high, edges)) if one is not None)
        full = f"{fixture.part}/{side}"
        found.append(
            (
                name, standing.pa if standing.missing is None and not standing.why else None, takes,
                band[0] if known and band else None, band[-1] if known and band else None,
                reading.pa if known else None, peaks.get(full), network.get(full),
            )
        )  # fmt: skip
    return found


def _takes(flow: Flow, edges: tuple[str, ...]) -> float | None:
    solution = flow.opened(edges)
    return None if solution.why else max(solution.flows.get(edges[-1], 0.0), 0.0)


def _peak(flow: Flow, fixture: Fixture, gaps: Gaps) -> dict[str, float]:
    """What is left at peak by sections: at the side that has least, the rate of the family drawn."""
    rate = rate_of(flow.facts.plan.parts[fixture.part])
    if rate is None:
        return {}
    left = flow.at_peak(fixture, rate, flow.facts.loads, 0.8 if flow.facts.family == "upc" else 1.0)
    if left.missing is not None:
        gaps.add(*left.missing)
    return {left.side: left.pa} if left.missing is None and not left.why else {}
