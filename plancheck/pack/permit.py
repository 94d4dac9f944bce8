"""The permit sheet: the ten things a plan check asks of a re-pipe, filled from the plan, blanks for what it does not hold."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from plancheck.demand.fixtures import Counted, items_of
from plancheck.demand.totals import totals_of
from plancheck.demand.weights import UPC_FIRST_HOSE_MORE
from plancheck.facts import Facts
from plancheck.flow.pages.table import Page
from plancheck.measures import Length, Size
from plancheck.model import Flowing, Part, Run
from plancheck.pack.blocks import BLANK, Block, Grid, Heading, Image, Material, Pairs, Sheet, Text, joined, said
from plancheck.pack.inspection import said_of
from plancheck.pack.tables import about, grid_of
from plancheck.pack.walk import STEPS

_NOTES = ("Joints", "Support", "Framing, concrete and ground", "Heat, light and frost", "Valves and devices", "Heater")


def permit(material: Material, page: Page) -> Sheet:
    """The sheet for the permit counter. page: the answers on flow."""
    blocks: tuple[Block, ...] = (
        Heading("1. Address, permit, owner, contractor"),
        _who(material),
        Heading("2. Code and amendments"),
        Pairs((("Code", material.report.code), ("Local amendments", _amendments(material)))),
        Heading("3. Scope"),
        _scope(material.facts),
        Heading("4. Meter, service and pressure"),
        _service(material.facts),
        Heading("5. Fixtures and fixture units"),
        *_fixtures(material.facts),
        Heading("6. Sizing of every run"),
        *_table(material.facts, page, "runs"),
        *_table(material.facts, page, "outlets"),
        *(Image(material.pictures[name]) for name in ("pressure",) if name in material.pictures),
        Heading("7. Riser"),
        *(Image(picture) for name, picture in material.pictures.items() if name.startswith(("riser", "isometric-")) or name == "isometric"),
        Heading("8. Materials and joints"),
        _materials(material.facts),
        Heading("9. Supports, protection, clearances, valves and devices"),
        _notes(material),
        Heading("10. Test"),
        _test(material),
    )
    return Sheet("permit", "For the permit", "the ten items of a submittal, with sizing and riser", blocks)


def _who(material: Material) -> Pairs:
    plan = material.facts.plan
    number = said(plan.permit.number) if plan.permit is not None else BLANK
    return Pairs(
        (
            ("Job", material.report.title),
            ("Address", BLANK),
            ("Permit number", number),
            ("Owner", BLANK),
            ("Contractor, licence number", BLANK),
            ("Drawn by, date", joined(said(plan.job.by), said(plan.job.date))),
        )
    )


def _amendments(material: Material) -> str:
    places = {one.source.document: None for limits in material.amended.values() for one in limits.values()}
    return ", ".join(places) or "none given to this check; ask the authority"


def _scope(facts: Facts) -> Grid:
    """Runs and pipe by old and new."""
    rows = []
    for work, name in (("new", "new"), ("existing", "kept"), ("removed", "taken out")):
        runs = [run for run in facts.plan.runs.values() if (run.work or "new") == work]
        if runs:
            lengths = [facts.run_length_m(run.id) for run in runs]
            known = [one for one in lengths if one is not None]
            unknown = len(lengths) - len(known)
            more = f" and {unknown} of unsaid length" if unknown else ""
            rows.append((name, str(len(runs)), f"{about(sum(known), facts)}{more}" if known else "not said"))
    return Grid("Pipe of this plan", ("Work", "Runs", "Length"), tuple(rows), frozenset((1,)))


def _service(facts: Facts) -> Pairs:
    plan, water = facts.plan, facts.plan.water
    meter = next((part for part in plan.parts.values() if part.is_ == "meter" and part.work != "removed"), None)
    regulators = [part for part in plan.parts.values() if part.is_ == "regulator" and part.work != "removed"]
    flowing = water.flowing if isinstance(water.flowing, Flowing) else Flowing()
    running = joined(said(flowing.pressure), said(flowing.flow), by=" while running ")
    rows = [
        ("Meter", _size(meter) if meter is not None else "none in the plan"),
        *((f"Pipe from the street ({run.id})", _run_words(facts, run)) for run in _service_runs(facts)),
        ("Standing pressure, read on", joined(said(water.static), said(water.date), by=", ")),
        ("Running pressure", running),
        *((f"Regulator ({facts.part_name(part.id)}), set to", said(getattr(part.own, "set", None))) for part in regulators),
        ("Coldest water of the year", said(water.coldest)),
    ]
    return Pairs(tuple(rows))


def _service_runs(facts: Facts) -> list[Run]:
    """The runs between the source and the first meter or valve."""
    sources = {part.id for part in facts.plan.parts.values() if part.is_ == "source"}
    return [run for run in facts.plan.runs.values() if run.from_ is not None and run.from_.part in sources and run.work != "removed"]


def _size(part: Part) -> str:
    return part.size.name if isinstance(part.size, Size) else BLANK


def _run_words(facts: Facts, run: Run) -> str:
    tube = facts.plan.tubes.get(run.tube or "")
    length = facts.run_length_m(run.id)
    cover = f"cover {run.cover.text}" if isinstance(run.cover, Length) else ""
    what = joined(_tube_size(tube.size), said(tube.material), said(tube.type), by=" ") if tube is not None else ""
    return joined(what, facts.length(length) if length is not None else "", cover, "existing" if run.work == "existing" else "")


def _tube_size(size: object) -> str:
    return size.name if isinstance(size, Size) else BLANK


def _fixtures(facts: Facts) -> Iterable[Block]:
    """Count and fixture units by kind; sums one by one and with groups."""
    if facts.family is None:
        yield Text("The plan names no code (code.family): fixture units differ by code and are not shown.")
        return
    rows: dict[tuple[str, str, str, str], int] = {}
    for part, items in items_of(facts.plan, facts.family, as_piped=False).items():
        for item in items:
            each = _each(item.units)
            key = (facts.plan.parts[part].is_, *each)
            rows[key] = rows.get(key, 0) + item.count_
    totals = totals_of(facts.plan, facts.family)
    single, grouped = totals.single, totals.grouped
    table = [line for (kind, *each), count in rows.items() for line in _lines(kind, each, count, facts.family)]
    table.append(("Sum, one by one", "", *(f"{one:g}" for one in (single.cold, single.hot, single.total))))
    if grouped != single:
        table.append(("Sum, fixtures that count as one group together", "", *(f"{one:g}" for one in (grouped.cold, grouped.hot, grouped.total))))
    declared = facts.plan.permit.units if facts.plan.permit is not None else None
    notes = [f"Not in the sums: {gap.what}." for gap in totals.missing]
    if isinstance(declared, dict):
        notes.append(f"Declared on the permit: {', '.join(f'{key} {value}' for key, value in declared.items())}.")
    columns = ("Fixture", "Count", "Cold, each", "Hot, each", "Both, each")
    yield Grid(f"Fixture units ({facts.family.upper()})", columns, tuple(table), frozenset((1, 2, 3, 4)), notes=tuple(notes))


def _lines(kind: str, each: Sequence[str], count: int, family: str) -> Iterable[tuple[str, ...]]:
    """The lines of one kind of fixture; under UPC the first hose outlet counts for more than each further one."""
    if kind == "hose outlet" and family == "upc" and "-" not in each:
        cold, hot, total = (float(one) for one in each)
        yield "hose outlet, the first", "1", f"{cold + UPC_FIRST_HOSE_MORE:g}", f"{hot:g}", f"{total + UPC_FIRST_HOSE_MORE:g}"
        if count > 1:
            yield "hose outlet, each further", str(count - 1), *each
    else:
        yield kind, str(count), *each


def _each(units: Counted) -> tuple[str, str, str]:
    if units.weight is None:
        return ("-", "-", "-")
    cold, hot, total = units.weight
    return f"{cold / 1000:g}", f"{hot / 1000:g}", f"{total / 1000:g}"


def _table(facts: Facts, page: Page, name: str) -> Iterable[Block]:
    return (grid_of(table, facts) for table in page.tables if table.id == name)


def _materials(facts: Facts) -> Grid:
    """Tubes with their standards and lengths, and the joints they are made with."""
    rows = []
    for tube in facts.plan.tubes.values():
        runs = [run for run in facts.plan.runs.values() if run.tube == tube.id and run.work != "removed"]
        if not runs:
            continue
        lengths = [facts.run_length_m(run.id) for run in runs]
        known = sum(one for one in lengths if one is not None)
        joints = {name: None for run in runs if run.joint is not None for name in (run.joint.from_, run.joint.to) if name}
        waters = {facts.carried(run.id).service or "not traced": None for run in runs}
        what = joined(_tube_size(tube.size), said(tube.material), said(tube.type), said(tube.colour), by=" ")
        prints = said_of(tube.print)
        rows.append((what, ", ".join(waters), about(known, facts) if known else "not said", prints, ", ".join(joints) or BLANK))
    columns = ("Tube", "Carries", "Length", "Print line", "Joints")
    return Grid("Pipe and tube, and how it is joined", columns, tuple(rows), writable=frozenset((3, 4)))


def _notes(material: Material) -> Grid:
    """What the rules on workmanship and devices compare with here, and how it came out."""
    rows = []
    for title in _NOTES:
        step = next(step for step in STEPS if step.title == title)
        for rule in step.rules:
            counts = material.report.tally.get(rule, {})
            if any(counts.values()):
                words = next(one.words.title for one in material.rules if one.id == rule)
                told = ", ".join(f"{count} {kind}" for kind, count in counts.items() if count)
                rows.append((title, words, told))
    return Grid("What was looked at, and how it came out", ("", "Rule", "Came out as"), tuple(rows))


def _test(material: Material) -> Pairs:
    time, air = material.in_force("pressure_test", "time"), material.in_force("pressure_test", "medium")
    tests = material.facts.plan.tests
    recorded = ", ".join(tests) if isinstance(tests, dict) else "none yet"
    return Pairs(
        (
            ("Medium", str(air.value) if air is not None else "as the code in force says"),
            ("Held", f"at least {time.number / 60:g} min, {time.source}" if time is not None else BLANK),
            ("Pressure", "see the sheet on the pressure test"),
            ("Recorded tests", recorded),
        )
    )
