"""Newton's method on the heads of the nodes: one text for one scenario (floats) and for many (rows of numpy arrays).

Each round makes every law a straight line at the last flows, solves the nodes' balances for the heads by one fixed order
of elimination, and takes the flows that go with them (Todini and Pilati's global gradient method, 1988, from memory).
"""

import math
from collections.abc import Callable
from typing import Any

from plancheck.hydraulics.compiled import Compiled, Valve
from plancheck.hydraulics.laws import BACK, Tools
from plancheck.record import NamedTuple

LEAST_SLOPE = 1e-2  # s/m2; the last figure of a head, by it, is less than STILL
GROUND = 1e-18  # m2/s: holds up the head of nodes that nothing feeds, too little to be seen elsewhere
ENOUGH = 1e-8  # largest change of flow in any edge, against the largest flow
STILL = 1e-11  # m3/s, a third of a litre a year: changes under it are none
MOST_ROUNDS = 100
_HURRY = 8  # rounds after which flows on their way to nought are hurried
_PATIENCE = 12  # rounds after which every other step is cut, lest the states of one-way edges go round
_LITTLE = 1e-3  # of the largest flow: what an edge passes at most that counts as on its way to nought


class Numbers(NamedTuple):
    """What floats and rows of arrays do each in their own way.

    tools: log, larger, choose; lines(compiled, flows, opened) -> conductance (m2/s) of each edge and its flow where the
    heads are equal; blank(n, figure) -> n times a figure; change(new, old) -> largest change of flow over all edges and
    largest flow; near(change, flow, settled) -> whether every scenario is near enough and its regulators stand still.
    """

    tools: Tools
    lines: Callable[[Compiled, Any, Any], tuple[Any, Any]]
    blank: Callable[[int, float], Any]
    change: Callable[[Any, Any], tuple[Any, Any]]
    near: Callable[[Any, Any, Any], bool]


class Ended(NamedTuple):
    """How the rounds ended: flows of the edges, heads of the nodes, rounds, last change of flow and largest flow."""

    flows: Any
    heads: Any
    rounds: int
    change: Any
    flow: Any


class _Lines(NamedTuple):
    """Every law as a straight line: conductance and flow at equal heads; flows of the round before; regulators' states."""

    steep: Any
    still: Any
    flows: Any
    holding: list[Any]


def iterate(compiled: Compiled, numbers: Numbers, known: Any, draws: Any, opened: Any) -> Ended:
    """Rounds until the flows stay, or MOST_ROUNDS.

    known: heads of the nodes of known head; draws: of the unknown ones; opened: 1 for each open edge, 0 for a shut one.
    """
    count = compiled.unknown
    heads = numbers.blank(count + len(compiled.heads), 0.0)
    flows = numbers.blank(len(compiled.edges), 0.0)
    for place in range(len(compiled.heads)):
        heads[count + place] = known[place]
    for place, start in enumerate(compiled.start):
        flows[place] = start * opened[place]
    holding = [1.0 + 0.0 * opened[valve.edge] for valve in compiled.valves]
    change, most = math.inf, 0.0
    for number in range(1, MOST_ROUNDS + 1):
        lines = _Lines(*numbers.lines(compiled, flows, opened), flows, holding)
        _solve(compiled, numbers, lines, heads, draws)
        new = _flows(compiled, numbers, lines, heads, _share(number))
        change, most = numbers.change(new, flows)
        holding, settled = _states(compiled, numbers, new, heads, holding)
        flows = new
        if numbers.near(change, most, settled):
            return Ended(flows, heads, number, change, most)
        if number >= _HURRY:
            _hurry(numbers, lines, flows, most * _LITTLE)
    return Ended(flows, heads, MOST_ROUNDS, change, most)


def _share(number: int) -> float:
    """How much of the step of a round is taken."""
    if number <= _PATIENCE or number % 2:
        return 1.0
    return 0.5 if number < 3 * _PATIENCE else 0.3


def _solve(compiled: Compiled, numbers: Numbers, lines: _Lines, heads: Any, draws: Any) -> None:
    """The balances of the unknown nodes, put together and solved; their heads are written into `heads`."""
    count = compiled.unknown
    steep, still = lines.steep, lines.still
    base, pair = numbers.blank(count, GROUND), numbers.blank(compiled.order.slots, 0.0)
    right = [-draw for draw in draws]
    for edge, a, b, slot in compiled.within:
        y = still[edge]
        pair[slot] += steep[edge]
        right[a] -= y
        right[b] += y
    for edge, a, b in compiled.into:
        base[b] += steep[edge]
        right[b] += still[edge] + steep[edge] * heads[a]
    for edge, a, b in compiled.out:
        base[a] += steep[edge]
        right[a] += steep[edge] * heads[b] - still[edge]
    for valve, holds in zip(compiled.valves, lines.holding, strict=True):
        _add_valve(valve, holds, numbers, lines, heads, (base, pair, right), count)
    _eliminate(compiled, base, pair, right, heads)


