"""Pipe is held often enough, by things that do not hurt it

Looks at: the real gaps between supports along each new run, level and upright parts apart (steeper than 45 degrees is
    upright), against the table of the code for its material and size; guides halfway up risers; how far the first
    support is from a fitting or corner; and what kind of support it is.
Why: a run that hangs sags, knocks when a valve snaps shut, wears through where it rubs and works at its joints. A clamp
    that grips too tightly, or bare metal edges, cut into plastic that must slide.
To mend: add supports at the distances named, made for this pipe; set a guide halfway up where the risers are long.
Cannot see: whether a strap is tight or has come loose, and supports that the plan does not list. Good practice holds
    risers of PEX every 4 ft.
Ask: the makers' sheet may ask for less distance than the code; the inspector measures with a tape.
"""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    NONE,
    Bends,
    Facts,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Run,
    Shape,
    Subject,
    Supports,
    Tube,
    Value,
    at_most,
    broken,
    estimates,
    holds,
    is_new,
    is_plastic,
    on_site,
    printed,
    recalled,
    tube_of,
    tube_outside_m,
)

_IN, _FT = 0.0254, 0.3048
_IRC = printed("IRC", "2018", "Table P2605.1")
_IPC = recalled("IPC", "2015", "Table 308.5")
_IPC_OLD = recalled("IPC", "2012", "Table 308.5")
_UPC = printed("UPC", "2018", "Table 313.3")
_NOTE_B = recalled("IRC", "2018", "Table P2605.1 note b")


def _level(id_: str, title: str, irc_m: float, upc_m: float, ipc_old_m: float | None = None) -> Limit:
    ipc: tuple[Value, ...] = (Value(irc_m, _IPC, since=2015),)
    if ipc_old_m is not None:
        ipc = (Value(ipc_old_m, _IPC_OLD), *ipc)
    return Limit(id_, title, "length", "at most", irc=(Value(irc_m, _IRC),), ipc=ipc, upc=(Value(upc_m, _UPC),))


PEX_SMALL = _level("pex_level", "PEX and PE-RT to 1 in, level", 32 * _IN, 32 * _IN)
PEX_LARGE = _level("pex_level_large", "PEX and PE-RT from 1-1/4 in, level", 4 * _FT, 4 * _FT, 32 * _IN)
PEX_AL = _level("pex_al_level", "PEX-AL-PEX, level", 32 * _IN, 98 * _IN)
CPVC_SMALL = _level("cpvc_level", "CPVC to 1 in, level", 3 * _FT, 3 * _FT)
CPVC_LARGE = _level("cpvc_level_large", "CPVC from 1-1/4 in, level", 4 * _FT, 4 * _FT)
COPPER_SMALL = _level("copper_level", "copper tube to 1-1/4 in, level", 6 * _FT, 6 * _FT)
COPPER_MIDDLE = _level("copper_level_middle", "copper tube of 1-1/2 in, level", 10 * _FT, 6 * _FT)
COPPER_LARGE = _level("copper_level_large", "copper tube from 2 in, level", 10 * _FT, 10 * _FT)
UPRIGHT = _level("upright", "upright pipe; UPC: at the base and each floor, a storey taken as 10 ft", 10 * _FT, 10 * _FT)
PEX_AL_UPRIGHT = _level("pex_al_upright", "PEX-AL-PEX, upright; UPC: at each floor", 4 * _FT, 10 * _FT)
GUIDE = Limit(
    "guide",
    "upright plastic to 2 in: support or guide, halfway between supports",
    "length",
    "at most",
    irc=(Value(5 * _FT, _NOTE_B),),
    ipc=(Value(5 * _FT, recalled("IPC", "2015", "Table 308.5 note")),),
    upc=(Value(5 * _FT, _UPC),),
)
HALF = Limit(
    "half_span",
    "from a fitting, an end or a corner to the first support, in spans",
    "spans",
    "at most",
    practice=(Value(0.5, printed("a tube maker's design manual", "", "supports at fittings"), practice=True),),
)
KIND = Limit(
    "kind",
    "supports do not compress, cut or abrade the tube",
    "text",
    "",
    irc=(Value("no compressing, cutting or abrading", printed("IRC", "", "P2605.1")),),
    practice=(Value("made for plastic", printed("24 CFR 3280.608 and tube makers' manuals", "", "hangers"), practice=True),),
)
RULE = Rule(
    highest="correction",
    stage="rough-in",
    limits=(
        PEX_SMALL, PEX_LARGE, PEX_AL, CPVC_SMALL, CPVC_LARGE, COPPER_SMALL, COPPER_MIDDLE, COPPER_LARGE,
        UPRIGHT, PEX_AL_UPRIGHT, GUIDE, HALF, KIND,
    ),
)  # fmt: skip

