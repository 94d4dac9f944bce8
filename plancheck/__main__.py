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
        number = run(sys.argv[1:])
        sys.stdout.flush()
        return number
    except BrokenPipeError:
        _drop_output()
        return 1
    except KeyboardInterrupt:
        return 130
    except OSError as wrong:
        if wrong.filename is not None:
            return _failed(wrong)
        _drop_output()
        sys.stderr.write(f"plancheck: what it prints cannot be written: {wrong.strerror}\n")
        return 2
    except Exception as wrong:  # noqa: BLE001 - the last line of defence: no traceback reaches a user
        return _failed(wrong)


def _failed(wrong: Exception) -> int:
    sys.stderr.write(f"plancheck itself failed: {type(wrong).__name__}: {wrong}\n")
    return 3


def _drop_output() -> None:
    """Lets nothing more be printed: what is left would fail again at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main())
