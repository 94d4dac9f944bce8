"""The command: plancheck check, why, rules."""

from __future__ import annotations

import gc
import os
import sys


def main() -> int:
    """Runs the command line and gives the exit number: 0 nothing, 1 findings, 2 unreadable, 3 failed."""
    gc.disable()  # one short run: collecting costs more than it frees
    from plancheck.cli import run

    try:
        return run(sys.argv[1:])
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130
    except Exception as wrong:  # noqa: BLE001 - the last line of defence: no traceback reaches a user
        sys.stderr.write(f"plancheck itself failed: {type(wrong).__name__}: {wrong}\n")
        return 3


if __name__ == "__main__":
    sys.exit(main())