_TIGHT = ("tight clamp", "bent nail", "wire tie")
_BARE_METAL = ("metal strap", "metal hanger", "copper strap", "copper hanger")
_LAID = ("slab", "ground")


class Extent(NamedTuple):
    """How much of a run lies level and stands upright, metres; sure: whether the split is known."""

    level_m: float
    upright_m: float
    sure: bool
    estimate: str


class Question(NamedTuple):
    """One question on one run: level, upright, guides, ends or kind."""

    what: str
    run: Run
    tube: Tube
    shape: Shape | None
    extent: Extent | None


class Gap(NamedTuple):
    """A gap between supports: how long, where it begins along the run."""

    length_m: float
    start_m: float


def subjects(facts: Facts) -> Iterator[Subject]:
    """The questions that each new run raises: none for connectors, pipe laid in slab or ground, and short stubs."""
    for run in facts.plan.runs.values():
        tube = tube_of(run, facts.plan)
        if run.work == "removed" or tube is None or tube.form == "connector" or not _tabled(tube):
            continue
        places = [facts.plan.places[name] for name in facts.run_places(run.id) if name in facts.plan.places]
        if isinstance(run.cover, Length) or (places and all(place.is_ in _LAID for place in places)):
            continue
        shape = facts.geometry.shapes.get(run.id)
        extent = _extent(run, shape)
        whole = not is_new(run) or run.fished is True  # one line for a person on site, not five
        for what in ("supports",) if whole else _questions(tube, extent):
            thing = Question(what, run, tube, shape, extent)
            yield Subject(("runs", run.id, "supports"), f"{what} of {run.id}", places[-1].id if places else None, thing)


def _tabled(tube: Tube) -> bool:
    return tube.material in ("copper", "CPVC") or (is_plastic(tube) and tube.material not in ("PVC", "PE", "polybutylene", "PP"))


def _extent(run: Run, shape: Shape | None) -> Extent | None:
    if shape is not None:
        level = shape.length_m - shape.upright_m
        return Extent(level, shape.upright_m, True, f"the path of {run.id}" if shape.about else "")
    if not isinstance(run.length, Length):
        return None
    upright = run.upright.m if isinstance(run.upright, Length) else abs(run.rise.m) if isinstance(run.rise, Length) else 0.0
    sure = isinstance(run.upright, Length) or isinstance(run.rise, Length)
    level = max(0.0, run.length.m - upright)
    return Extent(level, min(upright, run.length.m), sure, estimates(run.length, run.rise, run.upright))


_STUB_M = 16 * _IN  # held by what it is joined to: half of the smallest span of the tables


