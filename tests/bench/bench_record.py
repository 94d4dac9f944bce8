"""How long a class of records takes to make, against typing's own, as a ratio measured in one run.

.venv/bin/python -m tests.bench.bench_record
"""

import statistics
import time
import types
from typing import NamedTuple as Typed

from plancheck.record import NamedTuple

_CLASSES = 200
_ROUNDS = 9


def seconds(base: object) -> float:
    """Seconds that so many classes of three fields take."""
    start = time.perf_counter()
    for _ in range(_CLASSES):
        namespace = {"__annotations__": {"a": float, "b": str, "c": int}, "c": 0, "__module__": __name__}
        types.new_class("Made", (base,), {}, lambda body, given=namespace: body.update(given))
    return time.perf_counter() - start


def main() -> None:
    """Print the ratio: medians, the two in turn."""
    found = [(seconds(Typed), seconds(NamedTuple)) for _ in range(_ROUNDS)]
    ours = statistics.median(one for _, one in found)
    theirs = statistics.median(one for one, _ in found)
    print(f"a class of records: {ours / _CLASSES * 1000:.3f} ms, typing's own {theirs / ours:.1f} times as long")


if __name__ == "__main__":
    main()
