"""What limits the hot water of a fixture before it comes there: a mixing valve in the line, or a heater made for it."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import NONE, NOT_KNOWN, HeaterOwn, MixingOwn
from plancheck.standards import numbers_in

_2021 = 2021


def limited_by(facts: Facts, fixture: str) -> str:
    """What limits a fixture's hot water, in words; empty where nothing does that the code of the job takes.

    A valve to ASSE 1070 before it; a heater to ASSE 1084 (IPC from 2021, and UPC) or ASSE 1082 (IPC from 2021 alone).
    """
    heater = facts.traced.heated.get(facts.network.outlets.get(f"{fixture}/hot", -1))
    own = facts.plan.parts[heater].own if heater is not None else None
    standard = own.standard if isinstance(own, HeaterOwn | MixingOwn) else None
    if standard is None or standard in (NONE, NOT_KNOWN) or heater is None:
        return ""
    numbers = numbers_in(standard)
    if isinstance(own, MixingOwn):
        return f"{heater}, {standard}" if "1070" in numbers else ""
    new_ipc = facts.family == "ipc" and (facts.edition is None or facts.edition >= _2021)
    taken = {"1082", "1084"} if new_ipc else {"1084"} if facts.family == "upc" else set()
    return f"{heater}, {standard}" if numbers & taken else ""