def _add_valve(
    valve: Valve, holds: Any, numbers: Numbers, lines: _Lines, heads: Any, sums: tuple[Any, Any, Any], count: int
) -> None:
    """A regulator: while it holds, b hangs on its set head and a sees a draw; else it is an open edge."""
    base, pair, right = sums
    edge, a, b = valve.edge, valve.a, valve.b
    g, y = (1.0 - holds) * lines.steep[edge], (1.0 - holds) * lines.still[edge]
    kept = holds * _kept(valve, numbers, lines.flows[edge])
    base[b] += kept
    right[b] += y + kept * valve.set_m
    if a < count:
        pair[valve.slot] += g
        right[a] -= y + holds * lines.flows[edge]
    else:
        base[b] += g
        right[b] += g * heads[a]


def _kept(valve: Valve, numbers: Numbers, flow: Any) -> Any:
    """Conductance from the set head of a regulator that holds: nothing goes back through it."""
    return numbers.tools[2](flow < 0.0, 1.0 / BACK, 1.0 / valve.fall)


def _eliminate(compiled: Compiled, base: Any, pair: Any, right: Any, heads: Any) -> None:
    """Elimination in the fixed order, then back.

    base: conductance of each node to known heads; pair: between two nodes. Kept apart, so that every sum is of positive
    terms and nothing is lost by cancelling, however far conductances lie apart.
    """
    steps = compiled.order.steps
    for node, joined, pairs in steps:
        whole = base[node]
        for _, slot in joined:
            whole = whole + pair[slot]
        hold, push = base[node] / whole, right[node] / whole
        for mine, its, into in pairs:
            pair[into] += pair[mine] * pair[its] / whole
        for other, slot in joined:
            base[other] += pair[slot] * hold
            right[other] += pair[slot] * push
            pair[slot] = pair[slot] / whole
        right[node] = push
    for node, joined, _ in reversed(steps):
        total = right[node]
        for other, slot in joined:
            total = total + pair[slot] * heads[other]
        heads[node] = total


def _flows(compiled: Compiled, numbers: Numbers, lines: _Lines, heads: Any, share: float) -> Any:
    """The flows that go with the heads; share: how much of the step is taken."""
    new = numbers.blank(len(compiled.edges), 0.0)
    for edge, (a, b) in enumerate(compiled.ends):
        new[edge] = lines.still[edge] + lines.steep[edge] * (heads[a] - heads[b])
    for valve, holds in zip(compiled.valves, lines.holding, strict=True):
        edge = valve.edge
        kept = _kept(valve, numbers, lines.flows[edge]) * (valve.set_m - heads[valve.b])
        new[edge] = holds * kept + (1.0 - holds) * new[edge]
    if share < 1.0:
        for edge in range(len(compiled.edges)):
            new[edge] = share * new[edge] + (1.0 - share) * lines.flows[edge]
    return new


def _hurry(numbers: Numbers, lines: _Lines, flows: Any, little: Any) -> None:
    """Little flows still falling to about half are taken from the heads at the ends, by the law, not by the straight line.

    Along a quadratic law the straight line only halves the flow each round where it ought to be nought.
    """
    _, larger, choose = numbers.tools
    for edge, old in enumerate(lines.flows):
        was = old - lines.still[edge]  # loss by slope of the line, before and (next) after
        now = flows[edge] - lines.still[edge]
        idle = was == 0.0
        share = larger(now / choose(idle, 1.0, was), 0.0)
        found = old * share ** choose(idle, 1.0, was / choose(idle, 1.0, old))
        flows[edge] = choose((abs(old) < little) & (now * was > 0.0) & (share < 0.05), found, flows[edge])


def _states(compiled: Compiled, numbers: Numbers, flows: Any, heads: Any, before: list[Any]) -> tuple[list[Any], Any]:
    """Whether each regulator holds its head (1) or stands open (0), and whether all stand as before (1) or not (0)."""
    choose = numbers.tools[2]
    found = []
    settled: Any = 1.0
    for valve, was in zip(compiled.valves, before, strict=True):
        flow = flows[valve.edge]
        spare = heads[valve.a] - valve.r * abs(flow) * flow - (valve.set_m - valve.fall * flow)
        now = choose(spare >= 0.0, 1.0, 0.0)
        settled = settled * choose(now == was, 1.0, 0.0)
        found.append(now)
    return found, settled
