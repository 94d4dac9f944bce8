"""What each valve shuts off: the outlet sides that go dry when it closes, and the valves that stand before an outlet.

One dominator tree of the directed graph answers for all valves: an outlet side goes dry when every way to it passes
the valve. Water never comes back through a fixture, a mixing valve or a heater; normally closed valves let none pass.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping

from plancheck.network.graph import Graph, directed
from plancheck.network.search import dominators
from plancheck.record import NamedTuple


class Before(Mapping[str, tuple[str, ...]]):
    """outlet side -> valves on its only way, nearest first, followed when asked from each valve to the one above it."""

    def __init__(
        self, graph: Graph, fed: Mapping[str, int], tree: Mapping[int, int], entered: Mapping[int, int]
    ) -> None:
        self._fed = fed
        self._named = {vertex: name for name, vertex in graph.valves.items()}
        self._valve_above: dict[int, int | None] = {}
        for vertex in entered:  # each after the vertex it hangs on
            above = tree[vertex]
            if above == vertex:
                self._valve_above[vertex] = None
            else:
                self._valve_above[vertex] = above if above in self._named else self._valve_above[above]

    def __getitem__(self, name: str) -> tuple[str, ...]:
        return self.at(self._fed[name])

    def at(self, vertex: int) -> tuple[str, ...]:
        """The valves on the only way to any vertex, nearest first. Raises KeyError where no water comes to it."""
        found = []
        valve = self._valve_above[vertex]
        while valve is not None:
            found.append(self._named[valve])
            valve = self._valve_above[valve]
        return tuple(found)

    def __iter__(self) -> Iterator[str]:
        return iter(self._fed)

    def __len__(self) -> int:
        return len(self._fed)


class Zones(NamedTuple):
    """dry: valve name -> outlet sides that go dry; before: outlet side -> valves on its only way, nearest first.

    unfed: outlet sides that get no water with the valves as they normally stand; entered and left give each vertex's
    span in the tree, so that a passes b when entered[a] <= entered[b] < left[a].
    """

    dry: Mapping[str, tuple[str, ...]]
    before: Before
    unfed: tuple[str, ...]
    entered: Mapping[int, int]
    left: Mapping[int, int]

    def shuts(self, valve: int, vertex: int) -> bool:
        """Whether closing the valve (a vertex) keeps all water from the vertex."""
        if valve not in self.entered or vertex not in self.entered:
            return False
        return self.entered[valve] <= self.entered[vertex] < self.left[valve]


def find_zones(graph: Graph) -> Zones:
    """The zones of all valves of a graph, computed once; time grows about linearly, answers are made when asked."""
    if graph.source is None:
        return Zones(dict.fromkeys(graph.valves, ()), Before(graph, {}, {}, {}), tuple(graph.outlets), {}, {})
    tree = dominators(directed(graph, barred=graph.closed), graph.source)
    entered, left = _spans(tree, graph.source)
    fed = {name: tap for name, tap in graph.outlets.items() if tap in tree}
    unfed = tuple(name for name in graph.outlets if name not in fed)
    return Zones(_Dry(graph, fed, entered, left), Before(graph, fed, tree, entered), unfed, entered, left)


class _Dry(Mapping[str, tuple[str, ...]]):
    """valve -> sides that go dry: those of a span of the tree, cut out when asked, so that long chains cost nothing."""

    def __init__(
        self, graph: Graph, fed: Mapping[str, int], entered: Mapping[int, int], left: Mapping[int, int]
    ) -> None:
        sides = sorted((entered[tap], name) for name, tap in fed.items())
        self._at = [at for at, _ in sides]
        self._names = tuple(name for _, name in sides)
        self._valves, self._entered, self._left = graph.valves, entered, left

    def __getitem__(self, name: str) -> tuple[str, ...]:
        valve = self._valves[name]
        if valve not in self._entered:
            return ()
        return self._names[bisect_left(self._at, self._entered[valve]) : bisect_left(self._at, self._left[valve])]

    def __iter__(self) -> Iterator[str]:
        return iter(self._valves)

    def __len__(self) -> int:
        return len(self._valves)


def _spans(tree: Mapping[int, int], root: int) -> tuple[dict[int, int], dict[int, int]]:
    children: dict[int, list[int]] = {}
    for vertex, above in tree.items():
        if vertex != above:
            children.setdefault(above, []).append(vertex)
    entered, left = {}, {}
    stack = [(root, False)]
    clock = 0
    while stack:
        vertex, done = stack.pop()
        if done:
            left[vertex] = clock
            continue
        entered[vertex] = clock
        clock += 1
        stack.append((vertex, True))
        stack.extend((child, False) for child in children.get(vertex, ()))
    return entered, left
