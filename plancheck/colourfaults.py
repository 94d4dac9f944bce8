"""What is said of a run whose tube has the wrong colour or print for its water."""

from __future__ import annotations

from plancheck.answers import broken
from plancheck.colours import FITS, Colours, heating_tube
from plancheck.limits import InForce
from plancheck.model import NONE, Path, Run, Tube
from plancheck.network.trace import Carried
from plancheck.outcomes import Measured, Outcome

Thing = tuple[Run, Tube, Carried, Colours]

_CROSSED = (
    "A cross-connection can make people ill: have the authority look at any pipe for reclaimed water in the house."
)


def on_purple(thing: Thing, limit: InForce, cause: Path | None) -> Outcome:
    """Purple tube on drinking water."""
    return broken(
        f"{thing[0].id} is purple and carries {thing[2].service} drinking water.",
        "hazard",
        measured=Measured("purple", "text"),
        limit=limit,
        found="purple tube on drinking water",
        needed="any colour but purple, which marks reclaimed water",
        why="Whoever works here next takes purple for reclaimed water, and joins reclaimed water to it.",
        mend="Pull it out and run tube of another colour; keep purple for reclaimed water. A potable mark on its print "
        "does not help: nobody reads it in a wall.",
        caution=_CROSSED,
        cause=cause,
    )


def on_barred(thing: Thing, fault: str, limit: InForce, potable: InForce, cause: Path | None) -> Outcome:
    """Tube whose own print says that it is for something else."""
    reclaimed = fault == "reclaimed"
    marks = ", ".join(thing[1].print) if isinstance(thing[1].print, tuple) else ""
    return broken(
        f"{thing[0].id} carries {thing[2].service} drinking water in tube whose print says it is for other use: {marks}.",
        "hazard" if reclaimed else "correction",
        measured=Measured(marks, "text"),
        limit=limit,
        found=f"printed {marks}",
        needed="tube that is not marked for reclaimed water" if reclaimed else str(potable.value),
        why="Whoever reads it takes the pipe for reclaimed water, and joins reclaimed water to it."
        if reclaimed
        else "Tube that is not meant for drinking water is not tested for what it gives off into it.",
        mend="Pull it out and run tube that prints a potable mark, whatever its colour.",
        caution=_CROSSED if reclaimed else "",
        cause=cause,
    )


def on_heating(thing: Thing, limit: InForce, cause: Path | None) -> Outcome:
    """Tube made for heating on drinking water, without a mark for that."""
    mark = "there is no print on it" if thing[1].print == NONE else "its print shows no potable mark"
    barrier = heating_tube(thing[1]) or ""
    return broken(
        f"{thing[0].id} is {barrier} on drinking water, and {mark}.",
        "correction",
        measured=Measured(thing[1].colour or "", "text"),
        limit=limit,
        found=f"{barrier.strip(',')}; {mark}",
        needed=str(limit.value),
        why="Tube made for heating is not tested for what it gives off into drinking water.",
        mend=f"Use tube that prints a potable mark; if '{thing[1].id}' does, write its whole print line in the plan.",
        cause=cause,
    )


def on_drinking_colour(thing: Thing, limit: InForce, cause: Path | None) -> Outcome:
    """Water that is not for drinking in a colour of drinking water."""
    colour = thing[1].colour or ""
    return broken(
        f"{thing[0].id} carries water that is not for drinking in {colour} tube.",
        "advice",
        measured=Measured(colour, "text"),
        limit=limit,
        found=f"{colour} tube on water that is not for drinking",
        needed="colour and words that tell it from drinking water; purple for reclaimed water",
        why="In the colour of drinking water the next tee goes in for drinking.",
        mend=f"Use purple tube where the water is reclaimed; else mark the run: {limit.value}.",
        cause=cause,
    )


def on_habit(thing: Thing, limit: InForce, cause: Path | None) -> Outcome:
    """Red on cold or blue on hot."""
    service, colour = thing[2].service or "", thing[1].colour or ""
    other = "cold" if colour == "blue" else "hot"
    port = thing[2].circuit or "the joint it starts from"
    return broken(
        f"{thing[0].id} is {colour} but carries {service}.",
        "advice",
        measured=Measured(colour, "text"),
        limit=limit,
        found=f"{colour} tube, traced {service}",
        needed=f"{FITS[service][0]}, white or natural; no code asks for it, people go by it",
        why="Whoever opens the wall in ten years goes by the colour, and lines crossed at a manifold are found by it.",
        mend=f"If {thing[0].id} should carry {other}, its ends are crossed: swap them at {port}. Else change the "
        "tube, or mark both ends.",
        cause=cause,
    )
