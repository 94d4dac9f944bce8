"""Taking metal pipe out may take the ground away

Looks at: whether metal pipe is cut out, a service becomes plastic, or old metal pipe is left hanging between plastic, and what
    the house's wiring is grounded to (`job: electrode`). Copper stubs, connectors and single fittings are no piping.
Why: in many old houses the water pipe in the earth is what the wiring is grounded to. Cut it, and the case of the next
    faulty appliance stands under full voltage, the shower's valve with it.
To mend: stop; an electrician sets another electrode or a jumper first, then the pipe is cut.
Cannot see: the clamp on the pipe, the wire to it, the neighbour's ground that comes in by the street main. No plumber's rule
    can judge wiring: most of this is for an electrician on site.
Ask: an electrician, before anything is cut; the power company, where its neutral uses the pipe.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    FOOT_M,
    GRACE_LENGTH_M,
    INCH_M,
    METAL,
    NOT_KNOWN,
    PLASTIC,
    Facts,
    Limit,
    Limits,
    Measured,
    Outcome,
    Rule,
    Subject,
    Value,
    at_least,
    at_most,
    broken,
    holds,
    is_new,
    length,
    on_site,
    printed,
    tube_of,
)

if TYPE_CHECKING:
    from plancheck.ground import Piece

_IRC = printed("IRC", "2009", "E3608.1.1")
_KEPT = "another electrode before a metal service that serves as one is replaced"
ELECTRODE = Limit(
    "electrode",
    "metal water pipe that is the house's ground",
    "text",
    "",
    irc=(Value(_KEPT, _IRC),),
    upc=(Value(_KEPT, printed("UPC, local copies", "1997", "604.8")),),
    practice=(Value(_KEPT, _IRC, practice=True),),
)
FLOATING = Limit(
    "floating",
    "old metal pipe cut off between plastic",
    "length",
    "at most",
    practice=(Value(10 * FOOT_M, _IRC, practice=True),),
)
WITHIN = Limit(
    "within",
    "metal that stays whole inside from where the service comes in",
    "length",
    "at least",
    practice=(Value(5 * FOOT_M, _IRC, practice=True),),
)
RULE = Rule("hazard", "layout", (ELECTRODE, FLOATING, WITHIN))

_ASK = "ask an electrician before cutting"


def subjects(facts: Facts) -> Iterator[Subject]:
    """The ground of the house, where metal goes or plastic comes into it; then each old piece that is cut off."""
    electrode = facts.plan.job.electrode
    removed, old, inside, plastic_comes = _works(facts)
    if not (removed or inside or plastic_comes or (old and electrode == "water pipe")):
        return
    if not removed and not old and electrode is None:  # a new house
        return
    from plancheck.ground import is_new_plastic, pieces, services

    plastic = next((run for run in services(facts) if is_new_plastic(run, facts)), None)
    reached = plastic is not None or _metal_service(facts)  # else old plastic had cut it off long ago
    left = [one for one in pieces(facts) if one.cut and not one.earth] if old and reached else []
    if removed or plastic is not None or (electrode == "water pipe" and old):
        yield Subject(("job", "electrode"), "the ground of the house", None, (plastic, left))
    for piece in left:
        first = piece.runs[0]
        yield Subject(("runs", first), f"old metal from {first} on", facts.run_place(first), piece)


def _works(facts: Facts) -> tuple[bool, bool, bool, bool]:
    """Whether metal pipe is cut out, whether old one stays, whether any of that is not the service, and whether a new
    service is of plastic."""
    parts = facts.plan.parts
    removed = old = inside = plastic = False
    for run in facts.plan.runs.values():
        tube = tube_of(run, facts.plan)
        if tube is None or tube.form == "connector":
            continue
        service = run.from_ is not None and parts[run.from_.part].is_ == "source"
        if tube.material in METAL:
            removed, old = removed or run.work == "removed", old or run.work == "existing"
            inside = inside or (run.work == "existing" and not service)
        plastic = plastic or (service and is_new(run) and tube.material in PLASTIC)
    return removed, old, inside, plastic


def _metal_service(facts: Facts) -> bool:
    """Whether metal leads into the earth at all: else nothing new is cut off from it."""
    from plancheck.ground import is_metal, services

    return any(is_metal(run, facts) for run in services(facts))


def _is_long(piece: "Piece", limits: Limits) -> bool:
    """Whether a piece is, or may be, longer than what is let pass."""
    return piece.length_m is None or not at_most(piece.length_m, limits.of(FLOATING).number, GRACE_LENGTH_M)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the ground of the house is kept; nearly all of it is for an electrician."""
    if subject.path[0] == "runs":
        return _left(subject.thing, facts, limits)
    plastic, left = subject.thing
    electrode = facts.plan.job.electrode
    if electrode in ("rods", "other"):
        other = "rods" if electrode == "rods" else "something else"
        if any(_is_long(piece, limits) for piece in left):
            return on_site(f"grounded to {other}, but old metal pipe is left between plastic: {_ASK}{_claims(facts)}")
        return holds(f"grounded to {other}, and no long pipe left between plastic")
    if electrode in (None, NOT_KNOWN):
        said = "nobody knows" if electrode == NOT_KNOWN else "the plan does not say"
        return on_site(f"{said} what the wiring is grounded to: {_ASK}{_claims(facts)}")
    if plastic is not None:
        says = f"The water pipe is the house's ground electrode, and the new service {plastic.id} is plastic."
        return _cut(says, f"{plastic.id} in plastic", facts, limits)
    from plancheck.ground import metal_inside_m

    near = metal_inside_m(facts)
    least = limits.of(WITHIN)
    if near is not None and not at_least(near[0], least.number, GRACE_LENGTH_M):
        inside = facts.length(near[0])
        where = f"{inside} from where the service ends" if near[0] > GRACE_LENGTH_M else "right where the service ends"
        says = (
            f"The water pipe is the house's ground electrode, and {near[1]} cuts it {where}; "
            f"the first {facts.length(least.number)} inside belong to it."
        )
        return _cut(says, f"plastic {inside} inside", facts, limits)
    return on_site(f"the water pipe is the ground electrode: look where its clamp sits, and {_ASK}{_claims(facts)}")


def _cut(says: str, found: str, facts: Facts, limits: Limits) -> Outcome:
    claims = _claims(facts)
    return broken(
        says,
        "hazard",
        measured=Measured("water pipe", "text"),
        limit=limits.maybe(ELECTRODE),
        found=found,
        needed=_KEPT,
        mend=f"Stop: an electrician sets another electrode first (two rods {facts.length(72 * INCH_M)} apart are usual); keep the "
        "jumper on what metal stays. Then write `electrode: rods`.",
        caution=f"Wiring is no plumber's trade; nothing here says that it is safe.{claims}",
    )


def _left(piece: "Piece", facts: Facts, limits: Limits) -> Outcome:
    if not _is_long(piece, limits):
        return holds("short", length(piece.length_m or 0.0), limits.of(FLOATING))
    how_long = facts.length(piece.length_m) if piece.length_m is not None else "of a length that nobody measured"
    return on_site(
        f"old metal pipe ({', '.join(piece.runs[:3])}), {how_long}, hangs between plastic: it may want bonding again; "
        f"{_ASK}{_claims(facts)}"
    )


def _claims(facts: Facts) -> str:
    """The claims that speak of bonding, as what they are."""
    words = ("bond", "ground", "electro")
    found = [
        f'{one.id}: "{one.says}"'
        for one in facts.plan.claims.values()
        if any(word in f"{one.id} {one.says or ''}".lower() for word in words)
    ]
    return f"; claimed: {', '.join(found)}" if found else ""
