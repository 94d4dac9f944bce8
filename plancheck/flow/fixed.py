"""Fixed draws on a house: where no ring lies on the way the flows are known at once, and only rings are solved."""

import math
from collections.abc import Mapping

from plancheck.flow.core import Core
from plancheck.flow.cycle import solve_cycle
from plancheck.hydraulics.fold import Chain, fold, unfold
from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.plain import Edge, Law, Network, OneWay, Outlet, Regulator
from plancheck.hydraulics.solving import Prepared, Solution, prepare, solve_prepared
from plancheck.record import NamedTuple


def solve_fixed(core: Core, start: str, head_m: float, draws: Mapping[str, float], laws: Mapping[str, Law]) -> Solution:
    """The heads and flows of all that lies between the source and the draws (node -> m3/s). laws: other laws of edges."""
    dry = next((node for node in draws if core.block.get(node, -1) < 0), None)
    if dry is not None:
        return Solution({}, {}, 0, math.inf, math.inf, f"nothing feeds the draw at {dry}")
    through = _through(core, draws)
    heads: dict[str, float | None] = {start: head_m}
    flows: dict[str, float] = {}
    rounds, off, change = 0, 0.0, 0.0
    hanging: dict[int, list[tuple[Edge, int]]] = {}
    for block in through:
        step = core.above[block]
        if step is not None:
            hanging.setdefault(step[1], []).append((step[0], block))
    for block in sorted(through):  # a block's number is above that of the one it hangs on
        step = core.above[block]
        if step is not None:
            why = _pass(step[0], laws.get(step[0].id, step[0].law), through[block], core, block, heads, flows)
            if why:
                return Solution({}, {}, rounds, math.inf, math.inf, why)
        if block in core.edges:
            solution = _ring(core, block, step, start, heads, draws, hanging.get(block, []), through, laws)
            if solution.why:
                return solution
            heads.update(solution.heads)
            flows.update(solution.flows)
            rounds = max(rounds, solution.rounds)
            off, change = max(off, solution.imbalance_m3s), max(change, solution.change_m3s)
    return Solution(heads, flows, rounds, change, off)


def _through(core: Core, draws: Mapping[str, float]) -> dict[int, float]:
    """What flows into each block on the way."""
    found: dict[int, float] = {}
    for node, draw in draws.items():
        block: int = core.block[node]
        while block >= 0:
            found[block] = found.get(block, 0.0) + draw
            step = core.above[block]
            block = step[1] if step is not None else -1
    return found


def _pass(
    edge: Edge, law: Law, flow: float, core: Core, block: int, heads: dict[str, float | None], flows: dict[str, float]
) -> str:
    """Carries the head over one edge; why it cannot be, or nothing."""
    forward = core.block[edge.b] == block
    before, after = (edge.a, edge.b) if forward else (edge.b, edge.a)
    if not forward and isinstance(law, OneWay | Outlet | Regulator):
        return f"water would have to run backwards through {edge.id}"
    head = heads[before]
    if head is None:
        return f"no head at {before}"
    loss = loss_m(law, flow)
    found = head - loss
    if isinstance(law, Regulator):
        found = min(found, law.set_m - law.fall_s_m2 * flow)
    heads[after] = found
    flows[edge.id] = flow if forward else -flow
    return ""


def _ring(
    core: Core, block: int, step: tuple[Edge, int] | None, start: str, heads: dict[str, float | None],
    draws: Mapping[str, float], hanging: list[tuple[Edge, int]], through: Mapping[int, float], laws: Mapping[str, Law],
) -> Solution:  # fmt: skip
    entry = start
    if step is not None:
        entry = step[0].b if core.block[step[0].b] == block else step[0].a
    own = {node: draw for node, draw in draws.items() if core.block[node] == block}
    for edge, child in hanging:
        node = edge.a if core.block[edge.a] == block else edge.b
        own[node] = own.get(node, 0.0) + through[child]
    own.pop(entry, None)
    edges = tuple(core.edges[block])
    head = heads.get(entry)
    if not own or head is None:
        return Solution({node: head for edge in edges for node in (edge.a, edge.b)}, {}, 0, 0.0, 0.0)
    found = solve_cycle(core.ring(block, entry), entry, head, own, laws)
    if found is not None:
        return found
    if laws:
        edges = tuple(edge._replace(law=laws[edge.id]) if edge.id in laws else edge for edge in edges)
    return fold_ready(Network({entry: head}, edges, own)).solved()


class Folded(NamedTuple):
    """A network made ready with its chains put together."""

    prepared: Prepared
    chains: tuple[Chain, ...]

    def solved(self, near: Mapping[str, float] | None = None, laws: Mapping[str, Law] | None = None) -> Solution:
        """Its heads and flows, all told apart again.

        near: flows of a neighbouring scenario to begin with; laws: by edge another law of the same kind.
        """
        begin = near
        if near is not None:
            firsts = ((chain.edge.id, *chain.parts[0]) for chain in self.chains)
            begin = {**near, **{name: near[part.id] * way for name, part, way in firsts if part.id in near}}
        solution = solve_prepared(self.prepared, begin, laws)
        if solution.why or not self.chains:
            return solution
        heads, flows = dict(solution.heads), dict(solution.flows)
        unfold(self.chains, heads, flows)
        return solution._replace(heads=heads, flows=flows)


def fold_ready(network: Network) -> Folded:
    """A network made ready to be solved, its chains put together."""
    folded, chains = fold(network)
    return Folded(prepare(folded), chains)
