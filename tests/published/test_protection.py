"""Limits on framing, frost, heat kept, tests and records against the printed pages. Numbers are typed in from the source named."""

from __future__ import annotations

import pytest

from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules
from tests.casework import judge, plan_of

RULES = {rule.id: rule for rule in built_in_rules()}
IN, FT = 0.0254, 0.3048
PSI = 0.45359237 * 9.80665 / IN**2  # a pound by definition, under standard gravity, on a square inch


def limit(rule: str, id_: str) -> Limit:
    return next(one for one in RULES[rule].rule.limits if one.id == id_)


def in_force(rule: str, id_: str, family: str | None, edition: int | None = None) -> InForce:
    return Limits(family, edition).of(limit(rule, id_))


# document, edition, clause; read or from memory; rule; limit; family; edition asked; value
NUMBERS = [
    (
        "IRC 2018 R602.6, bored holes in bearing studs 40 percent, read",
        "framing_holes",
        "bearing_hole",
        "irc",
        2018,
        0.40,
    ),
    ("IRC 2018 R602.6, other studs and doubled ones 60 percent, read", "framing_holes", "stud_hole", "irc", 2018, 0.60),
    ("IRC 2018 R602.6, 5/8 in to the edge, read", "framing_holes", "stud_left", "irc", 2018, 0.625 * IN),
    ("IRC 2018 R602.6, notch in bearing studs 25 percent, read", "framing_holes", "bearing_notch", "irc", 2018, 0.25),
    ("IRC 2018 R602.6, notch in other studs 40 percent, read", "framing_holes", "stud_notch", "irc", 2018, 0.40),
    ("IRC 2018 R502.8.1, hole a third of the depth, read", "framing_holes", "joist_hole", "irc", 2018, 1 / 3),
    ("IRC 2018 R502.8.1, 2 in from top and bottom, read", "framing_holes", "joist_left", "irc", 2018, 2 * IN),
    ("IRC 2018 R502.8.1, notch a sixth, read", "framing_holes", "joist_notch", "irc", 2018, 1 / 6),
    ("IRC 2018 R502.8.1, notch at the end a quarter, read", "framing_holes", "joist_end", "irc", 2018, 0.25),
    ("IRC 2018 R602.6.1, top plate over half, read", "framing_holes", "plate_cut", "irc", 2018, 0.5),
    ("IBC 2018 2308, studs, from memory", "framing_holes", "bearing_hole", "upc", 2021, 0.40),
    ("IBC 2018 2308, joists, from memory", "framing_holes", "joist_hole", "ipc", 2021, 1 / 3),
    ("IRC 2015 P2603.2.1, 1-1/4 in, read", "nail_plate", "edge", "irc", 2021, 1.25 * IN),
    ("IRC before 2015 P2603.2.1, 1-1/2 in, read", "nail_plate", "edge", "irc", 2012, 1.5 * IN),
    ("IPC 2015 305.6, 1-1/4 in, read", "nail_plate", "edge", "ipc", 2018, 1.25 * IN),
    ("IPC before 2015 305.6, 1-1/2 in, read", "nail_plate", "edge", "ipc", 2009, 1.5 * IN),
    ("UPC 312.9, 1 in, read", "nail_plate", "edge", "upc", 2021, 1.0 * IN),
    ("IRC 2018 P2603.4, two pipe sizes, read", "pass_sleeve", "steps", "irc", 2018, 2.0),
    ("IPC 2015 305.3, from memory", "pass_sleeve", "steps", "ipc", 2018, 2.0),
    ("UPC 2015 312.10, from memory", "pass_sleeve", "steps", "upc", 2021, 2.0),
    (
        "IECC 2012 to 2018 R403.5.3 = IRC N1103.5.3, 3/4 in and larger, read",
        "pipe_insulation",
        "from_size",
        "irc",
        2018,
        0.75,
    ),
    ("IECC 2021 R403.5.2 = IRC N1103.5.2, 3/4 in and larger, read", "pipe_insulation", "from_size", "irc", 2021, 0.75),
    ("UPC 2015 609.11, as thick as the pipe, read", "pipe_insulation", "as_thick", "upc", 2021, 1.0),
    ("IRC P2503.7, 15 min, read", "pressure_test", "time", "irc", 2018, 15 * 60.0),
    ("IPC 312.5, 15 min, read", "pressure_test", "time", "ipc", 2018, 15 * 60.0),
    ("UPC 609.4, 15 min, read", "pressure_test", "time", "upc", 2021, 15 * 60.0),
    ("IRC P2503.7, air 50 psi, read", "pressure_test", "air_least", "irc", 2018, 50 * PSI),
    ("IPC 312.5, air 50 psi, read", "pressure_test", "air_least", "ipc", 2018, 50 * PSI),
    ("UPC 609.4, air 50 psi, read", "pressure_test", "air_least", "upc", 2021, 50 * PSI),
    ("UPC 609.4, not less than the working pressure, read", "pressure_test", "working", "upc", 2021, 1.0),
    ("IRC 2015 P2903.3.1, 80 psi, read", "regulator_station", "highest", "irc", 2015, 80 * PSI),
    ("IPC 2015 604.8, 80 psi, read", "regulator_station", "highest", "ipc", 2018, 80 * PSI),
    ("UPC 2015 608.2, 80 psi, read", "regulator_station", "highest", "upc", 2021, 80 * PSI),
]


