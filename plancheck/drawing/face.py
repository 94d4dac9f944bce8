"""The face of a manifold: its ports in their order with what is written at them, and labels to cut out at true size."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.drawing.letters import box_of, shortened, wrapped
from plancheck.drawing.scene import label_of
from plancheck.drawing.signs import GREY, open_end
from plancheck.drawing.svg import Box, Picture, Segment, element, line, whole, words
from plancheck.drawing.waters import Look, look_of
from plancheck.facts import Facts
from plancheck.measures import Length, Size
from plancheck.model import ManifoldOwn, Part, Port, Run
from plancheck.record import NamedTuple

_PITCH, _LEFT, _MARGIN, _BAR, _SIZE = 19.5, 12.0, 4.0, 26.0, 2.8
_BOLD = 1.08  # bold letters are so much wider
_STRIP_MM, _STRIP_HIGH, _NO_SPACING_MM, _LEAST_MM, _MOST_MM = 180.0, 16.0, 30.0, 18.0, 60.0


class Shown(NamedTuple):
    """One port as it is drawn: its label and what else is written at it, line by line, the run on it, the water in it."""

    port: Port
    label: tuple[str, ...]
    lines: tuple[str, ...]
    run: Run | None
    look: Look


def manifolds_of(facts: Facts) -> tuple[Part, ...]:
    """The manifolds of a plan that stay."""
    return tuple(
        part for part in facts.plan.parts.values() if isinstance(part.own, ManifoldOwn) and part.work != "removed"
    )


def face_pictures(facts: Facts) -> tuple[Picture, ...]:
    """A picture of every manifold."""
    return tuple(_face(facts, part) for part in manifolds_of(facts))


def _face(facts: Facts, part: Part) -> Picture:
    own = part.own
    assert isinstance(own, ManifoldOwn)
    shown = [_shown(facts, part, port) for port in own.ports.values()]
    wide = max(120.0, 2 * _LEFT + _PITCH * len(shown))
    lines = max((len(one.label) + len(one.lines) for one in shown), default=0)
    high = _BAR + 30.0 + 3.6 * lines + 4
    kind = {"ring": "a closed ring", "straight": "a straight row"}.get(own.shape or "", "of unsaid shape")
    title = f"Manifold {facts.part_name(part.id)}"
    place = facts.place_name(part.place)
    tube = facts.plan.tubes.get(own.tube or "")
    made = f", of {_tube(tube.size, tube.material)}" if tube is not None else ""
    spacing = f", ports {own.spacing.text} apart" if isinstance(own.spacing, Length) else ""
    about = f"{kind.capitalize()}{f' in {place}' if place else ''}{made}{spacing}; {len(shown)} ports in their order, each flow at peak."
    labels: list[tuple[str, Box]] = []
    drawn: list[Segment] = []
    body = [element("rect", x=0, y=0, width=wide, height=high, fill="#ffffff")]
    body += [words(_MARGIN, 7, shortened(title, 4.2, wide - 8), 4.2, font_weight="bold")]
    body += [words(_MARGIN, 12, shortened(about, 2.6, wide - 8), 2.6, fill=GREY)]
    body += _bar(own.shape == "ring", len(shown), drawn)
    for place_, one in enumerate(shown):
        body += _port(one, _LEFT + _PITCH * (place_ + 0.5), labels, drawn)
    svg = whole(f"face-{part.id}", title, about, wide, high, body)
    return Picture(f"face-{part.id}", title, about, svg, wide, high, tuple(labels), tuple(drawn))


def _bar(ring: bool, count: int, drawn: list[Segment]) -> list[str]:
    """The body of the manifold, from the first port to the last; of a ring the way back as well."""
    first, last = _LEFT + 0.5 * _PITCH, _LEFT + _PITCH * (count - 0.5)
    found = [line(((first - 5, _BAR), (last + 5, _BAR)), stroke="#000000", stroke_width=2.2, stroke_linecap="round")]
    if ring:
        top = _BAR - 8
        loop = ((first - 5, _BAR), (first - 9, _BAR), (first - 9, top), (last + 9, top), (last + 9, _BAR), (last + 5, _BAR))
        found.append(line(loop, stroke="#000000", stroke_width=2.2, stroke_linejoin="round"))
        drawn.append(Segment(first - 9, top, last + 9, top))
    drawn.append(Segment(first - 5, _BAR, last + 5, _BAR))
    return found


def _port(one: Shown, x: float, labels: list[tuple[str, Box]], drawn: list[Segment]) -> Iterator[str]:
    """One port: dot on the body, valve, pipe or plug, its name and its lines."""
    end = _BAR + 26
    yield element("circle", cx=x, cy=_BAR, r=1.5, fill="#000000")
    yield line(((x, _BAR), (x, end - 5)), stroke="#000000", stroke_width=0.7)
    if one.port.valve not in (None, "none", "not known"):
        yield from _valve(x, _BAR + 7, one.port.normally == "closed")
    if one.run is not None:
        arrow = _BAR + (17 if one.port.use != "feed" else 15)
        way = 1 if one.port.use != "feed" else -1
        yield line(
            ((x, _BAR + 11), (x, end)), stroke=one.look.colour, stroke_width=0.9, stroke_dasharray=one.look.dashes,
            stroke_linecap="round",
        )  # fmt: skip
        yield element("path", d=_triangle(x, arrow + 1.5 * way, way), fill="#000000")
        drawn.append(Segment(x, _BAR, x, end))
    else:
        closed = one.port.end not in (None, "none", "not known")
        yield line(((x - 2, end - 5), (x + 2, end - 5)), stroke="#000000", stroke_width=0.9) if closed else open_end(x, end - 5)
        drawn.append(Segment(x, _BAR, x, end - 5))
    yield element("circle", cx=x - 6, cy=_BAR + 6, r=3, fill="#ffffff", stroke="#000000", stroke_width=0.3)
    name = shortened(one.port.id, 3.0, 5.4)
    yield words(x - 6, _BAR + 7.1, name, 3.0, text_anchor="middle", font_weight="bold")
    labels.append((name, box_of(x - 6, _BAR + 7.1, name, 3.0, "middle")))
    for place, text in enumerate((*one.label, *one.lines)):
        y = end + 4.5 + 3.6 * place
        bold = "bold" if place < len(one.label) else None
        yield words(x, y, text, _SIZE, text_anchor="middle", font_weight=bold)
        labels.append((text, box_of(x, y, text, _SIZE, "middle")))


def _valve(x: float, y: float, closed: bool) -> Iterator[str]:
    """Two triangles point to point (ISO 14617-8); filled where the valve is normally closed."""
    shape = f"M{x - 1.8:.2f} {y - 2.4:.2f}h3.6l-3.6 4.8h3.6z"
    yield element("path", d=shape, fill="#000000" if closed else "#ffffff", stroke="#000000", stroke_width=0.4)


def _triangle(x: float, y: float, way: int) -> str:
    return f"M{x - 1.3:.2f} {y - 2.4 * way:.2f}h2.6L{x:.2f} {y:.2f}z"


def _shown(facts: Facts, part: Part, port: Port) -> Shown:
    run = next(
        (
            run
            for run in facts.plan.runs.values()
            if run.work != "removed" and any(ref is not None and ref.part == part.id and ref.connection == port.id for ref in (run.from_, run.to))
        ),
        None,
    )
    lines: list[str] = []
    use = "" if port.use == "circuit" else port.use
    if use and use.lower() not in (port.label or "").lower():
        lines.append(use)
    if run is not None:
        lines += _run_lines(facts, run)
    else:
        lines.append({None: "end not said", "not known": "end not known", "none": "open end"}.get(port.end, f"end: {port.end}"))
    if port.valve == "none":
        lines.append("no valve")
    if port.normally == "closed":
        lines.append("kept closed")
    service = facts.carried(run.id).service if run is not None else None
    label = wrapped(port.label or "", _SIZE * _BOLD, _PITCH - 1.5)
    return Shown(port, label, tuple(shortened(text, _SIZE, _PITCH - 1.5) for text in lines), run, look_of(service))


def _run_lines(facts: Facts, run: Run) -> Iterator[str]:
    """Size and tube, length, peak flow of the run on a port."""
    tube = facts.plan.tubes.get(run.tube or "")
    if tube is not None:
        yield _tube(tube.size, tube.material)
    length = label_of(facts, run)[1]
    if length:
        yield length
    load = facts.loads.get(run.id)
    if load is not None and load.by_units.flow_m3s is not None:
        yield facts.quantity(load.by_units.flow_m3s, "flow")


def _tube(size: object, material: str | None) -> str:
    return " ".join(filter(None, (size.words if isinstance(size, Size) else "", material)))


def strip_pictures(facts: Facts) -> tuple[Picture, ...]:
    """Strips of labels for every manifold, each label as wide as the ports stand apart, in pieces that fit a page."""
    found = []
    for part in manifolds_of(facts):
        own = part.own
        assert isinstance(own, ManifoldOwn)
        wide = own.spacing.m * 1000 if isinstance(own.spacing, Length) else _NO_SPACING_MM
        fits = _LEAST_MM <= wide <= _MOST_MM
        cell = wide if fits else min(max(wide, _LEAST_MM), _MOST_MM)
        note = "" if fits and isinstance(own.spacing, Length) else "; cut apart, the ports stand otherwise"
        found.append(_strip(facts, part, list(own.ports.values()), cell, note))
    return tuple(found)


def _strip(facts: Facts, part: Part, ports: list[Port], cell: float, note: str) -> Picture:
    per = max(1, int(_STRIP_MM / cell))
    rows = [ports[at : at + per] for at in range(0, len(ports), per)]
    width, height = per * cell + 2, 5.5 + len(rows) * (_STRIP_HIGH + 3)
    title = f"Labels of {facts.part_name(part.id)}"
    about = f"Labels {cell:.1f} mm wide, {_STRIP_HIGH:.0f} mm high, in the order of the ports{note}."
    labels: list[tuple[str, Box]] = []
    body = [element("rect", x=0, y=0, width=width, height=height, fill="#ffffff")]
    body += [words(1, 3.4, shortened(f"{title}: {about}", 2.4, width - 2), 2.4, fill=GREY)]
    for row, some in enumerate(rows):
        for column, port in enumerate(some):
            body += _label(port, 1 + column * cell, 5 + row * (_STRIP_HIGH + 3), cell, labels)
    name = f"strip-{part.id}"
    return Picture(name, title, about, whole(name, title, about, width, height, body), width, height, tuple(labels))


def _label(port: Port, x: float, y: float, cell: float, labels: list[tuple[str, Box]]) -> Iterator[str]:
    yield element(
        "rect", x=x, y=y, width=cell, height=_STRIP_HIGH, fill="#ffffff", stroke="#000000", stroke_width=0.2,
        stroke_dasharray="1.5 1",
    )  # fmt: skip
    yield words(x + cell / 2, y + 4.4, port.id, 3.6, text_anchor="middle", font_weight="bold")
    text = port.label or port.use
    size = 3.4 if len(wrapped(text, 3.4, cell - 3)) <= 2 else 2.6
    for place, part in enumerate(wrapped(text, size, cell - 3)[:3]):
        at = y + 9.2 + place * size * 1.15
        yield words(x + cell / 2, at, part, size, text_anchor="middle")
        labels.append((part, box_of(x + cell / 2, at, part, size, "middle")))
