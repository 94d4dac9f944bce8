"""Every combination of other fixtures open beside a shower, weighted by how likely each runs: numpy, many at once."""

import math
from collections.abc import Sequence
from itertools import combinations, islice

from plancheck.demand.studydata import PLACE, USES
from plancheck.facts import Facts
from plancheck.flow.fixtures import EVEN, mixing_law
from plancheck.flow.flow import Flow
from plancheck.flow.gauge import opened_edges
from plancheck.flow.house import Fixture, Missing
from plancheck.flow.shower import Mixed, hot_at, laws_at
from plancheck.hydraulics.compiled import compile_network
from plancheck.hydraulics.fold import fold
from plancheck.hydraulics.plain import Edge, Law, Network
from plancheck.hydraulics.solving import solve_many
from plancheck.record import NamedTuple

MOST_ALL = 14  # up to so many other fixtures all combinations are solved
COVERED = 0.99  # above, the likeliest until so much of the probability is covered
MOST_SETS, MOST_CELLS = 2**MOST_ALL, 1_000_000  # and never more than so many, nor so many times the edges
LEAST = 0.5  # of the probability: what covers less tells nothing


class Swings(NamedTuple):
    """All combinations together.

    share: of showers that change by more than the band; hottest_c, coldest_k: largest changes up and down, K; by_hot,
    by_cold: the fixtures open then; scenarios: how many were solved; failed: of them without an answer; left: share of
    the probability not covered; outside: fixtures whose use no table tells.
    """

    share: float
    hotter_k: float
    colder_k: float
    by_hotter: tuple[str, ...]
    by_colder: tuple[str, ...]
    scenarios: int
    failed: int
    left: float
    outside: tuple[str, ...]
    why: str = ""

    def words(self, facts: Facts) -> str:
        """As a sentence or two."""
        if self.why:
            return f"Over all combinations: not shown ({self.why})."
        band = facts.degrees_apart(3.6 / 1.8) if facts.units.temperature != "degF" else "3.6 degF"
        text = f"Over {self.scenarios} combinations of other fixtures, {self.share:.2%} of showers change by more than {band}"
        parts = []
        if self.by_hotter:
            parts.append(f"hottest by about {facts.degrees_apart(self.hotter_k)} with {_names(self.by_hotter)} open")
        if self.by_colder:
            parts.append(f"coldest by about {facts.degrees_apart(-self.colder_k)} with {_names(self.by_colder)} open")
        text += f" ({'; '.join(parts)})." if parts else "."
        if self.left > 1e-12:
            text += f" {self.left:.2%} of the probability is left out."
        if self.failed:
            text += f" {self.failed} combinations have no answer and count as changing."
        if self.outside:
            text += f" Not in it, as no table tells how often they run: {_names(self.outside)}."
        return text


def _names(parts: Sequence[str]) -> str:
    return ", ".join(parts)


def over_all(flow: Flow, fixture: Fixture, before: Mixed, band_k: float) -> Swings:
    """All combinations of the other fixtures beside a shower that stands as `before`."""
    import numpy as np

    cold_c, hot_c = flow.house.cold_c, hot_at(flow, fixture.part)
    assert cold_c is not None and not isinstance(hot_c, Missing)
    others = [one for one in flow.house.fixtures.values() if one.part != fixture.part and one.sides]
    use = {one.part: USES[PLACE[one.kind]].p for one in others if one.kind in PLACE}
    outside = tuple(one.part for one in others if one.part not in use)
    chosen = [one.part for one in others if one.part in use]
    network, openings = _network(flow, fixture, chosen, before)
    sets, chances = _sets(chosen, use, MOST_CELLS // len(network.edges))
    weights, covered = np.array(chances), math.fsum(chances)
    if covered < LEAST:
        return Swings(0.0, 0.0, 0.0, (), (), 0, 0, 1.0 - covered, outside, _too_many(len(chosen), len(sets), covered))
    compiled = compile_network(network)
    place = {edge.id: number for number, edge in enumerate(compiled.edges)}
    shut = np.zeros((len(compiled.edges), len(sets)), dtype=bool)
    for part in chosen:
        closed = np.array([part not in open_ for open_ in sets])
        for name in openings[part]:
            shut[place[name]] = closed
    found = solve_many(compiled, shut)
    hot, cold = (np.maximum(found.flows[place[name]], 0.0) for name in fixture.mixed[:2])
    with np.errstate(invalid="ignore", divide="ignore"):
        change = (hot * hot_c + cold * cold_c) / (hot + cold) - before.celsius
    good = found.converged & np.isfinite(change)
    over = ~good | (np.abs(np.where(good, change, 0.0)) > band_k)
    change = np.where(good, change, 0.0)
    most, least = int(change.argmax()), int(change.argmin())
    return Swings(
        float(weights[over].sum() / covered), float(change[most]), float(change[least]),
        tuple(sorted(sets[most])) if change[most] > 0.05 else (), tuple(sorted(sets[least])) if change[least] < -0.05 else (),
        len(sets), int((~good).sum()), 1.0 - covered if len(chosen) > MOST_ALL else 0.0, outside,
    )  # fmt: skip


def _too_many(others: int, sets: int, covered: float) -> str:
    return f"{others} other fixtures: the {sets} likeliest combinations come to {covered:.1%} of the probability"


def _sets(parts: Sequence[str], use: dict[str, float], most: int) -> tuple[list[frozenset[str]], list[float]]:
    """All sets of parts and how likely each is; of more than MOST_ALL those with the fewest open first, the busiest of them
    first, until COVERED of the probability, MOST_SETS or as many as are wanted at most."""
    few = len(parts) <= MOST_ALL
    most = MOST_SETS if few else min(MOST_SETS, most)
    ordered = parts if few else sorted(parts, key=lambda part: -use[part])
    none = math.prod(1.0 - use[part] for part in parts)
    odds = {part: use[part] / (1.0 - use[part]) for part in parts}
    sets: list[frozenset[str]] = []
    chances: list[float] = []
    for number in range(len(parts) + 1):
        for open_ in islice(combinations(ordered, number), most - len(sets)):
            sets.append(frozenset(open_))
            chances.append(none * math.prod(odds[part] for part in open_))
        if len(sets) >= most or (not few and math.fsum(chances) >= COVERED):
            break
    return sets, chances


def _network(
    flow: Flow, fixture: Fixture, others: Sequence[str], before: Mixed
) -> tuple[Network, dict[str, tuple[str, ...]]]:
    """The house with the shower open as it stands and the others' openings in it, chains put together."""
    laws: dict[str, Law] = laws_at(fixture, before.share)
    openings: dict[str, tuple[str, ...]] = {}
    for part in others:
        openings[part] = opened_edges(flow, (part,))
        other = flow.house.fixtures[part]
        if other.mixed:
            laws[other.mixed[0]], laws[other.mixed[1]] = mixing_law(EVEN), mixing_law(1.0 - EVEN)
    names = [*fixture.mixed, *(name for edges in openings.values() for name in edges)]
    opened = [flow.edges[name] for name in names]
    ends = dict.fromkeys(node for edge in opened for node in (edge.a, edge.b))
    edges: list[Edge] = [*flow.core.toward(ends), *opened]
    edges = [edge._replace(law=laws[edge.id]) if edge.id in laws else edge for edge in edges]
    heads = flow.house.network.heads
    used = {node: heads[node] for edge in edges for node in (edge.a, edge.b) if node in heads}
    folded, _ = fold(Network(used, tuple(edges)))
    return folded, openings