@pytest.mark.parametrize(("source", "rule", "id_", "family", "edition", "value"), NUMBERS)
def test_family_numbers(source: str, rule: str, id_: str, family: str, edition: int, value: float) -> None:
    found = in_force(rule, id_, family, edition)
    assert found.number == pytest.approx(value, abs=1e-9)
    assert source.endswith(found.source.read)
    assert source.startswith(found.source.document)
    assert not found.practice


# what makers, handbooks and practice say; at most advice
PRACTICE = [
    ("two tube makers' manuals, 1.1 in for 100 ft and 10 degF, read", "thermal_slack", "pex_rate", 1.1),
    ("a tube maker's manual, PEX-AL-PEX 0.16, read", "thermal_slack", "pex_al_rate", 0.16),
    ("trade tables, CPVC 0.41, from memory", "thermal_slack", "cpvc_rate", 0.41),
    ("two tube makers' manuals, 12 times the root, read", "thermal_slack", "arm", 12.0),
    ("two tube makers' manuals, each 50 ft, read", "thermal_slack", "each", 50 * FT),
    ("a tube maker's manual section 6, water to 150 psi, read", "pressure_test", "most_water", 150 * PSI),
    ("a tube maker's manual section 6, air to 120 psi, read", "pressure_test", "most_air", 120 * PSI),
    ("a design handbook at second hand, 8 psi in the first hour, read", "pressure_test", "stretch", 8 * PSI),
    ("IRC 2018 P2503.9, gauge steps of 1 psi to 100 psi, from memory", "pressure_test", "drop", 1 * PSI),
    ("trade practice, 10 psi below the street, from memory", "regulator_station", "margin", 10 * PSI),
    ("half an inch of foam for R-3, common practice", "pipe_insulation", "foam", 0.5 * IN),
    ("12 in from the lowest point, common practice", "drain_down", "low_point", 12 * IN),
    ("6 in between hot and cold, common practice", "bundle_ties", "gap", 6 * IN),
]


@pytest.mark.parametrize(("source", "rule", "id_", "value"), PRACTICE)
def test_practice_numbers(source: str, rule: str, id_: str, value: float) -> None:
    found = in_force(rule, id_, None)
    assert found.number == pytest.approx(value, abs=1e-9)
    assert source.endswith(found.source.read)
    assert found.practice


# depth of 2x4, 2x6 ... 2x12 and the largest hole and notch, IRC 2018 R602.6 and R502.8.1 as worked out by hand (inches)
STUDS = [("2x4", 3.5, 1.40, 2.10, 0.875, 1.40), ("2x6", 5.5, 2.20, 3.30, 1.375, 2.20)]
JOISTS = [("2x6", 5.5, 1.83, 0.92), ("2x8", 7.25, 2.42, 1.21), ("2x10", 9.25, 3.08, 1.54), ("2x12", 11.25, 3.75, 1.88)]


