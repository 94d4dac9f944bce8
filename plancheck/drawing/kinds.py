"""The drawings there are, by the names under which one asks for them; each is imported when it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from plancheck.drawing.svg import Picture
from plancheck.facts import Facts
from plancheck.report.data import PlanReport

Maker = Callable[[Facts, PlanReport | None], tuple[Picture, ...]]


def supply(facts: Facts, report: PlanReport | None = None, key: str = "", linked: bool = False) -> Picture:
    """The one drawing of the whole supply: the isometric where at least half of the runs have a path, else the riser."""
    runs = [run for run in facts.plan.runs.values() if run.work != "removed"]
    drawn = sum(facts.geometry.corners(run) is not None for run in runs)
    if 2 * drawn >= len(runs):
        from plancheck.drawing.isometric import isometric

        return isometric(facts, report, key, linked)
    from plancheck.drawing.riser import riser

    return riser(facts, report, key, linked)


def _isometric(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    """The whole, and of a large plan its sheets; none where no run has a path, as all of it would then be made up."""
    if not any(facts.geometry.corners(run) is not None for run in facts.plan.runs.values()):
        return ()
    from plancheck.drawing.isometric import isometric
    from plancheck.drawing.sharing import shares_of

    return (isometric(facts, report), *(isometric(facts, report, share=share) for share in shares_of(facts)))


def _riser(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.riser import riser
    from plancheck.drawing.sharing import shares_of

    return (riser(facts, report), *(riser(facts, report, share=share) for share in shares_of(facts)))


def _faces(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.face import face_pictures

    return face_pictures(facts)


def _labels(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.face import strip_pictures

    return strip_pictures(facts)


def _shutoff(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.shutoffmap import shutoff_picture

    found = shutoff_picture(facts)
    return (found,) if found is not None else ()


def _pressure(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.pressure import pressure_picture

    found = pressure_picture(facts)
    return (found,) if found is not None else ()


def _showers(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    from plancheck.drawing.showers import shower_pictures

    return shower_pictures(facts)


KINDS: Mapping[str, Maker] = {
    "isometric": _isometric,
    "riser": _riser,
    "manifolds": _faces,
    "labels": _labels,
    "shutoff": _shutoff,
    "pressure": _pressure,
    "showers": _showers,
}


def all_pictures(facts: Facts, report: PlanReport | None) -> tuple[Picture, ...]:
    """Every drawing that a plan gives."""
    return tuple(picture for make in KINDS.values() for picture in make(facts, report))
