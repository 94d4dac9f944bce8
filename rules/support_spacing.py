"""Pipe is held often enough, by things that do not hurt it

Looks at: the real gaps between supports along each new run, over corners too, level and upright parts apart (steeper
    than 45 degrees is upright), against the table of the code for its material and size; guides halfway up risers; how
    far the first support is from an end, a fitting or a corner; and what kind of support it is.
Why: a run that hangs sags, knocks when a valve snaps shut, wears through where it rubs and works at its joints. A clamp
    that grips too tightly, or bare metal edges, cut into plastic that must slide.
To mend: add supports at the distances named, made for this pipe; set a guide halfway up where the risers are long.
Cannot see: whether a strap is tight or has come loose, and supports that the plan does not list. What was drawn through
    closed framing is for a person on site. Good practice holds risers of PEX every 4 ft.
Ask: the makers' sheet may ask for less distance than the code; the inspector measures with a tape.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    BROKEN,
    FOOT_M,
    GRACE_LENGTH_M,
    INCH_M,
    NOT_KNOWN,
    Facts,
    Hung,
    InForce,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Tube,
    Value,
    broken,
    holds,
    hung_runs,
    is_new,
    is_plastic,
    judge_first,
    judge_gaps,
    judge_guides,
    on_site,
    printed,
    questions,
    recalled,
    untabled_runs,
)

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


PEX_SMALL = _level("pex_level", "PEX and PE-RT to 1 in, level", 32 * INCH_M, 32 * INCH_M)
PEX_LARGE = _level("pex_level_large", "PEX and PE-RT from 1-1/4 in, level", 4 * FOOT_M, 4 * FOOT_M, 32 * INCH_M)
PEX_AL = _level("pex_al_level", "PEX-AL-PEX, level", 32 * INCH_M, 98 * INCH_M)
CPVC_SMALL = _level("cpvc_level", "CPVC to 1 in, level", 3 * FOOT_M, 3 * FOOT_M)
CPVC_LARGE = _level("cpvc_level_large", "CPVC from 1-1/4 in, level", 4 * FOOT_M, 4 * FOOT_M)
COPPER_SMALL = _level("copper_level", "copper tube to 1-1/4 in, level", 6 * FOOT_M, 6 * FOOT_M)
COPPER_MIDDLE = _level("copper_level_middle", "copper tube of 1-1/2 in, level", 10 * FOOT_M, 6 * FOOT_M)
COPPER_LARGE = _level("copper_level_large", "copper tube from 2 in, level", 10 * FOOT_M, 10 * FOOT_M)
UPRIGHT = _level(
    "upright", "upright pipe; UPC: at the base and each floor, a storey taken as 10 ft", 10 * FOOT_M, 10 * FOOT_M
)
PEX_AL_UPRIGHT = _level("pex_al_upright", "PEX-AL-PEX, upright; UPC: at each floor", 4 * FOOT_M, 10 * FOOT_M)
GUIDE = Limit(
    "guide",
    "upright plastic to 2 in: support or guide, halfway between supports",
    "length",
    "at most",
    irc=(Value(5 * FOOT_M, _NOTE_B),),
    ipc=(Value(5 * FOOT_M, recalled("IPC", "2015", "Table 308.5 note")),),
    upc=(Value(5 * FOOT_M, _UPC),),
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
    practice=(
        Value("made for plastic", printed("24 CFR 3280.608 and tube makers' manuals", "", "hangers"), practice=True),
    ),
)
_LEVEL = (PEX_SMALL, PEX_LARGE, PEX_AL, CPVC_SMALL, CPVC_LARGE, COPPER_SMALL, COPPER_MIDDLE, COPPER_LARGE)
RULE = Rule("correction", "rough-in", (*_LEVEL, UPRIGHT, PEX_AL_UPRIGHT, GUIDE, HALF, KIND))

_ROWS = {  # level rows by material: each to below a nominal size in inches
    "copper": ((1.4, COPPER_SMALL), (1.9, COPPER_MIDDLE), (99.0, COPPER_LARGE)),
    "CPVC": ((1.2, CPVC_SMALL), (99.0, CPVC_LARGE)),
    "PEX-AL-PEX": ((99.0, PEX_AL),),
}
_PEX_ROWS = ((1.2, PEX_SMALL), (99.0, PEX_LARGE))
_GUIDED_IN = 2.1  # note b is on pipe to 2 in
_TIGHT = ("tight clamp", "bent nail", "wire tie")
_BARE_METAL = ("metal strap", "metal hanger", "copper strap", "copper hanger")
_SOUND = {kind: holds(kind) for kind in ("plastic clip", "plastic strap", "metal clip for plastic")}  # most are alike
_STUB_M = 16 * INCH_M + GRACE_LENGTH_M  # held by what it is joined to: half of the smallest span of the tables


def subjects(facts: Facts) -> Iterator[Subject]:
    """The questions that each run raises: none for connectors, pipe laid in slab or ground, and short stubs."""
    for hung in hung_runs(facts):
        path, name, place = ("runs", hung.run.id, "supports"), hung.run.id, hung.place
        for what in questions(hung, _STUB_M):
            yield Subject(path, f"{what} of {name}", place, (what, hung))
    for run, tube in untabled_runs(facts):
        places = facts.run_places(run.id)
        yield Subject(("runs", run.id, "supports"), f"supports of {run.id}", places[-1] if places else None, tube)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One question on one run."""
    if isinstance(subject.thing, Tube):
        return _untabled(subject.thing)
    what, hung = subject.thing
    if what == "level supports":
        return judge_gaps(hung, False, _level_row(hung, limits), facts)
    if what == "upright supports":
        return _upright(hung, facts, limits)
    if what == "first supports":
        part = limits.of(HALF)
        return judge_first(hung, part.number * _level_row(hung, limits).number, part, facts)
    if what == "kind of supports":
        return _kind(hung, limits)
    if not is_new(hung.run):
        return on_site("existing pipe: whether it is held and the straps do not cut it")
    if hung.run.fished is True or what == "the fished stretch":
        return on_site("drawn through closed framing: hold it where it comes out")
    raise NotShown(("runs", hung.run.id, "supports"), "what holds the run and how often")


