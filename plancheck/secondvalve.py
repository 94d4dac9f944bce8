"""The valve behind the first, for the day the first will not close."""

from __future__ import annotations

from plancheck.answers import broken, holds, is_new
from plancheck.facts import Facts
from plancheck.kinds import TUBS_AND_SHOWERS
from plancheck.limits import NotShown
from plancheck.model import FixtureOwn
from plancheck.outcomes import Outcome
from plancheck.ownvalve import NO_CODE, is_alone
from plancheck.shutoffs import Chain
from plancheck.valves import listed


def judge_behind(facts: Facts) -> Outcome:
    """Once for the house: the new outlets behind whose own first valve stands only the main."""
    shutoffs, sides, missing = facts.shutoffs, [], None
    for side in facts.network.outlets:
        chain = shutoffs.chain_of_side(side)
        if chain is None or not _only_the_main(side, chain, facts):
            continue
        unsaid = shutoffs.unsaid_valve(side)
        if unsaid is None:
            sides.append(side)
        missing = missing or unsaid
    if not sides and missing is not None:
        raise NotShown(missing, "whether a valve stands there: then the main is not the next one")
    if not sides:
        return holds("behind the valve of each outlet stands another one before the main")
    firsts = [chain.valves[0] for side in sides if (chain := shutoffs.chain_of_side(side)) is not None]
    return broken(
        f"Should the first valve not close, the next one is the main of the house for {listed(sides)}.",
        "advice",
        found=f"only the main behind the first valve of {', '.join(sides)}",
        needed="nothing by code; another valve between",
        why="On the day a stop or port valve will not close, the whole house goes dry until it is changed.",
        mend=f"Put {_second_valve([shutoffs.is_port(first) for first in firsts])}, where that would hurt.",
        ask=NO_CODE,
    )


def _only_the_main(side: str, chain: Chain, facts: Facts) -> bool:
    """Whether behind the first valve of a new outlet, which is its own, stands only the main."""
    mains, part = facts.shutoffs.mains, facts.plan.parts[side.partition("/")[0]]
    if len(chain.valves) < 2 or chain.valves[1] not in mains or chain.valves[0] in mains:
        return False
    if not is_new(part) or not isinstance(part.own, FixtureOwn):
        return False
    return part.is_ in TUBS_AND_SHOWERS or is_alone(part.id, chain.zones.dry[chain.valves[0]])


def _second_valve(on_ports: list[bool]) -> str:
    """What to add; on_ports: for each such outlet whether its first valve is that of a manifold port."""
    ways = []
    if any(on_ports):
        ways.append("stops at the outlets that hang on a port valve alone")
    if not all(on_ports):
        ways.append("a ball valve on the branch, ahead of the stops")
    return ", or ".join(ways)
