"""Where the pressure goes: the loss of a route told apart as service, trunk, manifold, heater and branch."""

from collections.abc import Mapping, Sequence

from plancheck.facts import Facts
from plancheck.flow.asked import Step
from plancheck.flow.flow import Flow

SERVICE, TRUNK, MANIFOLD, HEATER, BRANCH = "service and meter", "trunk", "manifold", "heater", "branch"
PARTS = (SERVICE, TRUNK, MANIFOLD, HEATER, BRANCH)


def split_loss(flow: Flow, route: Sequence[Step], manifold: str | None = None) -> dict[str, float]:
    """Head lost on a route, m, by part of the way. manifold: the only one that counts as such; its fellows are trunk.

    Service: all up to the last of meter, regulator and main valve; branch: all behind the last manifold, or the last run
    where there is none; trunk: what lies between.
    """
    pieces = flow.house.pieces
    kinds = [pieces[step.edge].kind for step in route]
    entry = _entry(flow.facts, flow, route)
    tail = max(
        (place for place, kind in enumerate(kinds) if kind == "manifold" or _port(flow, route[place])), default=-1
    )
    if tail < 0:
        tail = max((place for place, kind in enumerate(kinds[:-1]) if kind == "run"), default=-1)
    found = dict.fromkeys(PARTS, 0.0)
    for place, step in enumerate(route):
        part = _part(kinds[place], place, entry, tail)
        if part == MANIFOLD and manifold is not None and pieces[step.edge].thing != manifold:
            part = TRUNK
        found[part] += step.loss_m
    return found


def _part(kind: str, place: int, entry: int, tail: int) -> str:
    if place <= entry:
        return SERVICE
    if kind in ("manifold", "heater"):
        return kind
    if place > tail:
        return BRANCH
    return TRUNK


def _port(flow: Flow, step: Step) -> bool:
    name = flow.house.pieces[step.edge].thing
    part = flow.facts.plan.parts.get(name.partition("/")[0])
    return flow.house.pieces[step.edge].kind == "valve" and part is not None and part.is_ == "manifold"


def _entry(facts: Facts, flow: Flow, route: Sequence[Step]) -> int:
    """The last step of the service: the meter, the regulator or the main valve, whichever comes last."""
    main = facts.main_valve
    found = -1
    for place, step in enumerate(route):
        piece = flow.house.pieces[step.edge]
        if piece.kind in ("service", "meter", "regulator") or (main is not None and piece.thing == main):
            found = place
    return found


def shares(losses: Mapping[str, float]) -> dict[str, float]:
    """Each part of a loss as a share of the whole."""
    total = sum(losses.values())
    return {name: loss / total if total > 0 else 0.0 for name, loss in losses.items()}
