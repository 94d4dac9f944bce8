"""What of a very large plan is shown: a table for each pair of outlets would take time and paper without end."""

from collections.abc import Sequence

from plancheck.flow.flow import Flow
from plancheck.flow.house import Fixture
from plancheck.flow.shower import rivals

MOST_DRAWS = 60  # rows of one shower


def least_left(flow: Flow, fixtures: Sequence[Fixture], most: int) -> list[Fixture]:
    """The fixtures in order; of more than `most` those that have least left at peak as a network, unknown ones last."""
    if len(fixtures) <= most:
        return list(fixtures)
    by = flow.network_peak(flow.facts.loads).by
    left = {one.part: min((by[name] for name in _sides(one) if name in by), default=float("inf")) for one in fixtures}
    chosen = {one.part for one in sorted(fixtures, key=lambda one: left[one.part])[:most]}
    return [one for one in fixtures if one.part in chosen]


def _sides(fixture: Fixture) -> list[str]:
    return [f"{fixture.part}/{side}" for side in fixture.sides]


def strongest(flow: Flow, fixture: Fixture) -> tuple[list[str], int]:
    """The openings of other fixtures (edges) beside a shower, in order; of more than MOST_DRAWS those that pull most on
    its way, and how many are left out."""
    every = [
        edge for other in flow.house.fixtures.values() if other.part != fixture.part for edge in other.sides.values()
    ]
    if len(every) <= MOST_DRAWS:
        return every, 0
    pulls = sorted(
        ((pull, edge) for side in ("cold", "hot") for pull, edge in rivals(flow, fixture, side)), reverse=True
    )
    chosen = {edge for _, edge in pulls[:MOST_DRAWS]}
    return [edge for edge in every if edge in chosen], len(every) - len(chosen)
