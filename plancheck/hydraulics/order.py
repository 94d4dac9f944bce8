"""In which order the unknown heads are eliminated: by least degree, found once for a topology."""

from collections.abc import Iterable, Sequence
from heapq import heapify, heappop, heappush

from plancheck.record import NamedTuple


class Step(NamedTuple):
    """Elimination of one node: its neighbours then left, each with its slot, and (from, by, into) slots of each pair."""

    node: int
    joined: tuple[tuple[int, int], ...]
    pairs: tuple[tuple[int, int, int], ...]


class Schedule(NamedTuple):
    """Steps in order; slots: how many pairs of nodes ever hang together; slot: that of each pair at the start."""

    steps: tuple[Step, ...]
    slots: int
    slot: dict[tuple[int, int], int]


def schedule(number: int, pairs: Iterable[tuple[int, int]]) -> Schedule:
    """The order for nodes 0 to number - 1 of which the given pairs hang together.

    Work and memory grow about linearly for near-trees, as houses and their streets are.
    """
    near: list[dict[int, int]] = [{} for _ in range(number)]
    slot: dict[tuple[int, int], int] = {}
    for one, other in pairs:
        a, b = (one, other) if one < other else (other, one)
        if a != b and b not in near[a]:
            slot[(a, b)] = near[a][b] = near[b][a] = len(slot)
    slots = len(slot)
    queue = [(len(near[node]), node, node) for node in range(number)]
    heapify(queue)
    late = 0  # of equal degree the last touched goes first: what is worked on stays near the processor
    done = [False] * number
    steps = []
    while queue:
        degree, _, node = heappop(queue)
        if done[node] or degree != len(near[node]):
            continue
        done[node] = True
        step, slots = _eliminate(node, near, slots)
        steps.append(step)
        for other, _ in step.joined:
            late -= 1
            heappush(queue, (len(near[other]), late, other))
    return Schedule(tuple(steps), slots, slot)


def _eliminate(node: int, near: Sequence[dict[int, int]], slots: int) -> tuple[Step, int]:
    joined = tuple(near[node].items())
    pairs = []
    for other, _ in joined:
        del near[other][node]
    for place, (one, own) in enumerate(joined):
        for other, its in joined[place + 1 :]:
            into = near[one].get(other)
            if into is None:
                into, slots = slots, slots + 1
                near[one][other] = near[other][one] = into
            pairs.append((own, its, into))
    return Step(node, joined, tuple(pairs)), slots
