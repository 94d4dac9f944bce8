"""How long a check takes, as ratios measured in one run.

    .venv/bin/python -m tests.bench.bench_check [PLAN]

- cold: a whole process, against `python -c pass` and against the plain stack (yaml.safe_load, jsonschema.validate and an
  import of rich on the same file), runs interleaved, medians;
- reading with places, and the warm check (read, shape, build, trace, rules) against the event floor: PyYAML's C
  events of the same file made into Python objects and thrown away.
Set no PYTHONDONTWRITEBYTECODE: a cold start without byte code measures the compiler.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
PLAN = ROOT / "sample_plans" / "boathouse.plan.yaml"
ROUNDS = 25
# what the installed command does; `python -m plancheck` adds some 3 ms of runpy
COMMAND = "import sys; from plancheck.__main__ import main; sys.exit(main())"
FIRST = (
    "heater_clearance",
    "heat_standoff",
    "service_colour",
    "branch_shutoff",
    "test_port",
    "support_spacing",
    "bend_radius",
)
FLOW = (
    "outlet_capacity",
    "water_speed",
    "service_size",
    "shower_swing",
    "ring_benefit",
    "gauge_reading",
    "heater_capacity",
)


def cold(commands: dict[str, list[str]]) -> dict[str, float]:
    """Median seconds of each command, run in turn."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    times: dict[str, list[float]] = {name: [] for name in commands}
    for round_ in range(ROUNDS + 2):
        for name, command in commands.items():
            start = time.perf_counter()
            subprocess.run(command, cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, check=False)
            if round_ >= 2:
                times[name].append(time.perf_counter() - start)
    return {name: statistics.median(found) for name, found in times.items()}


def warm(call: Callable[[], object], seconds: float = 1.5) -> float:
    """Median seconds of a call in this process."""
    times = []
    end = time.perf_counter() + seconds
    while time.perf_counter() < end or len(times) < 10:
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Prints the ratios and the goal beside each."""
    plan = Path(sys.argv[1]) if len(sys.argv) > 1 else PLAN
    stack = (
        "import sys, json, yaml, jsonschema, rich.console\n"
        f"data = yaml.safe_load(open({str(plan)!r}, encoding='utf-8'))\n"
        f"schema = json.load(open({str(ROOT / 'schemas' / 'plan.schema.json')!r}, encoding='utf-8'))\n"
        "data = json.loads(json.dumps(data, default=str))\n"
        "jsonschema.validate(data, schema, jsonschema.Draft202012Validator)\n"
    )
    others = [name.stem for name in sorted((ROOT / "rules").glob("*.py")) if name.stem not in FLOW]
    apart = [word for name in others for word in ("--only", name)]
    seven = [word for name in FIRST for word in ("--only", name)]
    imports = "import yaml, jsonschema_rs, argparse, json, textwrap"
    times = cold(
        {
            "pass": [sys.executable, "-c", "pass"],
            "check": [sys.executable, "-c", COMMAND, "check", str(plan)],
            "apart": [sys.executable, "-c", COMMAND, "check", str(plan), *apart],
            "seven": [sys.executable, "-c", COMMAND, "check", str(plan), *seven],
            "imports": [sys.executable, "-c", imports],
            "stack": [sys.executable, "-c", stack],
        }
    )
    print(f"plan of {plan.stat().st_size:,} bytes; python -c pass {times['pass'] * 1e3:.1f} ms")
    print(
        f"cold check / python -c pass          {times['check'] / times['pass']:5.2f}   (goal at most 14 with all rules)"
    )
    print(f"  the flow of water apart            {times['apart'] / times['pass']:5.2f}   (goal at most 11)")
    print(f"  the first seven rules alone        {times['seven'] / times['pass']:5.2f}   (goal at most 9)")
    print(
        f"unavoidable imports / python -c pass {times['imports'] / times['pass']:5.2f}   (the floor of the row above)"
    )
    print(f"plain stack / cold check             {times['stack'] / times['check']:5.2f}   (goal at least 3)")
    _warm(plan)


def _warm(plan: Path) -> None:
    from yaml._yaml import CParser
    from yaml.events import StreamEndEvent

    from plancheck.check import facts_of
    from plancheck.engine import run_rules
    from plancheck.loader import built_in_rules
    from plancheck.reading import read_bytes

    raw = plan.read_bytes()
    rules = built_in_rules()

    def floor() -> None:
        get_event = CParser(raw).get_event
        while get_event().__class__ is not StreamEndEvent:
            pass

    seven = tuple(rule for rule in rules if rule.id in FIRST)
    apart = tuple(rule for rule in rules if rule.id not in FLOW)
    read, few, most, whole, lowest = [], [], [], [], []
    for _ in range(3):  # in turn, so that a slow stretch of the machine meets all of them
        lowest.append(warm(floor))
        read.append(warm(lambda: read_bytes(raw, "plan")))
        few.append(warm(lambda: run_rules(seven, facts_of(read_bytes(raw, "plan"), "2026-05-05"))))
        most.append(warm(lambda: run_rules(apart, facts_of(read_bytes(raw, "plan"), "2026-05-05"))))
        whole.append(warm(lambda: run_rules(rules, facts_of(read_bytes(raw, "plan"), "2026-05-05"))))
    base = statistics.median(lowest)
    print(f"event floor {base * 1e3:.2f} ms")
    print(f"reading with places / event floor    {statistics.median(read) / base:5.2f}   (goal at most 1.6)")
    print(f"warm check, first seven rules / floor {statistics.median(few) / base:4.2f}   (goal at most 6)")
    print(f"warm check, flow apart / event floor {statistics.median(most) / base:5.2f}")
    print(f"warm check, all rules / event floor  {statistics.median(whole) / base:5.2f}")


if __name__ == "__main__":
    main()
