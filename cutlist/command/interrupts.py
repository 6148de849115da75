"""Ctrl-C while something long goes on: heard at once, wherever the work happens to be.

A signal is handled by the main thread, between two steps of Python. A long call of a solver or of
compiled code would hold it up, so such work runs in a thread of its own, and the main thread does
nothing but wait for it and listen.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NoReturn, Protocol, TypeVar

from cutlist.errors import StoppedError

if TYPE_CHECKING:
    from cutlist.nesting.stopping import WhenAsked

_T = TypeVar("_T")

#: Seconds between two looks whether the work is done.
_LOOK = 0.1
#: What is said once Ctrl-C was heard.
TAKING = "Ctrl-C heard: taking the best plan so far; once more to leave without one"
#: Work that was left behind in the middle.
_left: list[threading.Thread] = []


class Shown(Protocol):
    """What shows progress: knows whether there is a plan, and can say something beside."""

    @property
    def has_plan(self) -> bool:
        """Whether there is a plan to take."""
        ...

    def say(self, text: str) -> None:
        """Show a line that stays."""
        ...


def alone(work: Callable[[], _T]) -> _T:
    """Do some work in a thread of its own and return what it returns, or raise what it raises.

    Raises
    ------
    KeyboardInterrupt
        If a handler raises it meanwhile. The work is left behind; see :func:`leave`.
    """
    made: list[_T] = []
    raised: list[BaseException] = []

    def run() -> None:
        try:
            made.append(work())
        except BaseException as error:
            raised.append(error)

    thread = threading.Thread(target=run, name="work", daemon=True)
    thread.start()
    try:
        while thread.is_alive():
            thread.join(_LOOK)
    except KeyboardInterrupt:
        _left.append(thread)
        raise
    if raised:
        raise raised[0]
    return made[0]


@contextmanager
def interruptible(asked: WhenAsked, watcher: Shown) -> Iterator[None]:
    """Let the first Ctrl-C end the search, but not the writing, if there is a plan to write."""

    def on_interrupt(*_: object) -> None:
        is_too_early = asked.was_asked or not watcher.has_plan
        asked.ask()
        if is_too_early:
            raise KeyboardInterrupt
        watcher.say(TAKING)

    before = signal.signal(signal.SIGINT, on_interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def leave(status: int) -> NoReturn:
    """End the process with a status; work left behind is not waited for."""
    if any(thread.is_alive() for thread in _left):
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        os._exit(status)
    sys.exit(status)


def leave_at_once(*_: object) -> NoReturn:
    """End the process on Ctrl-C while libraries are loaded: some make an error of their own."""
    os.write(2, b"interrupted before there was a plan\n")
    os._exit(StoppedError.exit_status)