def _untabled(tube: Tube) -> Outcome:
    """Tube of which no distance is carried: its own sheet tells."""
    if tube.material is None or tube.material == NOT_KNOWN:
        raise NotShown(("tubes", tube.id, "material"), "what the tube is made of")
    return on_site(f"no distance is carried for {tube.material}: whether it is held as its maker's sheet says")


def _level_row(hung: Hung, limits: Limits) -> InForce:
    """The row of the table for a tube that lies level."""
    inches = hung.inches
    if inches is None:
        raise NotShown(("tubes", hung.tube.id, "size"), "the size of the tube")
    for below, limit in _ROWS.get(hung.tube.material or "", _PEX_ROWS):
        if inches < below:
            return limits.of(limit)
    return limits.of(_LEVEL[-1])


def _upright(hung: Hung, facts: Facts, limits: Limits) -> Outcome:
    """Upright pipe: its gaps first, then whether tall plastic is guided halfway."""
    row = limits.of(PEX_AL_UPRIGHT if hung.tube.material == "PEX-AL-PEX" else UPRIGHT)
    outcome = judge_gaps(hung, True, row, facts)
    if outcome.kind == BROKEN or not is_plastic(hung.tube) or (hung.inches or 0.0) > _GUIDED_IN:
        return outcome
    return judge_guides(hung, limits.of(GUIDE), facts) or outcome


def _kind(hung: Hung, limits: Limits) -> Outcome:
    """Whether the supports are of a kind that does not hurt plastic."""
    kind, path = hung.said.kind, ("runs", hung.run.id, "supports", "kind")
    if kind is None or kind == NOT_KNOWN:
        raise NotShown(path, "what kind of supports they are")
    tight = kind in _TIGHT
    if not tight and kind not in _BARE_METAL:
        return _SOUND.get(kind) or holds(kind)
    return broken(
        f"{hung.run.id} is held by {kind}s, which {'grip or cut the tube' if tight else 'are not made for plastic'}.",
        "correction" if tight else "advice",
        measured=Measured(kind, "text"),
        limit=limits.of(KIND) if tight else None,
        found=kind,
        needed="supports made for plastic tube, which let it slide and do not cut it (makers' manuals, read)",
        mend="Change them for plastic clips or hangers, or metal ones made for this tube.",
        at=path,
    )
