"""Several hands at one pile of work: each piece is worked in a process, and handed back in order.

In: pieces, a function of a module that works one, and what to say when a process dies at a piece. Out: the
results in the order of the pieces. What the work is, is left to others. A process that dies takes only its
own piece with it.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any, TypeVar

__all__ = ["each", "hands_for"]

Piece = TypeVar("Piece")
Result = TypeVar("Result")

_FEWEST = 4
"""Starting a process takes as long as proving a few patterns: one for so many, unless told otherwise."""


def hands_for(pieces: int, asked: int | None = None) -> int:
    """How many processes to work with: as many as asked for, else one a core; 1 works in this process."""
    if asked is not None:
        return max(1, min(asked, pieces))
    return max(1, min(_cores(), pieces // _FEWEST))


def _cores() -> int:
    those_allowed = getattr(os, "sched_getaffinity", None)  # Linux
    return len(those_allowed(0)) if those_allowed else os.cpu_count() or 1


def each(
    pieces: Sequence[Piece],
    work: Callable[[Piece], Result],
    died: Callable[[Piece, int | None], Result],
    hands: int,
    told: Callable[[int], None] = lambda _: None,
    start: str = "spawn",
) -> Iterator[Result]:
    """Work every piece; the results come in the order of the pieces, each as soon as it can.

    work : a function of a module, so that a new process finds it; it must not raise.
    died : the result for a piece at which a process ended, from the piece and the exit code.
    told : is called with the number of pieces done so far.
    start : "spawn", which all systems have, or "fork".
    """
    if hands <= 1:
        for n, piece in enumerate(pieces, 1):
            result = work(piece)
            told(n)
            yield result
        return
    crew = _Crew(partial(_serve, work), start)
    done: dict[int, Result] = {}
    waiting = deque(range(len(pieces)))
    given = finished = 0
    try:
        while given < len(pieces):
            while waiting and len(crew.busy) < hands:
                if crew.give(waiting[0], pieces[waiting[0]]):
                    waiting.popleft()
            for n, results, exit_code in crew.finished():
                done[n] = results[0] if results else died(pieces[n], exit_code)
                finished += 1
                told(finished)
            while given in done:
                yield done.pop(given)
                given += 1
    finally:
        crew.send_home()


@dataclass(slots=True)
class _Hand:
    """A process, the line to it, and the number of the piece it works on."""

    process: BaseProcess
    line: Connection
    number: int = -1


class _Crew:
    """The processes: those at work and those that wait."""

    def __init__(self, serve: Callable[[Connection], None], start: str) -> None:
        self.busy: list[_Hand] = []
        self._idle: list[_Hand] = []
        self._serve = serve
        self._start = start

    def give(self, number: int, piece: object) -> bool:
        """Hand a piece to a process that waits, or to a new one; False if the one that waited had died."""
        hand = self._idle.pop() if self._idle else self._new()
        hand.number = number
        try:
            hand.line.send(piece)
        except OSError:
            self._bury(hand)
            return False
        self.busy.append(hand)
        return True

    def _new(self) -> _Hand:
        context = multiprocessing.get_context(self._start)
        ours, theirs = context.Pipe()
        process = context.Process(target=self._serve, args=(theirs,), daemon=True)  # type: ignore[attr-defined]
        with _no_interrupt():
            process.start()
        theirs.close()
        return _Hand(process, ours)

    def finished(self) -> Iterator[tuple[int, list[Any], int | None]]:
        """Wait until a process has done or died: its piece, its result in a list (empty: died), exit code."""
        ready = wait([hand.line for hand in self.busy])
        for hand in [hand for hand in self.busy if hand.line in ready]:
            self.busy.remove(hand)
            try:
                result = hand.line.recv()
            except (EOFError, OSError):
                self._bury(hand)
                yield hand.number, [], hand.process.exitcode
            else:
                self._idle.append(hand)
                yield hand.number, [result], None

    def _bury(self, hand: _Hand) -> None:
        hand.line.close()
        hand.process.join()

    def send_home(self) -> None:
        """End every process at once."""
        every = [*self._idle, *self.busy]
        for hand in every:
            hand.process.kill()
        for hand in every:
            self._bury(hand)
        self._idle.clear()
        self.busy.clear()


@contextmanager
def _no_interrupt() -> Iterator[None]:
    """A process started here never hears Ctrl-C: the one that started it does, and ends it."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _serve(work: Callable[[Any], object], line: Connection) -> None:
    """Work pieces until no more come."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    while True:
        try:
            piece = line.recv()
        except (EOFError, OSError):
            return
        line.send(work(piece))
