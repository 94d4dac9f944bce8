"""Limits on material, joints and buried pipe against print. `read`: the text was seen; `from memory`: it was not."""

from __future__ import annotations

import pytest

from plancheck.joinery import WANTED, within
from plancheck.limits import InForce, Limit, Limits
from plancheck.loader import built_in_rules
from plancheck.model import Tube
from plancheck.printmarks import class_digits, standards_in
from tests.casework import judge, plan_of

INCH = 0.0254
FAMILIES = ("irc", "ipc", "upc")
RULES = {one.id: one.rule for one in built_in_rules()}


def in_force(rule: str, id_: str, family: str | None, edition: int = 2021) -> InForce:
    limit: Limit = next(one for one in RULES[rule].limits if one.id == id_)
    return Limits(family, edition).of(limit)


# rule, limit, family, value in inches, document, clause, read, whether it is practice and gives advice at most
LENGTHS = [
    ("buried_pipe", "least_cover", "irc", 12, "IRC", "P2603.5", "read", False),
    ("buried_pipe", "least_cover", "ipc", 12, "IPC", "305.4", "read", False),
    ("buried_pipe", "least_cover", "upc", 12, "UPC", "609.1", "read", False),
    ("buried_pipe", "below_frost", "irc", 6, "IRC", "P2603.5", "read", False),
    ("buried_pipe", "below_frost", "ipc", 6, "IPC", "305.4", "read", False),
    ("buried_pipe", "below_frost", "upc", 12, "UPC", "609.1", "read", False),
    ("buried_pipe", "sewer", "irc", 60, "IRC", "P2906.4.1", "read", False),
    ("buried_pipe", "sewer", "ipc", 60, "IPC", "603.2", "read", False),
    ("unlisted_material", "service_inside", "irc", 60, "IRC", "P2906.4", "from memory", True),
    ("unlisted_material", "service_inside", "ipc", 60, "IPC", "605.3", "from memory", True),
    ("metal_transition", "least_nipple", "irc", 6, "one city's plumbing rules", "315.3", "read", True),
    ("solder_near_tube", "least", "ipc", 18, "handbooks of tube makers", "soldering", "from memory", True),
    ("bonding_path", "floating", "irc", 120, "IRC", "E3608.1.1", "read", True),
    ("bonding_path", "within", "irc", 60, "IRC", "E3608.1.1", "read", True),
    ("one_piece", "coil_small", "irc", 12000, "what makers of tube list", "coils", "from memory", True),
    ("one_piece", "coil_middle", "irc", 6000, "what makers of tube list", "coils", "from memory", True),
    ("one_piece", "coil_large", "irc", 3600, "what makers of tube list", "coils", "from memory", True),
]


@pytest.mark.parametrize(("rule", "id_", "family", "inches", "document", "clause", "read", "practice"), LENGTHS)
def test_lengths(
    rule: str, id_: str, family: str, inches: float, document: str, clause: str, read: str, practice: bool
) -> None:
    found = in_force(rule, id_, family)
    assert found.number / INCH == pytest.approx(inches)
    assert (found.source.document, found.source.clause, found.source.read) == (document, clause, read)
    assert found.practice is practice


# ASTM F876-20b, designation table (read): second digit 1, 2, 3 stands 1, 3, 6 months of daylight (30, 91, 182 days)
DAYLIGHT = [("class_1", 30, "read"), ("class_2", 91, "read"), ("class_3", 182, "read")]
# ASTM F876-20b, designation table (read): first digit 1, 3, 5 is 25, 50, 100 percent of the time at 140 degF
CIRCULATION = [("duty_0", 0.0), ("duty_1", 0.25), ("duty_3", 0.5), ("duty_5", 1.0)]


@pytest.mark.parametrize(("id_", "days", "read"), DAYLIGHT)
@pytest.mark.parametrize("family", FAMILIES)
def test_daylight_classes(family: str, id_: str, days: int, read: str) -> None:
    found = in_force("sun_time", id_, family)
    assert (found.number, found.source.document, found.source.edition) == (days, "ASTM F876", "2020b")
    assert found.source.read == read


@pytest.mark.parametrize(("id_", "share"), CIRCULATION)
@pytest.mark.parametrize("family", FAMILIES)
def test_circulation_classes(family: str, id_: str, share: float) -> None:
    found = in_force("recirculation_class", id_, family)
    assert found.number == pytest.approx(24 * share)
    assert (found.source.document, found.source.edition, found.source.read) == ("ASTM F876", "2020b", "read")


def test_heat_of_a_circulating_loop() -> None:
    """140 degF: a trade association's note of 2018 (read)."""
    assert in_force("recirculation_class", "warm", "irc").number * 1.8 + 32 == pytest.approx(140)


def test_daylight_without_a_class() -> None:
    """30 days: the cautious end of the 30 to 60 that trade pages print (read); practice."""
    found = in_force("sun_time", "unknown", "irc")
    assert (found.number, found.practice, found.source.read) == (30, True, "read")


# largest sizes: F1807-15, F2098-18, F1960-23a (read in their scopes); F2159, F2080, F3347/F3348 from memory
SIZES = [
    ("crimp_size", "2", "read"),
    ("pe_rt_crimp_size", "1-1/4", "read"),
    ("clamp_size", "1", "read"),
    ("expansion_size", "3", "read"),
    ("plastic_insert_size", "1", "from memory"),
    ("sleeve_size", "1", "from memory"),
    ("press_size", "2", "from memory"),
]


