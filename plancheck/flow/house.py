"""A plan's house as a plain network: pipes from runs, edges from parts, openings shut until a question opens them.

Nodes carry the names of connections (`bath-lav/hot`), joined where nothing is lost between them. Edges are named for the
run or part they stand for; an opening is an edge from its connection to the air at its height.
"""

from collections.abc import Mapping

from plancheck.flow.levels import Levels
from plancheck.flow.openings import Opening
from plancheck.hydraulics.plain import Edge, Law, Network
from plancheck.limits import NotShown
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Path, Ref
from plancheck.record import NamedTuple

M_PER_PA = 1.0 / WATER_PA_PER_M
AIR = "air"


class Missing(NamedTuple):
    """A fact the plan lacks: the key to add, and what it is in words."""

    path: Path
    what: str

    def raised(self) -> NotShown:
        """As what a rule raises."""
        return NotShown(self.path, self.what)


class Piece(NamedTuple):
    """What an edge stands for.

    kind: service, run, meter, regulator, manifold, valve, device, heater, opening, mixing; thing: its run or part;
    bore_m: of a pipe; missing: a fact without which its loss is not known.
    """

    kind: str
    thing: str
    bore_m: float | None = None
    missing: Missing | None = None


class Fixture(NamedTuple):
    """A fixture's openings.

    sides: side -> edge that opens it alone; mixed: edges that open both sides through its mixing valve, or empty;
    opening: how much it takes; said: whether the plan gives the rate; outlet_m: height at which the water leaves;
    missing: why its height is not known.
    """

    part: str
    kind: str
    sides: Mapping[str, str]
    mixed: tuple[str, ...]
    opening: Opening
    outlet_m: float
    missing: Missing | None = None


class House(NamedTuple):
    """A house ready for questions.

    network: with every opening in it; closed: edges shut unless a question opens them; pieces: what each edge stands
    for; fixtures: by part; joined: connection -> its node; levels: heights; assumed: what was taken where nothing is said;
    supply: fact about the source that is missing; cold_c and hot_c: temperatures of the water (cold is None where the plan
    does not say it).
    """

    network: Network
    closed: frozenset[str]
    pieces: Mapping[str, Piece]
    fixtures: Mapping[str, Fixture]
    joined: Mapping[str, str]
    levels: Levels
    assumed: tuple[str, ...]
    supply: Missing | None
    cold_c: float | None
    hot_c: float

    def node(self, ref: Ref | str) -> str:
        """The node a connection belongs to."""
        return self.joined.get(str(ref), str(ref))

    def shut_but(self, *opened: str) -> frozenset[str]:
        """The edges that are shut when these are open."""
        return self.closed.difference(opened)

    def pressure(self, head_m: float | None, level_m: float) -> float | None:
        """Gauge pressure, Pa, of a head at a height; None where there is no water."""
        return None if head_m is None else (head_m - level_m) * WATER_PA_PER_M


class Joiner:
    """Joins connections between which nothing is lost."""

    def __init__(self) -> None:
        self._above: dict[str, str] = {}

    def find(self, name: str) -> str:
        """The node a connection belongs to."""
        above = self._above
        root = name
        while above.get(root, root) != root:
            root = above[root]
        while above.get(name, name) != root:
            above[name], name = root, above[name]
        return root

    def join(self, one: str, other: str) -> None:
        """Makes two connections one node."""
        self._above.setdefault(one, one)
        self._above.setdefault(other, other)
        self._above[self.find(other)] = self.find(one)

    def all(self) -> dict[str, str]:
        """Every joined connection with its node."""
        return {name: self.find(name) for name in self._above}


class Drawing:
    """What is put together while the house is built."""

    def __init__(self) -> None:
        self.edges: list[tuple[str, str, str, Law, bool]] = []
        self.pieces: dict[str, Piece] = {}
        self.joiner = Joiner()
        self.heads: dict[str, float] = {}
        self.closed: set[str] = set()
        self.assumed: list[str] = []

    def add(self, name: str, a: str, b: str, law: Law, piece: Piece, shut: bool = False) -> None:
        """An edge; shut: for good, as a valve that is normally closed."""
        self.edges.append((name, a, b, law, shut))
        self.pieces[name] = piece

    def assume(self, words: str) -> None:
        """Something taken where the plan says nothing, in words, once."""
        if words not in self.assumed:
            self.assumed.append(words)

    def network(self) -> Network:
        """The plain network."""
        find = self.joiner.find
        placed = ((name, find(a), find(b), law, shut) for name, a, b, law, shut in self.edges)
        edges = tuple(Edge(*one) for one in placed if one[1] != one[2])
        used = {node for edge in edges for node in (edge.a, edge.b)}
        return Network({find(node): head for node, head in self.heads.items() if find(node) in used}, edges)
