"""The cautions printed with every report, and those that apply to what a plan has. In our own words; no number judged."""

from __future__ import annotations

from plancheck.facts import Facts

ALWAYS = (
    (
        "This report checks a description, not an installation. It is no approval, no permit and no test certificate; "
        "what the plan does not show is never counted as right."
    ),
    "The local authority decides. Its edition and amendments may differ from the limits named here; follow them.",
    "Plumbing is licensed work in most places: have a licensed plumber look at the plan before it is built.",
    (
        "The makers' instructions for tube, fittings and devices are part of their listing; where they are stricter they "
        "win. Never mix the rings, fittings and tools of different joining systems."
    ),
    (
        "Before work on a live system: shut the water off and secure it, let the pressure out, turn the heater's fuel or "
        "power off and let it cool. Never power a heater that is not full."
    ),
)
HEATERS = (
    (
        "Hot water scalds in seconds. The temperature at an outlet is limited by a listed device set and measured on "
        "site; a heater's thermostat is not such a device."
    ),
    (
        "Every storage heater needs a working temperature and pressure relief valve with an open, full-size discharge: "
        "never plug it, never put a valve on it. A closed system needs room for expansion."
    ),
)
TESTS = (
    (
        "Test with care: compressed air stores energy and throws parts. Air on plastic only where the code and the makers "
        "of tube and fittings all allow it; keep clear of the pipe."
    ),
)
POTABLE = "All that touches drinking water must be lead-free and listed for it; flush, and disinfect where required."
CROSS = "Where irrigation, boilers, softeners or wells meet the system, have a backflow specialist look at it."
GROUND = "Metal pipe may be the house's electrical ground or bonded to it: ask an electrician before cutting it."
ESTIMATES = "What rests on an estimate or a reading is only as good as that figure: measure again on site."


def cautions_for(facts: Facts) -> tuple[str, ...]:
    """The cautions that apply to the plan, the general ones first."""
    plan = facts.plan
    found = list(ALWAYS)
    kinds = {part.is_ for part in plan.parts.values()}
    if "water heater" in kinds:
        found.extend(HEATERS)
    if plan.tests:
        found.extend(TESTS)
    found.append(POTABLE)
    if kinds & {"softener", "backflow preventer"} or any(
        getattr(part.own, "serves", None) is not None for part in plan.parts.values()
    ):
        found.append(CROSS)
    works = {run.work for run in plan.runs.values()} | {part.work for part in plan.parts.values()}
    if works & {"removed", "existing"}:
        found.append(GROUND)
    found.append(ESTIMATES)
    return tuple(found)
