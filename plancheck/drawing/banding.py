"""The riser before it is drawn: columns of a tidy tree, storeys as bands, the sheet that holds them."""

from __future__ import annotations

from collections.abc import Sequence

from plancheck.drawing.branching import Node, pruned, tree_of
from plancheck.drawing.scene import Spot
from plancheck.drawing.sharing import Share
from plancheck.drawing.sheet import room_of, sizes_of
from plancheck.facts import Facts
from plancheck.measures import Length
from plancheck.record import NamedTuple

_COLUMN, _ROW = 13.0, 21.0
_SIDE = 0.7  # of a column
_LEAST_SCALE, _MOST_SCALE, _MOST_SPREAD = 0.7, 1.5, 2.2


class Layout(NamedTuple):
    """The tree on paper. spots: of each node; bands: name, top and bottom of each storey, the highest first."""

    facts: Facts
    nodes: tuple[Node, ...]
    spots: tuple[Spot, ...]
    bands: tuple[tuple[str, float, float], ...]
    sheet: tuple[float, float]
    scale: float


def layout_of(facts: Facts, share: Share | None = None) -> Layout:
    """The riser on paper; share: that part of a large plan, with the way to it."""
    nodes = tree_of(facts) if share is None else pruned(tree_of(facts), share.runs)
    levels = _levels(facts, nodes)
    rows = _rows(nodes, levels)
    columns = _columns(nodes, levels)
    order = sorted(dict.fromkeys(levels), key=lambda level: (level is None, -(level or 0.0)))
    depth = {level: max((row for row, mine in zip(rows, levels, strict=True) if mine == level), default=0) + 1 for level in order}
    wide = (max(columns, default=0.0) + 1.5) * _COLUMN + 34
    high = sum(depth.values()) * _ROW + 12 * len(order)
    sheet, scale = _sheet(facts, wide, high)
    room = room_of(sheet)
    bands, bottoms, top = [], {}, room.top + 2
    for level in order:
        tall = (depth[level] * _ROW + 12) * scale
        bands.append((_band_name(facts, level), top, top + tall))
        bottoms[level] = top + tall - 7 * scale
        top += tall
    spread = max(scale, min(_MOST_SPREAD, (room.right - room.left) / wide))
    pitch = _COLUMN * spread
    spots = tuple(
        (room.left + 30 * scale + (column + 0.5) * pitch, bottoms[level] - row * _ROW * scale)
        for column, level, row in zip(columns, levels, rows, strict=True)
    )
    return Layout(facts, nodes, spots, tuple(bands), sheet, scale)


def _sheet(facts: Facts, wide: float, high: float) -> tuple[tuple[float, float], float]:
    """The smallest sheet that holds it at nearly full size, and by how much it is made smaller; else a length off the roll."""
    for sheet in sizes_of(facts):
        room = room_of(sheet)
        scale = min(_MOST_SCALE, (room.right - room.left) / wide, (room.bottom - room.top - 4) / high)
        if scale >= _LEAST_SCALE:
            return sheet, scale
    least, room = sizes_of(facts)[1], room_of(sizes_of(facts)[1])
    around_it = (least[0] - room.right + room.left, least[1] - room.bottom + room.top + 4)
    return (max(_LEAST_SCALE * wide + around_it[0], least[0]), max(_LEAST_SCALE * high + around_it[1], least[1])), _LEAST_SCALE


def _levels(facts: Facts, nodes: Sequence[Node]) -> list[float | None]:
    """The storey of each node: of its place, else that of what it hangs on."""
    found: list[float | None] = []
    for node in nodes:
        place = facts.plan.places.get(facts.plan.parts[node.part].place or "")
        if place is not None and isinstance(place.level, Length):
            found.append(place.level.m)
        else:
            found.append(found[node.parent] if node.parent >= 0 else None)
    first = next((level for level in found if level is not None), None)
    return [first if level is None and _leads(nodes, number, found) else level for number, level in enumerate(found)]


def _leads(nodes: Sequence[Node], number: int, levels: Sequence[float | None]) -> bool:
    """Whether a node of unsaid storey leads to one whose storey is said: then it stands on that one's."""
    return any(levels[other] is not None for other, node in enumerate(nodes) if node.parent == number) or nodes[number].parent < 0


def _rows(nodes: Sequence[Node], levels: Sequence[float | None]) -> list[int]:
    """How many nodes of the same storey lie on the way to each: what comes back to a storey stands above all it was there."""
    found: list[int] = []
    for number, node in enumerate(nodes):
        before = node.parent
        while before >= 0 and levels[before] != levels[number]:
            before = nodes[before].parent
        found.append(found[before] + 1 if before >= 0 else 1 if node.parent >= 0 else 0)
    return found


def _columns(nodes: Sequence[Node], levels: Sequence[float | None]) -> list[float]:
    """Columns of a tidy tree: leaves side by side, the rest over the middle of what hangs on it; what turns back from up to
    down has a column of its own, or it would lie over the way it came."""
    children: dict[int, list[int]] = {}
    for number, node in enumerate(nodes):
        children.setdefault(node.parent, []).append(number)
    columns = [0.0] * len(nodes)
    following = 0.0
    stack = [(root, False) for root in reversed(children.get(-1, []))]
    while stack:
        number, done = stack.pop()
        mine = children.get(number, [])
        if not mine:
            columns[number] = following
            following += 1.0
        elif done:
            back = _SIDE if _turns_back(nodes, levels, number, mine) else 0.0
            columns[number] = (columns[mine[0]] + columns[mine[-1]]) / 2 - back
        else:
            following += _SIDE if _turns_back(nodes, levels, number, mine) else 0.0
            stack.append((number, True))
            stack += [(child, False) for child in reversed(mine)]
    return columns


def _turns_back(nodes: Sequence[Node], levels: Sequence[float | None], number: int, children: Sequence[int]) -> bool:
    """Whether what comes up to a node goes down from it to a lower storey, and nowhere else."""
    here, parent = levels[number], nodes[number].parent
    if len(children) != 1 or parent < 0 or here is None:
        return False
    came, goes = levels[parent], levels[children[0]]
    return (came is None or came <= here) and goes is not None and goes < here


def _band_name(facts: Facts, level: float | None) -> str:
    if level is None:
        return "Storey not said"
    names = [place.title for place in facts.plan.places.values() if isinstance(place.level, Length) and place.level.m == level]
    text = next(place.level.text for place in facts.plan.places.values() if isinstance(place.level, Length) and place.level.m == level)
    return f"{text}: {', '.join(names)}"
