"""One cause, one finding: which rule on material and joints speaks first, and what is printed under it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from plancheck.check import check_file
from plancheck.report.data import Finding
from tests.casework import TODAY, plan_of


def findings(folder: Path, changes: dict[str, Any], base: str = "small") -> list[Finding]:
    file = folder / "tied.plan.yaml"
    file.write_text(json.dumps(plan_of({"base": base, "change": changes})), encoding="utf-8")
    return list(check_file(str(file), TODAY).findings)


def under(found: list[Finding], rule: str, path: str) -> tuple[str, str] | None:
    """Rule and path of the finding under which another is printed; None where it stands by itself."""
    one = next(one for one in found if (one.rule, one.path) == (rule, path))
    root = next((other for other in found if other.number == one.under), None)
    return (root.rule, root.path) if root is not None else None


def test_heating_tube_is_told_at_its_print_and_its_colour_follows(tmp_path: Path) -> None:
    odd = {"material": "PEX-A", "size": "1/2", "colour": "orange", "print": ["ASTM F876", "ASTM F1807"]}
    runs = {"runs/bath-lav-c/tube": "odd", "runs/bath-wc-c/tube": "odd"}
    joints = {"runs/bath-lav-c/joint": "copper crimp ring", "runs/bath-wc-c/joint": "copper crimp ring"}
    found = findings(tmp_path, {"tubes/odd": odd, **runs, **joints})
    assert under(found, "print_marks", "/tubes/odd/print") is None
    assert under(found, "service_colour", "/runs/bath-lav-c") == ("print_marks", "/tubes/odd/print")
    assert under(found, "service_colour", "/runs/bath-wc-c") == ("print_marks", "/tubes/odd/print")


def test_reclaimed_tube_is_a_hazard_first_and_its_print_follows(tmp_path: Path) -> None:
    odd = {"material": "PEX-A", "size": "1/2", "colour": "purple", "print": ["ASTM F876", "reclaimed water"]}
    found = findings(tmp_path, {"tubes/odd": odd, "runs/bath-lav-c/tube": "odd"})
    assert under(found, "service_colour", "/runs/bath-lav-c") is None
    assert under(found, "print_marks", "/tubes/odd/print") == ("service_colour", "/runs/bath-lav-c")


def test_tube_that_lacks_the_standard_of_all_its_rings_is_told_once(tmp_path: Path) -> None:
    found = findings(tmp_path, {"tubes/blue/print": ["PEX 5106", "ASTM F876", "NSF-pw"]})
    assert under(found, "joint_system", "/tubes/blue/print") is None
    for run in ("bath-cold", "bath-lav-c", "bath-link", "bath-wc-c", "bath-shower-c"):
        assert under(found, "joint_system", f"/runs/{run}/joint") == ("joint_system", "/tubes/blue/print")


def test_tube_with_nothing_printed_is_told_once(tmp_path: Path) -> None:
    found = findings(tmp_path, {"tubes/blue/print": "none"})
    assert under(found, "print_marks", "/tubes/blue/print") is None
    assert under(found, "joint_system", "/tubes/blue/print") == ("print_marks", "/tubes/blue/print")
    assert under(found, "joint_system", "/runs/bath-cold/joint") == ("print_marks", "/tubes/blue/print")


def test_a_hidden_union_speaks_before_the_coupling_that_need_not_be(tmp_path: Path) -> None:
    along = {
        "runs/bath-cold/along": [{"is": "coupling", "at": "5 ft", "hidden": True}],
        "runs/bath-cold/joint": "union",
    }
    found = findings(tmp_path, along)
    assert under(found, "hidden_joint", "/runs/bath-cold/along/0") is None
    assert under(found, "one_piece", "/runs/bath-cold/along/0") == ("hidden_joint", "/runs/bath-cold/along/0")


def test_a_loop_too_hot_is_told_at_the_heater(tmp_path: Path) -> None:
    pump = {"is": "pump", "control": "demand", "flow": "2 gpm", "place": "house"}
    found = findings(tmp_path, {"parts/heater/set": "150 degF", "parts/pump": pump}, "loop")
    root = under(found, "recirculation_class", "/tubes/red")
    assert root is not None
    assert root[1] == "/parts/heater/set"
