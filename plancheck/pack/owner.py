"""The owner's sheet: where to shut the water, what was set, what to look at, in words for people who are no plumbers."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.hot.scald import exposure_s
from plancheck.isolate import Closing, reach_of
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, RegulatorOwn, TankOwn
from plancheck.pack.blocks import BLANK, Block, Grid, Heading, Items, Material, Pairs, Sheet, Text, said
from plancheck.pack.labels import reach_words
from plancheck.report.shutofftext import by_place


def owner(material: Material) -> Sheet:
    """The sheet for the people who live there."""
    facts = material.facts
    closing = Closing(facts)
    blocks: list[Block] = [
        Heading("Water where it should not be"),
        Items(tuple(_emergency(material))),
        Heading("One room or one fixture alone"),
        _rooms(closing),
        Heading("What was set"),
        Pairs(tuple(_set(material)) or (("Settings", BLANK),)),
        Heading("To look at"),
        Items(tuple(_care(material))),
        Text(
            "What the makers of the heater, its relief valve and the devices say of their care comes before this sheet. "
            "Work on gas, on electricity and on the pipe itself is for licensed people."
        ),
        Pairs((("Plumber, telephone", BLANK), ("Water company, telephone", BLANK), ("Key of the curb stop hangs", BLANK))),
    ]
    return Sheet("owner", "For the owner", "where to shut the water, settings, care", tuple(blocks))


def _emergency(material: Material) -> Iterator[str]:
    facts = material.facts
    mains = facts.shutoffs.mains
    if mains:
        part = facts.plan.parts[mains[0]]
        place = facts.place_name(part.place)
        named = f"{facts.part_name(part.id)}{f', {place}' if place else ''}"
        shut_in = " As the plan stands nobody gets at it: it is closed in, have it opened up." if reach_of(facts, part.id) == "none" else ""
        yield f"Shut the main: {named}.{shut_in} Where it stands, in your own words: ______________________________"
    else:
        yield "This plan shows no valve that shuts the whole house: ask your plumber for one, and the water company for the curb stop."
    for part in facts.plan.parts.values():
        if isinstance(part.own, HeaterOwn) and part.work != "removed":
            off = {"gas": "turn its gas to pilot or off", "electric": "switch its breaker off"}.get(part.own.fuel or "", "turn it off")
            yield f"If the house runs dry, {off} ({facts.part_name(part.id)}) before it heats without water."
    yield "Open the lowest tap and a hose outlet: what is left in the pipe runs out there and not through the ceiling."


def _rooms(closing: Closing) -> Grid:
    """For each valve on a port or of its own what it shuts."""
    mains = closing.facts.shutoffs.mains
    rows: list[tuple[str, ...]] = []
    shut: set[str] = set()
    for name in closing.graph.valves:
        dry = closing.dry((name,))
        if dry and name not in mains:
            shut.update(dry)
            if name not in closing.graph.outlets:
                rows.append((_named(closing, name), reach_words(closing, name), by_place(closing, dry)))
    stops = tuple(outlet for outlet in closing.graph.outlets if outlet in closing.graph.valves and outlet not in mains)
    if stops:
        rows.append(("the stop at the fixture itself", "", f"each shuts its own side alone: {by_place(closing, stops)}"))
    rest = tuple(outlet for outlet in closing.graph.outlets if outlet not in shut)
    if rest:
        rows.append(("the main alone" if mains else "no valve of the plan", "", by_place(closing, rest)))
    return Grid("Shut this valve", ("Valve", "Within reach", "and these go dry"), tuple(rows))


def _named(closing: Closing, name: str) -> str:
    """A valve by what is written at it."""
    part = closing.part_of(name)
    ports = getattr(part.own, "ports", {})
    label = ports[name.partition("/")[2]].label if name.partition("/")[2] in ports else part.label
    return f"{name} ({label})" if label else name


def _set(material: Material) -> Iterator[tuple[str, str]]:
    facts = material.facts
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        name = facts.part_name(part.id)
        if isinstance(part.own, RegulatorOwn):
            yield f"House pressure ({name})", said(part.own.set)
        elif isinstance(part.own, HeaterOwn):
            yield f"Hot water ({name})", said(part.own.set)
        elif isinstance(part.own, TankOwn):
            yield f"Air in the expansion tank ({name})", said(part.own.precharge)


def _care(material: Material) -> Iterator[str]:
    """What people who live there can see by themselves (common practice)."""
    facts = material.facts
    kinds = {part.is_ for part in facts.plan.parts.values() if part.work != "removed"}
    heaters = [part for part in facts.plan.parts.values() if isinstance(part.own, HeaterOwn) and part.work != "removed"]
    yield "Once a year close and open every valve, so that it closes on the day it must."
    for part in heaters:
        at = part.own.set if isinstance(part.own, HeaterOwn) else None
        if isinstance(at, Quantity) and exposure_s(at.si) is not None:
            yield f"Water of {at.text} burns skin in {facts.burns_in(at.si)}: run cold first, and try it before a child bathes."
    if heaters:
        yield "Water at the end of the heater's relief pipe is a sign: never plug it, call your plumber."
    if "regulator" in kinds:
        yield "A gauge on a hose outlet should read as set above; much more, and the regulator wants looking at."
    if "hose outlet" in kinds:
        yield "Take hoses off before frost: a hose left on keeps water in the outlet, which freezes even where it is frost-proof."
    if "filter" in kinds or "softener" in kinds:
        yield "Filters and softeners lose pressure as they fill up: change or service them as their maker says."
    yield "Before drilling or nailing in a wall or floor, look at the drawing where the pipe runs."
