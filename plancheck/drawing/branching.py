"""The supply as a tree from the source on: what hangs on what, each run once, a fixture once for each of its sides."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator, Sequence

from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import ManifoldOwn, Part, Ref, Run
from plancheck.record import NamedTuple


class Node(NamedTuple):
    """One place in the tree.

    part: its part; side: of a fixture, else empty; again: whether the part stands elsewhere and this only leads to it;
    run: by which it is reached, None where it is made up directly; parent: number of the node it hangs on, -1 for roots;
    port: of the parent's manifold it hangs on, else empty.
    """

    part: str
    side: str
    again: bool
    run: Run | None
    parent: int
    port: str


class _Link(NamedTuple):
    run: Run | None
    other: Ref
    port: str


def tree_of(facts: Facts) -> tuple[Node, ...]:
    """The nodes, parents first; the source's tree, then those of what is joined to nothing."""
    return tuple(_Walk(facts).nodes())


def pruned(nodes: Sequence[Node], runs: Collection[str]) -> tuple[Node, ...]:
    """The nodes that these runs lead to, what is made up onto those, and the way to them from the root."""
    kept: set[int] = set()
    for number, node in enumerate(nodes):
        if node.run.id in runs if node.run is not None else node.parent in kept:
            kept.add(number)
    for number in tuple(kept):
        parent = nodes[number].parent
        while parent >= 0 and parent not in kept:
            kept.add(parent)
            parent = nodes[parent].parent
    new = {old: number for number, old in enumerate(sorted(kept))}
    return tuple(nodes[old]._replace(parent=new.get(nodes[old].parent, -1)) for old in new)


class _Walk:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.parts = {part.id: part for part in facts.plan.parts.values() if part.work != "removed"}
        self.links = self._links()
        self.used: set[str] = set()
        self.seen: set[str] = set()
        self.found: list[Node] = []

    def nodes(self) -> list[Node]:
        roots = sorted(self.parts.values(), key=lambda part: part.is_ != "source")
        for root in roots:
            if root.id not in self.seen:
                self._tree(root)
        return self.found

    def _tree(self, root: Part) -> None:
        self.seen.add(root.id)
        self.found.append(Node(root.id, "", False, None, -1, ""))
        waiting = deque([len(self.found) - 1])
        while waiting:
            number = waiting.popleft()
            for node in self._children(number):
                self.found.append(node)
                if not node.again:
                    waiting.append(len(self.found) - 1)

    def _children(self, number: int) -> Iterator[Node]:
        here, side = self.found[number].part, self.found[number].side
        for link in self.links[here]:
            onto = self.parts[link.other.part].onto
            if side and not (link.run is None and onto is not None and onto.connection == side):
                continue  # of a fixture only what is made up onto this side of it hangs there
            key = link.run.id if link.run is not None else f"onto {min(here, link.other.part)} {max(here, link.other.part)}"
            if key in self.used:
                continue
            self.used.add(key)
            other = self.parts[link.other.part]
            if KINDS[other.is_].sort == "fixture":
                self.seen.add(other.id)
                yield Node(other.id, link.other.connection, False, link.run, number, link.port)
            else:
                again = other.id in self.seen
                self.seen.add(other.id)
                yield Node(other.id, "", again, link.run, number, link.port)

    def _runs(self) -> Iterator[Run]:
        """The runs that are there, but those that end at what is taken out."""
        for run in self.facts.plan.runs.values():
            if run.work != "removed" and run.from_ is not None and run.to is not None and {run.from_.part, run.to.part} <= self.parts.keys():
                yield run

    def _links(self) -> dict[str, list[_Link]]:
        """From each part where its pipes lead, ports in their order, against no flow that is traced."""
        found: dict[str, list[_Link]] = {id_: [] for id_ in self.parts}
        for run in self._runs():
            assert run.from_ is not None
            assert run.to is not None
            way = self._way(run)
            for here, other, against in ((run.from_, run.to, way < 0), (run.to, run.from_, way > 0)):
                fixture = KINDS[self.parts[here.part].is_].sort == "fixture"
                if not against and not fixture:
                    found[here.part].append(_Link(run, other, self._port(here)))
        for part in self.parts.values():
            if part.onto is not None and part.onto.part in found:
                inward = KINDS[part.is_].inward or "in"
                found[part.onto.part].append(_Link(None, Ref(part.id, inward), self._port(part.onto)))
                if KINDS[part.is_].sort != "fixture":
                    found[part.id].append(_Link(None, part.onto, ""))
        for id_, links in found.items():
            own = self.parts[id_].own
            if isinstance(own, ManifoldOwn):
                order = {port: number for number, port in enumerate(own.ports)}
                links.sort(key=lambda link: order.get(link.port, len(order)))
        return found

    def _port(self, ref: Ref) -> str:
        return ref.connection if isinstance(self.parts[ref.part].own, ManifoldOwn) else ""

    def _way(self, run: Run) -> int:
        from plancheck.drawing.scene import flows

        return flows(self.facts, run.id)
