"""Solving plain networks: one scenario in floats, or many at once in numpy arrays (imported only then).

    solution = solve(Network({"main": 42.2}, (Edge("pipe", "main", "tap", Darcy(12.0, 0.0121)),), {"tap": 1e-4}))
    solution.heads["tap"], solution.flows["pipe"]

Heads m of water, flows and draws m3/s. A solution that did not converge carries the reason and no numbers.
"""

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from plancheck.hydraulics.compiled import Compiled, compile_network, made_ready, with_laws
from plancheck.hydraulics.newton import ENOUGH, LEAST_SLOPE, STILL, Ended, Numbers, iterate
from plancheck.hydraulics.plain import Law, Network, WrongNetwork, check_network
from plancheck.hydraulics.trim import Trimmed, hung_head, trim
from plancheck.record import NamedTuple

if TYPE_CHECKING:
    from numpy import ndarray

_CHUNK = 512  # scenarios solved at once: their numbers stay near the processor


class Solution(NamedTuple):
    """One scenario solved.

    heads: m of water by node, None where no open edge leads to water; flows: m3/s by edge, from a to b; rounds: of
    Newton's method; change_m3s: largest change of flow in the last; imbalance_m3s: largest that a node's flows do not
    add up to; why: the reason where it did not converge (then heads and flows are empty), else empty.
    """

    heads: Mapping[str, float | None]
    flows: Mapping[str, float]
    rounds: int
    change_m3s: float
    imbalance_m3s: float
    why: str = ""

    @property
    def converged(self) -> bool:
        """Whether there is an answer."""
        return not self.why


class Solutions(NamedTuple):
    """Many scenarios of one network solved. heads: (nodes, scenarios), flows: (edges, scenarios), in the order of nodes and edges.

    converged: whether each scenario has an answer (where not, its columns are not a number); a head is not a number where
    no open edge leads to water; rounds: the most of all; imbalance_m3s: the largest of all.
    """

    nodes: tuple[str, ...]
    edges: tuple[str, ...]
    heads: "ndarray"
    flows: "ndarray"
    converged: "ndarray"
    rounds: int
    imbalance_m3s: float

    @property
    def scenarios(self) -> int:
        """How many."""
        return int(self.heads.shape[1])


class Prepared(NamedTuple):
    """A network made ready for one scenario, or for several that differ in laws alone; compiled: None where nothing moves;
    why: the reason where there can be no answer."""

    network: Network
    trimmed: Trimmed
    compiled: Compiled | None
    why: str = ""


def prepare(network: Network, shut: frozenset[str] = frozenset()) -> Prepared:
    """Makes a network ready. shut: edges closed beside those the network closes itself. Raises WrongNetwork.

    Branches without a draw or an open outlet are cut off: their flow is nought and their head follows.
    """
    check_network(network)
    trimmed = trim(network, shut)
    dry = next((node for node in trimmed.dry if network.draws.get(node)), None)
    if dry is not None:
        return Prepared(network, trimmed, None, f"nothing feeds the draw at {dry}")
    return Prepared(network, trimmed, made_ready(trimmed.network) if trimmed.network.edges else None)


def solve(network: Network, shut: frozenset[str] = frozenset(), start: Mapping[str, float] | None = None) -> Solution:
    """Solves one scenario. Raises WrongNetwork.

    shut: edges closed beside those the network closes itself; start: flows (m3/s) of edges to begin with, such as those of
    a neighbouring scenario: fewer rounds, the same answer.
    """
    return solve_prepared(prepare(network, shut), start)


def solve_prepared(
    prepared: Prepared, start: Mapping[str, float] | None = None, laws: Mapping[str, Law] | None = None
) -> Solution:
    """Solves a network made ready. start: see solve; laws: by edge another law of the same kind, with other figures."""
    if prepared.why:
        return Solution({}, {}, 0, math.inf, math.inf, prepared.why)
    trimmed, compiled = prepared.trimmed, prepared.compiled
    heads: dict[str, float | None] = {**dict.fromkeys(trimmed.dry), **prepared.network.heads}
    flows = {edge.id: 0.0 for edge in prepared.network.edges}
    rounds, change, off = 0, 0.0, 0.0
    if compiled is not None:
        compiled = with_laws(compiled, laws) if laws else compiled
        if start is not None:
            first = zip(compiled.edges, compiled.start, strict=True)
            compiled = compiled._replace(start=tuple(start.get(edge.id, usual) for edge, usual in first))
        ended = iterate(compiled, _FLOATS, compiled.heads, compiled.draws, [1.0] * len(compiled.edges))
        if not _near(ended.change, ended.flow, 1.0):
            why = f"the flows still change by {ended.change:.1e} m3/s after {ended.rounds} rounds"
            return Solution({}, {}, ended.rounds, ended.change, math.inf, why)
        heads.update(zip(compiled.nodes, ended.heads, strict=True))
        flows.update((edge.id, flow) for edge, flow in zip(compiled.edges, ended.flows, strict=True))
        rounds, change, off = ended.rounds, ended.change, _imbalance(compiled, ended)
    for node, edge, other in trimmed.hung:
        base = heads[other]
        heads[node] = None if base is None else hung_head(node, edge, base)
    return Solution(heads, flows, rounds, change, off)


def solve_many(
    network: Network | Compiled,
    shut: "ndarray | None" = None,
    heads: Mapping[str, Sequence[float]] | None = None,
    draws: Mapping[str, Sequence[float]] | None = None,
    scenarios: int | None = None,
) -> Solutions:
    """Solves many scenarios of one network. Raises WrongNetwork.

    shut: (edges, scenarios) of truth values in the order of `Compiled.edges`; heads and draws: by node a figure for each
    scenario, where it is not the network's own. The number of scenarios follows from them, or is said.
    """
    from plancheck.hydraulics.arrays import many

    compiled = network if isinstance(network, Compiled) else compile_network(network)
    return many(compiled, shut, heads or {}, draws or {}, scenarios, _CHUNK)


def _imbalance(compiled: Compiled, ended: Ended) -> float:
    sums = [-draw for draw in compiled.draws]
    for (a, b), flow in zip(compiled.ends, ended.flows, strict=True):
        if a < compiled.unknown:
            sums[a] -= flow
        if b < compiled.unknown:
            sums[b] += flow
    return max((abs(one) for one in sums), default=0.0)


def _choose(condition: bool, yes: float, no: float) -> float:
    return yes if condition else no


def _lines(compiled: Compiled, flows: list[float], opened: list[float]) -> tuple[list[float], list[float]]:
    """Every edge is open here: shut ones were cut off before."""
    steep: list[float] = []
    still: list[float] = []
    tools = _FLOATS.tools
    for law, start, stop, figures in compiled.groups:
        for flow, own in zip(flows[start:stop], figures, strict=True):
            loss, slope = law(flow, *own, tools)
            one = 1.0 / slope if slope > LEAST_SLOPE else 1.0 / LEAST_SLOPE
            steep.append(one)
            still.append(flow - loss * one)
    return steep, still


def _blank(number: int, figure: float) -> list[float]:
    return [figure] * number


def _change(new: list[float], old: list[float]) -> tuple[float, float]:
    return max(map(abs, map(float.__sub__, new, old)), default=0.0), max(map(abs, new), default=0.0)


def _near(change: float, flow: float, settled: float) -> bool:
    return settled == 1.0 and change <= ENOUGH * flow + STILL


_FLOATS = Numbers((math.log, max, _choose), _lines, _blank, _change, _near)

__all__ = ["Solution", "Solutions", "WrongNetwork", "compile_network", "solve", "solve_many"]