@pytest.mark.parametrize(("timber", "depth", "bearing", "other", "notch", "other_notch"), STUDS)
def test_studs(timber: str, depth: float, bearing: float, other: float, notch: float, other_notch: float) -> None:
    from plancheck.passes import member_of

    deep_m = member_of(f"{timber} stud").depth_m
    assert deep_m == pytest.approx(depth * IN)
    shares = [("bearing_hole", bearing), ("stud_hole", other), ("bearing_notch", notch), ("stud_notch", other_notch)]
    for id_, inches in shares:
        assert in_force("framing_holes", id_, "irc").number * depth == pytest.approx(inches, abs=0.006)


@pytest.mark.parametrize(("timber", "depth", "hole", "notch"), JOISTS)
def test_joists(timber: str, depth: float, hole: float, notch: float) -> None:
    from plancheck.passes import member_of

    assert member_of(f"{timber} joist").depth_m == pytest.approx(depth * IN)
    assert in_force("framing_holes", "joist_hole", "irc").number * depth == pytest.approx(hole, abs=0.006)
    assert in_force("framing_holes", "joist_notch", "irc").number * depth == pytest.approx(notch, abs=0.006)


# a tube maker's table p. 15 (read): nominal size, offset leg in inches for 50 ft and 80 degF
ARMS = [("1-1/4", 29.5), ("1-1/2", 32.1), ("2", 36.7)]


@pytest.mark.parametrize(("size", "arm"), ARMS)
def test_offset_legs_of_the_makers_table(size: str, arm: float) -> None:
    """Legs as long as printed hold, a quarter inch less breaks."""

    def found(inches: float) -> str:
        changes = {
            "parts/heater/set": "125 degF",
            "tubes/white/size": size,
            "runs/hot-main/path": ["west 50 ft", f"down {inches} in"],
        }
        told = judge(plan_of({"change": changes}), "thermal_slack")
        return next(one.outcome.kind for one in told if one.subject.path == ("runs", "hot-main"))

    assert (found(arm + 0.05), found(arm - 0.25)) == ("holds", "broken")


def test_growth_of_the_makers_example() -> None:
    """A tube maker's example p. 15 (read): 50 ft of PEX through 80 degF grow 4.4 in."""
    changes = {
        "parts/heater/set": "125 degF",
        "tubes/white/size": "1-1/4",
        "runs/hot-main/path": ["west 50 ft", "down 1 ft"],
    }
    told = judge(plan_of({"change": changes}), "thermal_slack")
    says = next(one.outcome.says for one in told if one.subject.path == ("runs", "hot-main"))
    assert "grows 4-3/8 in over 50 ft" in says  # 4.4 in to a sixteenth


def test_air_on_pex_by_edition() -> None:
    """IRC 2021 (read) and 2018 (from memory) take air on PEX with the makers' consent; 2015 and the UPC's base text do not."""
    told = [in_force("pressure_test", "medium", family, year) for family, year in
            (("irc", 2021), ("irc", 2018), ("irc", 2015), ("ipc", 2021), ("upc", 2021))]  # fmt: skip
    assert ["makers" in str(one.value) for one in told] == [True, True, False, True, False]
    assert [one.source.read for one in told] == ["read", "from memory", "from memory", "from memory", "read"]


def test_energy_codes_begin_in_2012_and_the_upc_in_2015() -> None:
    """IECC 2009 wanted R-2 on circulating pipe only (read); UPC 609.11 is read in the 2015 text."""

    def kinds(family: str, edition: int) -> set[str]:
        changes = {
            "job/stage": "finished",
            "code": {"family": family, "edition": edition},
            "runs/hot-main/insulation": "none",
        }
        told = judge(plan_of({"change": changes}), "pipe_insulation")
        return {one.outcome.kind for one in told if one.subject.path[1] == "hot-main"}

    assert kinds("irc", 2009) == kinds("upc", 2012) == {"holds"}
    assert kinds("irc", 2012) == kinds("upc", 2015) == {"broken"}
