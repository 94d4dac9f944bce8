"""Many plans at once, in processes of their own; the answers come in the order of the plans, as from one process."""

from __future__ import annotations

import multiprocessing
import signal
import threading
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from typing import TYPE_CHECKING

from plancheck.errors import Unreadable
from plancheck.report.data import PlanReport

if TYPE_CHECKING:
    from multiprocessing.context import BaseContext

    from plancheck.calls import Call
    from plancheck.loader import LoadedRule
    from plancheck.report.assemble import Options

Answer = PlanReport | Unreadable


class _Worker:
    """What a process needs to answer; set once when it begins."""

    call: Call
    rules: tuple[LoadedRule, ...]
    options: Options


def answers_of(call: Call, options: Options) -> Iterator[Answer]:
    """The answer on each plan of the call, from as many processes as it names."""
    jobs = min(call.jobs, len(call.plans))
    pool = ProcessPoolExecutor(jobs, mp_context=_context(), initializer=_begin, initargs=(call, options))
    try:
        with _uninterrupted():
            answers = pool.map(_answer, call.plans)
        yield from answers
    finally:  # also after an interrupt: the plans in work are waited for, the rest is let be
        pool.shutdown(cancel_futures=True)


def _context() -> BaseContext:
    """Processes that begin afresh; where there are forks, from one that was begun for that."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # later it would let interrupts through again
    return multiprocessing.get_context("forkserver")


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Keeps an interrupt back. Processes begun here never see one: this one alone does, and lets the others end."""
    if not hasattr(signal, "pthread_sigmask") or threading.current_thread() is not threading.main_thread():
        yield
        return
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})


def _begin(call: Call, options: Options) -> None:
    from plancheck.calls import rules_of

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _Worker.call, _Worker.options = call, options
    _Worker.rules = rules_of(call)


def _answer(file: str) -> Answer:
    from plancheck.check import check_file

    try:
        return check_file(file, _Worker.call.today, _Worker.rules, _Worker.options)
    except Unreadable as wrong:
        return wrong
