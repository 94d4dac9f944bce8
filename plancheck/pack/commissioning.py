"""The commissioning table: what is predicted beside what was measured; blanks where nobody has measured yet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plancheck.facts import Facts
from plancheck.flow.pages.table import Cell, Page, Table
from plancheck.gaugecalls import RUNNING_SHARE, STANDING_BAND_PA
from plancheck.measures import Quantity
from plancheck.model import FixtureOwn, HeaterOwn, Mixer, MixingOwn, Reading, RegulatorOwn, TankOwn
from plancheck.pack.blocks import BLANK, Block, Grid, Heading, Image, Material, Sheet, Text, joined, said
from plancheck.report.flowcells import text_of


def commissioning(material: Material, page: Page) -> Sheet:
    """The sheet for the first day with water. page: the answers on flow."""
    facts = material.facts
    blocks: tuple[Block, ...] = (
        Text(
            "Predictions rest on the plan and on its reading of the street: measure, and write what differs. Hot water "
            "scalds: measure it with a thermometer, and set the limit stops before anybody bathes."
        ),
        *_readings(facts),
        _gauges(facts, page),
        _outlets(facts, page),
        *_waits(facts, page),
        *(Image(picture) for name, picture in material.pictures.items() if name.startswith("shower")),
        _settings(facts),
        Text("Before the heater gets its fuel or power: full of water, air let out. Look at every joint again after a day."),
    )
    return Sheet("commissioning", "First day with water", "predicted against measured, and settings", blocks)


def _readings(facts: Facts) -> Iterator[Block]:
    """The plan's own readings beside what it predicts; marked where they lie outside the band."""
    rows: list[tuple[str, ...]] = []
    marked: dict[int, str] = {}
    for reading in facts.plan.measured.values():
        expected, outside = _expected(facts, reading)
        if outside:
            marked[len(rows)] = "outside the band"
        opened = ", ".join(reading.open) if isinstance(reading.open, tuple) else said(reading.open)
        rows.append((reading.id, said(reading.at), opened, expected, _read(facts, reading), joined(said(reading.by), said(reading.date))))
    if rows:
        yield Heading("Read so far")
        columns = ("Reading", "At", "Open", "Expected", "Read", "By, on")
        yield Grid("Readings the plan carries", columns, tuple(rows), marked=marked)


def _read(facts: Facts, reading: Reading) -> str:
    """What was read, in the plan's units and, where they are others, as it was written."""
    written, reads = said(reading.reads), reading.reads
    own = facts.quantity(reads.si, reads.kind) if isinstance(reads, Quantity) and reads.kind in ("pressure", "flow") else written
    return own if own.partition(" ")[2] == written.partition(" ")[2] else f"{own} ({written})"


def _expected(facts: Facts, reading: Reading) -> tuple[str, bool]:
    """What is expected, with its band, and whether the reading lies outside it."""
    at = facts.flow.connection(reading.at or "")
    reads = reading.reads
    if at is None or not isinstance(reads, Quantity) or reads.kind != "pressure":
        return "not predicted", False
    found = facts.flow.predicted(at, reading.open if isinstance(reading.open, tuple) else ())
    if found.missing is not None:
        return f"not shown: {found.missing.what}", False
    if found.why:
        return f"not shown: {found.why}", False
    band = STANDING_BAND_PA + RUNNING_SHARE * found.friction_pa
    low, high = (facts.quantity(found.pa + way * band, "pressure") for way in (-1, 1))
    return f"{facts.quantity(found.pa, 'pressure')} ({low} to {high})", abs(reads.si - found.pa) > band


def _gauges(facts: Facts, page: Page) -> Block:
    """What every gauge point should read, with nothing open and with each fixture open, and room for the reading."""
    table = _table(page, "gauge")
    if table is None or not table.rows:
        return Text("The plan has no gauge point (a test port) at which a reading could be predicted beforehand.")
    rows = []
    for row in table.rows:
        at, opened, expected, low, high, _ = _cells(row, table, facts)
        rows.append((at, opened, f"{expected} ({low} to {high})", BLANK))
    unit = facts.units.pressure
    return Grid(f"What the gauge should read, {unit}", ("Gauge at", "Open", "Expected", "Read"), tuple(rows), writable=frozenset((3,)))


def _outlets(facts: Facts, page: Page) -> Block:
    """What every outlet takes alone, from the lowest to the highest, and room for the measured flow."""
    table = _table(page, "outlets")
    if table is None or not table.rows:
        return Text("No outlet's flow can be predicted from this plan.")
    rows = []
    for row in table.rows:
        name, standing, takes, low, high, *_ = _cells(row, table, facts)
        rows.append((name, standing, f"{takes} ({low} to {high})" if takes != "-" else "-", BLANK, BLANK))
    columns = (
        "Outlet, open alone",
        f"Standing, {facts.units.pressure}",
        f"Flow expected, {facts.units.flow}",
        "Standing, measured",
        "Flow, measured",
    )
    return Grid("What each outlet gives", columns, tuple(rows), frozenset((1, 2)), frozenset((3, 4)))


def _waits(facts: Facts, page: Page) -> Iterable[Block]:
    """How long hot water takes, and room for the measured wait."""
    table = _table(page, "hot wait")
    if table is None or not table.rows:
        return
    keep = [place for place, column in enumerate(table.columns) if column.kind in ("text", "duration", "volume")]
    columns = (*(table.columns[place].name + _unit(table, place, facts) for place in keep), "Measured wait, s")
    rows = tuple((*(text_of(row[place], table.columns[place], facts) for place in keep), BLANK) for row in table.rows)
    yield Grid("How long hot water takes", columns, rows, writable=frozenset((len(keep),)))


def _unit(table: Table, place: int, facts: Facts) -> str:
    from plancheck.report.flowcells import unit_of

    unit = unit_of(table.columns[place], facts)
    return f", {unit}" if unit else ""


def _settings(facts: Facts) -> Grid:
    """What is to be set, as the plan has it, and room for what was set."""
    rows = [(name, what, set_, BLANK) for name, what, set_ in _set(facts)]
    return Grid("Settings", ("Thing", "What", "By the plan", "As set, measured"), tuple(rows), writable=frozenset((2, 3)))


def _set(facts: Facts) -> Iterator[tuple[str, str, str]]:
    for part in facts.plan.parts.values():
        if part.work == "removed":
            continue
        own, name = part.own, facts.part_name(part.id)
        if isinstance(own, RegulatorOwn):
            yield name, "pressure behind it, nothing running", said(own.set)
        elif isinstance(own, TankOwn):
            yield name, "charge of air, water side empty", said(own.precharge)
        elif isinstance(own, HeaterOwn):
            yield name, "temperature set; at the nearest tap", said(own.set)
        elif isinstance(own, MixingOwn):
            yield name, "temperature behind it", said(own.set)
        elif isinstance(own, FixtureOwn) and isinstance(own.mixer, Mixer):
            yield name, "hottest the valve lets through", said(own.mixer.limit)


def _table(page: Page, name: str) -> Table | None:
    return next((table for table in page.tables if table.id == name), None)


def _cells(row: tuple[Cell, ...], table: Table, facts: Facts) -> list[str]:
    return [text_of(cell, column, facts) for cell, column in zip(row, table.columns, strict=True)]