def _questions(tube: Tube, extent: Extent | None) -> Iterator[str]:
    if extent is not None and extent.level_m + extent.upright_m <= _STUB_M + GRACE_LENGTH_M:
        return
    if extent is None or extent.level_m > _STUB_M or not extent.upright_m:
        yield "level supports"
    if extent is not None and extent.upright_m > _STUB_M:
        yield "upright supports"
        if is_plastic(tube) and extent.upright_m > 5 * _FT + GRACE_LENGTH_M:
            yield "guides"
    yield "first supports"
    if is_plastic(tube):
        yield "kind of supports"


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question on one run."""
    question: Question = subject.thing
    run = question.run
    if not is_new(run):
        return on_site("existing pipe: whether it is held and the straps do not cut it")
    if run.fished is True:
        return on_site("drawn through closed framing: hold it where it comes out")
    supports = run.supports
    if supports is None or (isinstance(supports, str) and supports != NONE):
        raise NotShown(("runs", run.id, "supports"), "what holds the run and how often")
    said = supports if isinstance(supports, Supports) else Supports(every=None)
    if question.what == "kind of supports":
        return _kind(question, said, limits)
    if supports == NONE:
        return _nothing(question, facts, limits)
    if question.what == "guides":
        return _guides(question, said, facts, limits)
    if question.what == "first supports":
        return _first(question, said, facts, limits)
    return _spacing(question, said, facts, limits)


def _limit(question: Question, limits: Limits) -> InForce:
    """The row of the table for the tube and the way it runs."""
    return _row(question.tube, question.what in ("upright supports", "guides"), limits)


def _row(tube: Tube, upright: bool, limits: Limits) -> InForce:
    outside = tube_outside_m(tube)
    if upright:
        return limits.of(PEX_AL_UPRIGHT if tube.material == "PEX-AL-PEX" else UPRIGHT)
    if tube.material == "PEX-AL-PEX":
        return limits.of(PEX_AL)
    if outside is None:
        raise NotShown(("tubes", tube.id, "size"), "the size of the tube")
    inches = outside / _IN - 0.125  # the nominal size that goes with the outside diameter
    if tube.material == "copper":
        return limits.of(COPPER_SMALL if inches < 1.4 else COPPER_MIDDLE if inches < 1.9 else COPPER_LARGE)
    if tube.material == "CPVC":
        return limits.of(CPVC_SMALL if inches < 1.2 else CPVC_LARGE)
    return limits.of(PEX_SMALL if inches < 1.2 else PEX_LARGE)


def _nothing(question: Question, facts: Facts, limits: Limits) -> Outcome:
    limit = _limit(question, limits)
    extent = question.extent
    if question.what == "first supports":
        return holds("judged with the supports themselves")
    if extent is None:
        raise NotShown(("runs", question.run.id, "length"), "how long the run is")
    part = extent.level_m if question.what == "level supports" else extent.upright_m
    if at_most(part, limit.number, GRACE_LENGTH_M):
        return holds("shorter than one span", Measured(part, "length"), limit, extent.estimate)
    return _too_far(question, Gap(part, 0.0), limit, facts, f"nothing holds {question.run.id}", extent.estimate)


def _spacing(question: Question, said: Supports, facts: Facts, limits: Limits) -> Outcome:
    limit = _limit(question, limits)
    if isinstance(said.at, tuple):
        return _measured(question, said.at, limit, facts)
    every = said.every if question.what == "level supports" or said.risers is None else said.risers
    key = "risers" if every is said.risers and said.risers is not None else "every"
    if not isinstance(every, Length):
        raise NotShown(("runs", question.run.id, "supports", key), "the largest gap between supports")
    if at_most(every.m, limit.number, GRACE_LENGTH_M):
        return holds(f"every {every.text}", Measured(every.m, "length"), limit, estimates(every))
    longest = _longest(question, question.what == "upright supports")
    if longest is None:
        raise NotShown(("runs", question.run.id, "length"), "how long the run is: its supports are further apart than the span")
    if at_most(longest, limit.number, GRACE_LENGTH_M):
        return holds("shorter than one span", Measured(longest, "length"), limit)
    extent = question.extent
    if extent is not None and not extent.sure:
        raise NotShown(("runs", question.run.id, "rise"), "how much of the run is level and how much upright")
    gap = Gap(min(every.m, longest), 0.0)
    return _too_far(question, gap, limit, facts, f"{question.run.id} is held every {facts.length(every.m)}", estimates(every))


def _longest(question: Question, upright: bool) -> float | None:
    """The longest straight that stands upright, or lies level; all of it where the path is not drawn."""
    if question.shape is not None:
        return max((s.length_m for s in question.shape.stretches if s.upright == upright), default=0.0)
    if question.extent is None:
        return None
    return question.extent.upright_m if upright else question.extent.level_m


def _measured(question: Question, at: tuple[Length, ...], limit: InForce, facts: Facts) -> Outcome:
    total = _total(question)
    if total is None:
        raise NotShown(("runs", question.run.id, "length"), "how long the run is")
    points = [0.0, *sorted(one.m for one in at), *_held_corners(question), total]
    points = sorted(point for point in points if 0.0 <= point <= total)
    estimate = estimates(*at) or (question.extent.estimate if question.extent else "")
    gaps = [Gap(_part(question, a, b), a) for a, b in pairwise(points)]
    worst = max(gaps, key=lambda gap: gap.length_m)
    if at_most(worst.length_m, limit.number, GRACE_LENGTH_M):
        return holds("no gap is larger", Measured(worst.length_m, "length"), limit, estimate)
    if question.shape is None and question.extent is not None and question.extent.upright_m > 0:
        raise NotShown(("runs", question.run.id, "path"), "which of its gaps are level and which upright")
    where = f"{facts.length(worst.start_m)} from its start"
    return _too_far(question, worst, limit, facts, f"{question.run.id} hangs free from {where}", estimate)


def _total(question: Question) -> float | None:
    if question.shape is not None:
        return question.shape.length_m
    return question.run.length.m if isinstance(question.run.length, Length) else None


def _held_corners(question: Question) -> list[float]:
    """Corners that a strap or a bend support holds."""
    bends = question.run.bends
    if question.shape is None or not isinstance(bends, Bends):
        return []
    found = []
    for turn in question.shape.turns:
        bend = bends.all if bends.each is None else (bends.each[turn.number - 1] if turn.number <= len(bends.each) else None)
        if bend is not None and bend.support in ("strap both sides", "strap one side", "bend support"):
            found.append(turn.at_m)
    return found


def _part(question: Question, a: float, b: float) -> float:
    """How much of the gap from a to b lies the way that is asked for."""
    if question.shape is None:
        return b - a
    upright = question.what in ("upright supports", "guides")
    found = 0.0
    for stretch in question.shape.stretches:
        if stretch.upright == upright:
            found += max(0.0, min(b, stretch.start_m + stretch.length_m) - max(a, stretch.start_m))
    return found


def _too_far(question: Question, gap: Gap, limit: InForce, facts: Facts, says: str, estimate: str) -> Outcome:
    way = "upright" if question.what == "upright supports" else "level"
    longest = _longest(question, way == "upright") or gap.length_m
    more = _more(longest if question.run.supports == NONE else gap.length_m, longest, limit.number)
    places = ", ".join(facts.length(limit.number * number) for number in range(1, min(more, 4) + 1))
    return broken(
        f"{says}, {way}; at most {facts.length(limit.number)}.",
        "correction",
        measured=Measured(gap.length_m, "length"),
        limit=limit,
        found=f"{facts.length(gap.length_m)} between supports, {way}",
        mend=f"Add {more} support{'s' if more > 1 else ''}, so that no gap is over {facts.length(limit.number)} (for example "
        f"{places} on from {facts.length(gap.start_m)}).",
        at=("runs", question.run.id, "supports"),
        estimate=estimate,
    )


def _more(gap_m: float, longest_m: float, limit_m: float) -> int:
    """How many supports are wanting: in every gap of the longest straight as many as it takes."""
    gaps = max(1, math.floor(longest_m / gap_m + 1e-9))
    return max(1, gaps * (math.ceil((gap_m - GRACE_LENGTH_M) / limit_m) - 1))


def _guides(question: Question, said: Supports, facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(GUIDE)
    risers = said.risers if said.risers is not None else said.every
    tall = _longest(question, upright=True) or 0.0
    if at_most(tall, limit.number, GRACE_LENGTH_M):
        return holds("no upright is taller than the distance of guides", Measured(tall, "length"), limit)
    if isinstance(risers, Length) and at_most(risers.m, limit.number, GRACE_LENGTH_M):
        return holds(f"held every {risers.text}, no guide needed", Measured(risers.m, "length"), limit, estimates(risers))
    if said.guides == "mid-storey" or (isinstance(said.guides, tuple) and said.guides):
        return holds("guided halfway up")
    if isinstance(said.at, tuple):
        measured = _measured(question, said.at, limit, facts)
        if measured.kind == "holds":
            return measured
    if said.guides != NONE:
        raise NotShown(("runs", question.run.id, "supports", "guides"), "whether the riser is guided halfway up")
    return broken(
        f"{question.run.id} stands {facts.length(tall)} upright without a guide halfway up.",
        "correction",
        measured=Measured(tall, "length"),
        limit=limit,
        found="no guide",
        needed=f"a support or a guide at most {facts.length(limit.number)} apart",
        mend=f"Set a guide halfway between the supports, or hold the riser every {facts.length(limit.number)} or less.",
        at=("runs", question.run.id, "supports"),
    )


def _first(question: Question, said: Supports, facts: Facts, limits: Limits) -> Outcome:
    part = limits.of(HALF)
    span = _row(question.tube, False, limits)
    most = part.number * span.number
    total = _total(question)
    found: float | None = said.ends.m if isinstance(said.ends, Length) else None
    if found is None and isinstance(said.at, tuple) and said.at and total is not None:
        points = sorted(one.m for one in said.at)
        found = max(points[0], total - points[-1])
    if found is None:
        raise NotShown(("runs", question.run.id, "supports", "ends"), "how far the first support is from a fitting")
    if at_most(found, most, GRACE_LENGTH_M):
        return holds("first supports near enough", Measured(found, "length"), part, estimates(said.ends))
    return broken(
        f"The first support of {question.run.id} is {facts.length(found)} from the fitting.",
        "advice",
        measured=Measured(found, "length"),
        limit=part,
        needed=f"at most {facts.length(most)}: half a span at each end, corner and fitting",
        mend=f"Add a support within {facts.length(most)} of each fitting and corner.",
        estimate=estimates(said.ends),
    )


def _kind(question: Question, said: Supports, limits: Limits) -> Outcome:
    kind = said.kind
    if question.run.supports == NONE:
        return holds("nothing that could cut it")
    if kind in _TIGHT:
        return broken(
            f"{question.run.id} is held by {kind}s, which grip or cut the tube.",
            "correction",
            measured=Measured(kind, "text"),
            limit=limits.of(KIND),
            found=kind,
            needed="supports that let the tube slide and do not cut it",
            mend="Change them for plastic clips or hangers made for this tube.",
            at=("runs", question.run.id, "supports", "kind"),
        )
    if kind in _BARE_METAL:
        return broken(
            f"{question.run.id} is held by {kind}s that are not made for plastic.",
            "advice",
            measured=Measured(kind, "text"),
            found=kind,
            needed="plastic or coated supports, or metal made for plastic tube (makers' manuals, read)",
            mend="Change them for plastic clips, or metal ones made for plastic tube.",
            at=("runs", question.run.id, "supports", "kind"),
        )
    if kind is None or kind == "not known":
        raise NotShown(("runs", question.run.id, "supports", "kind"), "what kind of supports they are")
    return holds(kind)


