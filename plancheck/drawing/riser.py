"""The riser: the supply without coordinates, as a tree from the street up, storeys as bands, each run once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from plancheck.drawing.banding import Layout, layout_of
from plancheck.drawing.branching import Node
from plancheck.drawing.glyphs import box_at, kind_of, placed
from plancheck.drawing.letters import shortened
from plancheck.drawing.marking import marks_of, told
from plancheck.drawing.placing import Room, centred
from plancheck.drawing.risertexts import part_texts, run_texts
from plancheck.drawing.scene import Spot, flows, label_of, port_of
from plancheck.drawing.sharing import Share
from plancheck.drawing.sheet import frame, legend_of, room_of
from plancheck.drawing.signs import GREY, arrow_head, small_valve
from plancheck.drawing.spots import cut_words
from plancheck.drawing.svg import Box, Picture, element, escape, line, segments, whole, words
from plancheck.drawing.waters import WIDTH_MM, look_of
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import ManifoldOwn, Port
from plancheck.report.data import Finding, PlanReport

_BAND = ("#ffffff", "#f3f4f1")
NOTE = "A scheme: what hangs on what, storey by storey; neither place nor length is drawn."


def riser(facts: Facts, report: PlanReport | None = None, key: str = "", linked: bool = False, share: Share | None = None) -> Picture:
    """The riser of a plan. report: its findings are marked; linked: marks lead to them; key: what anchors begin with; share:
    the part of a large plan that is drawn alone."""
    layout = layout_of(facts, share)
    room = Room(room_of(layout.sheet))
    ways = [_way(layout, number) for number in range(len(layout.nodes))]
    lines = tuple(piece for way in ways for piece in segments(way))
    for piece in lines:
        room.add_line(piece)
    labels: list[tuple[str, Box]] = []
    symbols = list(_symbols(layout, room))
    places = _spots(layout)
    marks = marks_of(report, lambda one: _spot_of(layout, places, one), room, key, linked)
    texts = [*run_texts(layout, ways, room, labels), *part_texts(layout, room, labels)]
    kinds = [kind_of(facts.plan.parts[node.part]) for node in layout.nodes if not isinstance(facts.plan.parts[node.part].own, ManifoldOwn)]
    services = [facts.carried(node.run.id).service for node in layout.nodes if node.run is not None]
    legend = legend_of(facts, kinds, services, report, marks.numbers, False, (NOTE, _counted(layout), *cut_words(facts)))
    legend = legend._replace(signs=list(_signs(layout)))
    title = "Riser of the water supply" if share is None else f"Riser {share.number}: {share.title}"
    about = f"{len(services)} runs from the source on, storeys as bands; {told(marks)}."
    body = [*frame(facts, report, title, layout.sheet, legend), *_bands(layout), *_pipes(layout, ways), *marks.leads, *symbols, *texts, *marks.shapes]
    name = "riser" if share is None else f"riser-{share.number}"
    return Picture(name, title, about, whole(f"{key}{name}", title, about, *layout.sheet, body, linked), *layout.sheet, tuple(labels), lines)


def _counted(layout: Layout) -> str:
    """How many fixtures are on the sheet, as one with two sides is drawn twice."""
    there = (layout.facts.plan.parts[id_] for id_ in dict.fromkeys(node.part for node in layout.nodes))
    fixtures = [part for part in there if KINDS[part.is_].sort == "fixture"]
    several = any(len(KINDS[part.is_].connections) > 1 for part in fixtures)
    twice = ": one with hot and cold stands at each of its pipes" if several else ""
    return f"{len(fixtures)} {'fixture' if len(fixtures) == 1 else 'fixtures'}{twice}. Ports without a pipe are on the drawing of their manifold."


def _signs(layout: Layout) -> Iterator[str]:
    """The signs that are drawn, for the legend."""
    facts = layout.facts
    if any(isinstance(facts.plan.parts[node.part].own, ManifoldOwn) for node in layout.nodes):
        yield "row"
    if any(port is not None and port.valve not in (None, "none", "not known") for port in (_port_of(facts, node) for node in layout.nodes)):
        yield "port valve"
    if any(node.run is None and node.parent >= 0 for node in layout.nodes):
        yield "direct"
    if any(node.run is not None and flows(facts, node.run.id) for node in layout.nodes):
        yield "arrow"


def _way(layout: Layout, number: int) -> tuple[Spot, ...]:
    """The line to a node from what it hangs on: level first, then upright."""
    node = layout.nodes[number]
    if node.parent < 0:
        return ()
    (x1, y1), (x2, y2) = layout.spots[node.parent], layout.spots[number]
    corners = [(x1, y1), (x2, y1), (x2, y2)]
    return tuple(spot for place, spot in enumerate(corners) if place == 0 or spot != corners[place - 1])


def _bands(layout: Layout) -> Iterator[str]:
    room = room_of(layout.sheet)
    for place, (name, top, bottom) in enumerate(layout.bands):
        yield element("rect", x=room.left, y=top, width=room.right - room.left, height=bottom - top, fill=_BAND[place % 2])
        yield line(((room.left, bottom), (room.right, bottom)), stroke="#999999", stroke_width=0.25)
        yield words(room.left + 1.5, top + 4, shortened(name, 2.6, 120), 2.6, fill=GREY)


def _pipes(layout: Layout, ways: Sequence[Sequence[Spot]]) -> Iterator[str]:
    for node, way in zip(layout.nodes, ways, strict=True):
        if not way:
            continue
        if node.run is None:
            yield line(way, stroke="#000000", stroke_width=WIDTH_MM)
            continue
        look = look_of(layout.facts.carried(node.run.id).service)
        title = element("title", escape(f"{node.run.id}: {_size(layout.facts, node)}, {look.name.lower()}"))
        pipe = line(way, stroke=look.colour, stroke_width=WIDTH_MM, stroke_dasharray=look.dashes or None, stroke_linecap="round", stroke_linejoin="round")
        yield element("g", (title, pipe), class_=look.class_)
        yield from _on_way(layout.facts, node, way)


def _on_way(facts: Facts, node: Node, way: Sequence[Spot]) -> Iterator[str]:
    """On the upright piece of a run: the valve of its port, and an arrow where the way of the water is known."""
    (x, y1), (_, y2) = way[-2:]
    if abs(y1 - y2) < 8.0:
        return
    up = 1.0 if y2 > y1 else -1.0
    port = _port_of(facts, node)
    if port is not None and port.valve not in (None, "none", "not known"):
        yield small_valve(x, y1 + 3.4 * up, 0.0, 1.0, port.normally == "closed")
    if node.run is not None and flows(facts, node.run.id):
        yield arrow_head(x, y1 + 0.72 * (y2 - y1), 0.0, up)


def _port_of(facts: Facts, node: Node) -> Port | None:
    """The port of the manifold that a node hangs on."""
    run = node.run
    ends = (port_of(facts, ref) for ref in (run.from_, run.to) if ref is not None and ref.connection == node.port) if run is not None else ()
    return next((port for port in ends if port is not None), None)


def _size(facts: Facts, node: Node) -> str:
    assert node.run is not None
    return ", ".join(filter(None, label_of(facts, node.run)))


def _symbols(layout: Layout, room: Room) -> Iterator[str]:
    children: dict[int, list[int]] = {}
    for number, node in enumerate(layout.nodes):
        children.setdefault(node.parent, []).append(number)
    for number, (node, (x, y)) in enumerate(zip(layout.nodes, layout.spots, strict=True)):
        part = layout.facts.plan.parts[node.part]
        title = f"{part.is_} {layout.facts.part_name(node.part)}{f', {node.side}' if node.side else ''}"
        if node.again:
            room.add_box(centred(x, y, 2.4, 2.4))
            yield element("path", d=f"M{x - 1.2:.2f} {y + 1:.2f}L{x:.2f} {y - 1.2:.2f}L{x + 1.2:.2f} {y + 1:.2f}", fill="none", stroke="#000000", stroke_width=0.4)
        elif isinstance(part.own, ManifoldOwn):
            ends = [layout.spots[child][0] for child in children.get(number, [])] + [x]
            left, right = min(ends) - 2, max(ends) + 2
            room.add_box(Box(left - 1.2, y - 1.2, right + 1.2, y + 1.2))
            yield element("g", (element("title", escape(title)), line(((left, y), (right, y)), stroke="#000000", stroke_width=2.0, stroke_linecap="round")))
        else:
            kind = kind_of(part)
            room.add_box(box_at(kind, x, y))
            yield placed(kind, x, y, title)


def _spots(layout: Layout) -> Mapping[str, Spot]:
    """Where parts (`parts/id`) and runs (`runs/id`) are drawn first."""
    found: dict[str, Spot] = {}
    for number, (node, spot) in enumerate(zip(layout.nodes, layout.spots, strict=True)):
        if not node.again:
            found.setdefault(f"parts/{node.part}", spot)
        if node.run is not None:
            way = _way(layout, number)
            found.setdefault(f"runs/{node.run.id}", ((way[-2][0] + way[-1][0]) / 2, (way[-2][1] + way[-1][1]) / 2) if len(way) > 1 else spot)
    return found


def _spot_of(layout: Layout, spots: Mapping[str, Spot], one: Finding) -> Spot | None:
    section, _, rest = one.path.strip("/").partition("/")
    id_ = rest.partition("/")[0]
    if section in ("parts", "runs"):
        return spots.get(f"{section}/{id_}")
    source = next((part.id for part in layout.facts.plan.parts.values() if part.is_ == "source"), "")
    return spots.get(f"parts/{source}") if section not in ("places", "tubes", "heat") else None
