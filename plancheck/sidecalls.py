"""Judging sides that carry the wrong water, and the sides of heaters and mixing valves, in a plumber's words."""

from __future__ import annotations

from plancheck.answers import GRACE_TEMPERATURE_C, broken, capital, holds, is_new, later, on_site
from plancheck.facts import Facts
from plancheck.joined import is_joined, joined_runs
from plancheck.jumper import jumper_runs
from plancheck.kinds import TUBS_AND_SHOWERS
from plancheck.limits import InForce
from plancheck.measures import Quantity
from plancheck.model import HeaterOwn, MixingOwn, Part, Path
from plancheck.outcomes import Outcome
from plancheck.sides import Group, all_sides, wrong_groups
from plancheck.upstream import feeder
from plancheck.valves import listed

_TOUCHED = TUBS_AND_SHOWERS | {"lavatory", "kitchen sink", "bar sink", "laundry tray"}
_WATERS = {"not potable": "water that is not for drinking", "hot return": "hot"}


def judge_group(group: Group, facts: Facts, scald: InForce) -> Outcome:
    """Sides that carry the wrong water. scald: the temperature from which hot under cold is a hazard."""
    severity, note = _severity(group, facts, scald)
    if not group.new and severity != "hazard":
        return on_site(f"existing: {_says(group, facts)}")
    if jumper_runs(facts):
        return later("hot pipe is filled from the cold side by a jumper: the heater is not joined yet")
    hot = any(side.water in ("hot", "hot return") for side in group.sides)
    return broken(
        _says(group, facts),
        severity,
        limit=scald if severity == "hazard" and hot else None,
        found=listed(f"{side.name} carries {_WATERS.get(side.water or '', side.water)}" for side in group.sides),
        needed="water fit to drink" if _spoiled(group) else "cold on the cold side, hot on the hot side",
        why=_why(group),
        mend=_mend(group, facts),
        caution=note,
    )


def _severity(group: Group, facts: Facts, scald: InForce) -> tuple[str, str]:
    """Hazard for water that is not for drinking, and for hot over the limit where people put their hands under cold."""
    if _spoiled(group):
        return "hazard", "Let nobody drink from it until it is parted and the pipe is flushed."
    if all(side.part.is_ == "hose outlet" for side in group.sides):
        return "advice", ""
    hot = [side for side in group.sides if side.side == "cold" and side.part.is_ in _TOUCHED and side.water != "mixed"]
    for side in hot:
        heater = facts.plan.parts.get(facts.traced.heated.get(side.tap, ""))
        own = heater.own if heater is not None else None
        said = own.set if isinstance(own, HeaterOwn | MixingOwn) else None
        if not isinstance(said, Quantity):
            return "correction", "How hot the water is set is not said: over 120 degF this scalds."
        if said.si > scald.number + GRACE_TEMPERATURE_C:
            rests = f" That rests on an estimate ({said.text})." if said.about else ""
            return "hazard", f"Water of {said.text} burns in {facts.burns_in(said.si)}.{rests}"
    return "correction", ""


def _spoiled(group: Group) -> bool:
    return group.sides[0].water == "not potable"


def _why(group: Group) -> str:
    if _spoiled(group):
        return "Water that is not for drinking makes people ill where they wash and drink."
    if any(side.side == "cold" for side in group.sides):
        return "Whoever opens the cold side gets hot water before he knows what is wrong."
    return "No hot water comes there, however long it runs."


def _says(group: Group, facts: Facts) -> str:
    if _spoiled(group):
        names = listed(dict.fromkeys(facts.part_name(side.part.id) for side in group.sides))
        return f"Water that is not for drinking comes to {names}, from {group.root[1]}."
    bits = []
    for which in ("cold", "hot"):
        mine = [side for side in group.sides if side.side == which]
        if mine:
            names = listed(dict.fromkeys(facts.part_name(side.part.id) for side in mine))
            water = _WATERS.get(mine[0].water or "", mine[0].water)
            names_of = list(dict.fromkeys(feeder(facts, side.tap) for side in mine))
            whence = names_of[0] if len(names_of) == 1 else _root_name(group)
            bits.append(f"the {which} side of {names} carries {water}, from {whence}")
    return f"{capital(', and '.join(bits))}."


