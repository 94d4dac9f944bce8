"""What the shape stage loads, how much it says, and that no file keeps it busy."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.shape.reading import refusal

ROOT = Path(__file__).parents[2]
FULL = ROOT / "tests" / "schema" / "full.plan.yaml"
HEAD = "plancheck: 1\nparts: {}\n"
RUN = HEAD + "runs:\n  a:\n    from: b\n    to: c\n    tube: d\n"
UNWANTED = (
    "jsonschema",
    "dataclasses",
    "numpy",
    "importlib.metadata",
    "importlib.resources",
    "pathlib",
    "rich",
    "json",
    "difflib",
)


def loaded_by(code: str) -> set[str]:
    """The modules a fresh process has loaded after the code."""
    script = f"import sys\n{code}\nprint('LOADED', *sorted(sys.modules))"
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    return set(done.stdout.partition("LOADED")[2].split())


def test_accepting_loads_nothing_that_only_a_refusal_needs() -> None:
    code = (
        "from plancheck.reading import read_plan\nfrom plancheck.shape import check_shape\n"
        f"check_shape(read_plan({str(FULL)!r}))"
    )
    loaded = loaded_by(code)
    assert "jsonschema_rs" in loaded
    assert not loaded.intersection(UNWANTED)
    assert not [name for name in loaded if name.startswith("plancheck.shape") and name != "plancheck.shape"]


def test_importing_the_stage_loads_no_validator() -> None:
    assert not loaded_by("import plancheck.shape").intersection(("jsonschema_rs", *UNWANTED))


def test_lists_fifty_and_counts_the_rest() -> None:
    def text(bad: int) -> str:
        return HEAD + "places:\n" + "".join(f"  a{number}: {{level: 3}}\n" for number in range(bad))

    for bad, more in ((49, 0), (50, 0), (51, 1), (60, 10), (700, 650)):
        refused = refusal(text(bad))
        assert refused is not None
        assert (len(refused.problems), refused.more) == (min(bad, 50), more)
        assert [problem.line for problem in refused.problems] == list(range(4, 4 + min(bad, 50)))


def test_the_first_fifty_are_the_first_in_the_file_wherever_they_come_from() -> None:
    sections = "runs:\n" + "".join(f"  r{number}: {{from: a}}\n" for number in range(40))
    places = "places:\n" + "".join(f"  a{number}: {{level: 3}}\n" for number in range(40))
    refused = refusal(HEAD + sections + places + "extras: {}\n")
    assert refused is not None
    assert [problem.line for problem in refused.problems] == [*range(4, 44), *range(45, 55)]
    assert refused.more == 31


def test_a_thing_with_countless_faults_is_not_looked_through_to_the_end() -> None:
    refused = refusal(RUN + "    path:\n" + "      - [1 m, 2, 3 m]\n" * 2000)
    assert refused is not None
    assert len(refused.problems) == 50
    assert refused.more >= 450


BIG = {
    "unknown keys in many parts": HEAD[:13]
    + "parts:\n"
    + "".join(f"  x{n}: {{is: tee, foo: 1, bar: 2}}\n" for n in range(45_000)),
    "bad names": HEAD[:13] + "parts:\n" + "".join(f'  "a b{n}": {{is: tee}}\n' for n in range(60_000)),
    "unknown keys in one part": HEAD[:13]
    + "parts:\n  x:\n    is: tee\n"
    + "".join(f"    k{n}: 1\n" for n in range(120_000)),
    "unknown sections": HEAD + "".join(f"k{n}: 1\n" for n in range(150_000)),
    "a path of bad points": RUN + "    path:\n" + "      - [1 m, 2, 3 m]\n" * 45_000,
    "a path with one bad point": RUN + "    path:\n" + "      - [1 m, 2 m, 3 m]\n" * 45_000 + "      - [1 m, 2 m, 3]\n",
    "names of hot things": RUN
    + "    clear:\n"
    + "".join(f"      p{n}: 8 in beside\n" for n in range(60_000))
    + "      q: 4\n",
    "bad names of hot things": RUN + "    clear:\n" + "".join(f'      "p {n}": 8 in beside\n' for n in range(60_000)),
    "waivers": HEAD + "waivers:\n" + "  - x\n" * 150_000,
    "a kind of two million letters": HEAD[:13] + "parts:\n  x: {is: " + "v" * 1_900_000 + "}\n",
    "a key of two million letters": HEAD[:13] + "parts:\n  x:\n    is: tee\n    ? " + "v" * 1_900_000 + "\n    : 1\n",
    "a name of a million words": HEAD[:13] + "parts:\n  ? " + "v " * 950_000 + "\n  : {is: tee}\n",
}


@pytest.mark.parametrize("text", BIG.values(), ids=BIG.keys())
def test_no_file_keeps_it_busy(text: str) -> None:
    """About 2 s are allowed for 2 MB on a slow machine, reading included; each takes well under one here."""
    assert len(text) < 2_000_000
    start = time.process_time()
    refused = refusal(text)
    assert refused is not None
    assert 0 < len(refused.problems) <= 50
    assert all(len(problem.says) < 200 and len(problem.mend) < 600 for problem in refused.problems)
    assert time.process_time() - start < 4
