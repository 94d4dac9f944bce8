"""Judging bends: too tight for the tube, no room on their legs, unheld beside an expansion fitting; and kinks."""

from collections.abc import Sequence

from plancheck.answers import GRACE_LENGTH_M, at_least, broken, capital, length, on_site
from plancheck.bends import Bent, Corner, lacking, leg_of
from plancheck.facts import Facts
from plancheck.limits import InForce, NotShown
from plancheck.measures import Length
from plancheck.model import Bends, Path, Run, Tube
from plancheck.outcomes import Outcome


def judge_kink(run: Run, tube: Tube) -> Outcome:
    """A kink noted along a run of new tube."""
    if tube.material == "PEX-A":
        return on_site("a kink in PEX-A may be re-formed with hot air, never a flame, if the tube's maker says so")
    if tube.material == "PEX":
        raise NotShown(
            ("tubes", tube.id, "material"), "its letter on the print: a kink may be re-formed in PEX-A alone"
        )
    return broken(
        f"{run.id} is kinked; {tube.material} does not take its shape back.",
        "correction",
        found="a kink left in the tube",
        needed="round tube: a kinked piece of this type is cut out (a tube maker's manual, read)",
        mend="Cut the kink out and join with a coupling where one can get at it, or pull a new length.",
    )


def judge_radius(
    name: str, corner: Corner, radius: Length, limits: Sequence[InForce], times: float, facts: Facts
) -> Outcome | None:
    """Broken by the first limit, in outside diameters, that times the radius falls short of; None where it will do.

    The first limit makes a correction, the others advice. times: how much more is wanted against the set of the coil.
    """
    outside_m = corner.of.outside_m or 0.0
    for limit in limits:
        least_m = limit.number * times * outside_m
        if radius.m < least_m - GRACE_LENGTH_M - 1e-12:
            return _too_tight(
                name, corner, radius, least_m, limit, "correction" if limit is limits[0] else "advice", facts
            )
    return None


def _too_tight(
    name: str, corner: Corner, radius: Length, least_m: float, limit: InForce, severity: str, facts: Facts
) -> Outcome:
    against = corner.bend is not None and corner.bend.against is True
    coil = " against the set of the coil" if against else ""
    needed, found = facts.length(least_m), facts.length(radius.m)
    diameters = least_m / corner.of.outside_m if corner.of.outside_m else 0.0
    return broken(
        f"{capital(name)} has a radius of {found}{coil}; this {corner.of.tube.material} wants {needed}.",
        severity,
        measured=length(radius.m),
        limit=limit,
        found=found,
        needed=f"at least {needed} ({diameters:.4g} outside diameters{coil})",
        mend=f"Sweep it at {needed} or more, or turn there with an ell or a rigid bend support.",
        cause=_first_of_all(corner.of, corner.number),
        estimate=radius.text if radius.about else "",
    )


def _first_of_all(bent: Bent, number: int) -> Path | None:
    """Where one key says how all bends of a run are made, the first bend speaks and the others follow."""
    if type(bent.run.bends) is not Bends or bent.run.bends.each is not None:
        return None
    first = next((one for one in range(1, number) if one not in bent.fittings), None)
    return ("runs", bent.run.id, "bends", first - 1) if first is not None else None


def judge_hot(name: str, corner: Corner, radius: Length, limit: InForce, facts: Facts) -> Outcome:
    """A bend formed hot: only the tube's maker can allow it, for PEX-A and down to the limit in outside diameters."""
    material, outside_m = corner.of.tube.material, corner.of.outside_m or 0.0
    least_m, allowed = limit.number * outside_m, material == "PEX-A"
    if allowed and at_least(radius.m, least_m, GRACE_LENGTH_M):
        return on_site(f"hot-formed at {radius.text}: only as the tube's maker says, with hot air and no flame")
    least = f"it wants {facts.length(least_m)}" if allowed else f"makers allow that for PEX-A at most, not {material}"
    return broken(
        f"{capital(name)} is formed hot at {radius.text}; {least}.",
        "advice",
        measured=length(radius.m),
        limit=limit if allowed else None,
        found=f"hot-formed, {radius.m / outside_m:.2g} outside diameters" if outside_m else "hot-formed",
        needed="a cold bend, a fitting or a rigid bend support",
        mend="Cut it out and sweep it cold as wide as this tube wants, or turn there with an ell or a rigid bend support.",
        estimate=radius.text if radius.about else "",
    )


def judge_room(name: str, corner: Corner, radius: Length, facts: Facts) -> Outcome | None:
    """Broken where a leg beside the corner has no room for its bends; None where both have."""
    lack = lacking(corner, GRACE_LENGTH_M)
    if lack is None:
        return None
    leg, mine = facts.length(lack.leg_m), facts.length(lack.mine_m)
    shared = f" together with the bend next to it ({facts.length(lack.other_m)})" if lack.other_m else ""
    item, shape = leg_of(corner, lack.side), corner.of.shape
    about = f"the path of {corner.of.run.id}" if shape is not None and shape.about else ""
    return broken(
        f"{capital(name)} at {facts.length(radius.m)} does not fit: the leg {lack.side} it is {leg}.",
        "advice",
        measured=length(lack.leg_m),
        found=f"{leg} of straight {lack.side} the corner",
        needed=f"{mine} for this bend{shared}",
        mend=f"Make that leg {facts.length(lack.mine_m + lack.other_m)}, or turn there with an ell or a rigid bend support.",
        at=("runs", corner.of.run.id, "path", item) if item is not None else None,
        estimate=radius.text if radius.about else about,
    )


def judge_unheld(name: str, straight_m: float, limit: InForce, facts: Facts) -> Outcome | None:
    """One maker's word on expansion fittings: a bend that begins near one is held."""
    if at_least(straight_m, limit.number, GRACE_LENGTH_M):
        return None
    return broken(
        f"{capital(name)} begins {facts.length(max(straight_m, 0.0))} from an expansion fitting and nothing holds it.",
        "advice",
        measured=length(straight_m),
        limit=limit,
        needed=f"a support at the bend, or {facts.length(limit.number)} of straight before it",
        mend="Strap the tube on both sides of the bend, or set a rigid bend support.",
    )
