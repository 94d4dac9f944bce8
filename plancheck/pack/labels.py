"""Port labels and the shutoff map: what is written at each port, and what goes dry when each valve closes."""

from __future__ import annotations

from plancheck.isolate import Closing, is_for_testing, reach_of
from plancheck.model import ManifoldOwn
from plancheck.pack.blocks import BLANK, Block, Grid, Heading, Image, Material, Sheet, Text
from plancheck.report.shutofftext import HOLDS_NOT, by_place


def labels(material: Material) -> Sheet:
    """The sheet that stays at the manifold."""
    closing = Closing(material.facts)
    blocks: list[Block] = []
    for name, picture in material.pictures.items():
        if name.startswith(("face", "shutoff")):
            blocks.append(Image(picture))
    blocks += [Heading("Close this, these go dry"), _map(closing), Text(HOLDS_NOT)]
    blocks += _ports(material)
    strips = [picture for name, picture in material.pictures.items() if name.startswith("strip")]
    if strips:
        blocks += [Heading("Labels to cut out"), Text("At true size: print without fitting to the page."), *(Image(one, True) for one in strips)]
    return Sheet("labels", "Port labels and shutoff map", "what each valve shuts, labels to cut out", tuple(blocks))


def _map(closing: Closing) -> Grid:
    rows = []
    for name in closing.graph.valves:
        if is_for_testing(closing.facts, name):
            continue
        dry = closing.dry((name,))
        if dry and dry != (name,):  # a stop at its fixture shuts that fixture
            place = closing.part_of(name).place
            rows.append((name, closing.facts.place_name(place), reach_words(closing, name), by_place(closing, dry)))
    notes = ("The stop at a fixture shuts that side of it alone.",)
    return Grid("What goes dry", ("Valve", "Place", "Within reach", "Goes dry"), tuple(rows), notes=notes)


def reach_words(closing: Closing, name: str) -> str:
    """How one gets at a valve, in words."""
    said = reach_of(closing.facts, name)
    return {None: "not said", "none": "no, closed in"}.get(said, said or "")


def _ports(material: Material) -> list[Block]:
    found: list[Block] = []
    for part in material.facts.plan.parts.values():
        own = part.own
        if isinstance(own, ManifoldOwn) and part.work != "removed":
            rows = tuple((port.id, port.use, port.label or BLANK, port.valve or BLANK) for port in own.ports.values())
            found.append(Grid(f"Ports of {part.id}, in their order", ("Port", "Use", "Label", "Valve"), rows, writable=frozenset((2,))))
    return found