@pytest.mark.parametrize(("id_", "size", "read"), SIZES)
def test_sizes_of_joining_standards(id_: str, size: str, read: str) -> None:
    for family in FAMILIES:
        found = in_force("joint_system", id_, family)
        assert (found.value, found.source.read, found.practice) == (size, read, read == "from memory")


# method and the standard of its fitting: ASTM scopes (read); F3347, F3348, F2854 from memory; ASSE 1061 (read)
METHODS = [
    ("copper crimp ring", {"F1807", "F2159"}),
    ("clamp ring", {"F1807", "F2159", "F2098"}),
    ("expansion ring", {"F1960"}),
    ("expansion sleeve", {"F2080"}),
    ("press sleeve", {"F3347", "F3348"}),
]


@pytest.mark.parametrize(("word", "standards"), METHODS)
def test_methods_and_their_standards(word: str, standards: set[str]) -> None:
    assert set(WANTED[word]) == standards


def test_the_five_sizes_of_the_clamp_standard() -> None:
    """ASTM F2098-18, scope (read): 3/8, 1/2, 5/8, 3/4 and 1."""
    made = [size for size in ("1/4", "3/8", "1/2", "5/8", "3/4", "1", "1-1/4", "1-1/2", "2") if within(size, "1")]
    assert made == ["3/8", "1/2", "5/8", "3/4", "1"]


# words of a limit: rule, limit, family, document, clause, read
WORDS = [
    ("print_marks", "potable", "ipc", "IPC", "605.3 (NSF/ANSI 61)", "read"),
    ("print_marks", "potable", "irc", "IRC", "P2906", "from memory"),
    ("print_marks", "potable", "upc", "UPC", "604.1", "from memory"),
    ("print_marks", "pex_standard", "irc", "IRC", "Table P2906.5", "from memory"),
    ("unlisted_material", "listed", "ipc", "IPC", "Table 605.4", "read"),
    ("unlisted_material", "listed", "irc", "IRC", "Table P2906.5", "from memory"),
    ("unlisted_material", "listed", "upc", "UPC", "Table 604.1", "from memory"),
    ("lead_free", "bodies", "ipc", "IPC", "605.2.1", "read"),
    ("lead_free", "bodies", "upc", "UPC", "604.2", "read"),
    ("lead_free", "bodies", "irc", "IRC", "P2906.2", "from memory"),
    ("lead_free", "solder", "upc", "UPC", "604.2", "read"),
    ("metal_transition", "between", "irc", "IRC", "P2906.17.1", "from memory"),
    ("metal_transition", "between", "ipc", "IPC", "605.24.1", "from memory"),
    ("hidden_joint", "slab_copper", "upc", "UPC", "609.3", "read"),
    ("hidden_joint", "slab_copper", "irc", "IRC", "P2904.15", "read"),
    ("bonding_path", "electrode", "irc", "IRC", "E3608.1.1", "read"),
    ("bonding_path", "electrode", "upc", "UPC, local copies", "604.8", "read"),
]


@pytest.mark.parametrize(("rule", "id_", "family", "document", "clause", "read"), WORDS)
def test_clauses(rule: str, id_: str, family: str, document: str, clause: str, read: str) -> None:
    found = in_force(rule, id_, family)
    assert (found.source.document, found.source.clause, found.source.read) == (document, clause, read)
    assert found.practice is False


def test_figures_in_words() -> None:
    """0.25 percent weighted (IPC 605.2.1, read), 0.2 percent in solder (UPC 604.2, read), rings 1/8 to 1/4 in (makers, read)."""
    assert "0.25 percent" in str(in_force("lead_free", "bodies", "ipc").value)
    assert "0.2 percent" in str(in_force("lead_free", "solder", "upc").value)
    assert "1/8 to 1/4 in" in str(in_force("ring_check", "position", None).value)


# required cover in inches: the deeper of 12 and frost with 6 below it (IRC P2603.5, IPC 305.4) or 12 (UPC 609.1); read
COVER = [("irc", 36, 42), ("ipc", 36, 42), ("upc", 36, 48), ("irc", 3, 12), ("upc", 0.5, 12.5), ("ipc", 60, 66)]


@pytest.mark.parametrize(("family", "frost", "needed"), COVER)
def test_cover_needed(family: str, frost: float, needed: float) -> None:
    for cover, kind in ((needed, "holds"), (needed - 0.125, "broken")):
        run = {"from": "street", "to": "meter", "tube": "old", "length": "40 ft", "cover": f"{cover} in"}
        changes = {"runs/service": run, "places/yard/frost": f"{frost} in", "code/family": family}
        judged = judge(plan_of({"change": changes}), "buried_pipe")
        assert next(one for one in judged if one.subject.path[-1] == "cover").outcome.kind == kind


# print lines as makers print them: what they name (ASTM F876, section on marking, read)
PRINTS = [
    (("3/4 CTS SDR 9 PEX 5306 ASTM F876/F877/F1807",), {"F876", "F877", "F1807"}, "5306"),
    (("PEX-b 3308", "ASTM F876/7", "CSA B137.5"), {"F876", "F877", "B137.5"}, "3308"),
    (("astm f 2159/1807",), {"F2159", "F1807"}, None),
    (("ASSE 1061", "01960 ft"), {"ASSE 1061"}, None),
]


@pytest.mark.parametrize(("marks", "standards", "digits"), PRINTS)
def test_print_lines(marks: tuple[str, ...], standards: set[str], digits: str | None) -> None:
    assert standards_in(marks) == standards
    assert class_digits(Tube("x", print=marks)) == digits
