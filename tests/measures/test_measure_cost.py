"""Reading measures stays cheap: nothing heavy at start-up, and no memory that grows with the number of plans."""

from __future__ import annotations

import subprocess
import sys

from plancheck.measures import lengths, quantities, read_length, read_quantity


def test_start_up_loads_no_refusals_and_nothing_heavy() -> None:
    heavy = (
        "plancheck.measures.refusals",
        "plancheck.measures.questions",
        "fractions",
        "decimal",
        "dataclasses",
        "numpy",
    )
    program = f"import sys, plancheck.measures; print([name for name in {heavy!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_memory_is_bounded() -> None:
    for n in range(10_000):
        read_length(f"{n} mm")
        read_quantity(f"{n} psi", "pressure")
    assert 0 < len(lengths._MEMO) <= 5000
    assert 0 < len(quantities._MEMO) <= 5000