def _root_name(group: Group) -> str:
    """Where it goes wrong, as it is written: a port by its manifold."""
    return f"{group.root[1]}/{group.root[3]}" if len(group.root) > 3 else str(group.root[1])


def _mend(group: Group, facts: Facts) -> str:
    whence = list(dict.fromkeys(feeder(facts, side.tap) for side in group.sides))
    if _spoiled(group):
        return f"Feed them from drinking water: nothing but toilets, urinals and marked hose outlets behind {group.root[1]}."
    if {side.side for side in group.sides} == {"cold", "hot"} and len(whence) > 1:
        return f"Swap the two at {' and '.join(whence)}, and their labels with them."
    right = group.sides[0].side
    if len(whence) > 1:
        return f"Find where {_root_name(group)} leads to them, and join it to the {right} line there."
    return f"Take {listed(side.name for side in group.sides)} off {whence[0]} and join {'them' if len(group.sides) > 1 else 'it'} to the {right} line."


def judge_heater(part: Part, facts: Facts) -> Outcome:
    """Whether a heater is fed, on its cold side."""
    name, runs = facts.part_name(part.id), joined_runs(facts, part.id)
    old = not is_new(part) and not any(is_new(facts.plan.runs[run]) for run in runs)
    if part.id in facts.network.swapped:
        if old:
            return on_site(f"existing {name}: its two sides look swapped")
        return broken(
            f"{capital(name)} is piped the wrong way round: the feed comes to {part.id}/hot, and {part.id}/cold feeds the "
            "hot pipe.",
            "correction",
            found=f"feed on {part.id}/hot",
            needed=f"feed on {part.id}/cold, hot pipe on {part.id}/hot",
            why="A tank then fills at the top and gives its hot from the bottom: lukewarm, and soon cold. A tankless one "
            "does not light.",
            mend=f"Swap the two at the heater: feed on {part.id}/cold, hot pipe on {part.id}/hot.",
        )
    if facts.network.number[f"{part.id}/cold"] in facts.traced.parents:
        return holds("its cold side is fed")
    if not any(is_joined(facts, part, side) for side in ("cold", "hot")) and facts.stage != "finished":
        return later("it is not joined yet")
    if old:
        return on_site(f"existing {name}: see what feeds it")
    return broken(
        f"No water comes to the cold side of {name}.",
        "advice" if facts.stage == "layout" else "correction",
        found=f"{part.id}/cold is not fed",
        needed="cold water from the source",
        mend=f"Join {part.id}/cold to the cold line.",
        cause=_passed_by(facts),
    )


def _passed_by(facts: Facts) -> Path | None:
    """Where it is told that cold comes to the hot pipe past the heaters, if it does."""
    groups = wrong_groups(facts, all_sides(facts))
    return next((group.root for group in groups if all(side.side == "hot" for side in group.sides)), None)


def judge_mixing(part: Part, facts: Facts) -> Outcome:
    """Whether a mixing valve in the line gets cold and hot on the sides they belong to."""
    services, number = facts.traced.services, facts.network.number
    cold, hot = (services.get(number[f"{part.id}/{side}"]) for side in ("cold", "hot"))
    if cold is None or hot is None:
        side = "cold" if cold is None else "hot"
        return broken(
            f"{capital(facts.part_name(part.id))} gets no {side} water.",
            "advice" if facts.stage == "layout" else "correction",
            found=f"no water at {part.id}/{side}",
            needed="cold and hot water",
            mend=f"Join {part.id}/{side} to the {side} line.",
        )
    if cold == "cold" and hot in ("hot", "mixed", "hot return"):
        return holds("cold and hot where they belong")
    if "not potable" in (cold, hot):
        return holds("told at the fixtures behind it")
    return broken(
        f"{capital(facts.part_name(part.id))} gets {cold} on its cold side and {hot} on its hot side.",
        "correction",
        found=f"{cold} at {part.id}/cold, {hot} at {part.id}/hot",
        needed="cold on the cold side, hot on the hot side",
        mend=f"Swap the two at {part.id}." if cold != hot else f"Bring {part.id} both waters.",
    )
