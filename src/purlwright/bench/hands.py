"""Work off the event loop: processes that knit, so that the page is answered while they do.

In: a task by name, its words as bytes, and what it is about. Out: the bytes of the answer. A newer task
about the same thing takes the place of one that still waits; a task that takes too long is stopped with its
process, and the next one gets a new process. What a task does is left to ``worker``.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import signal
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from time import monotonic
from typing import NamedTuple

from purlwright.bench.refusals import Refused

__all__ = ["Fault", "Hand", "Hands", "Superseded"]


class Superseded(Exception):  # noqa: N818 - nothing is wrong: it is simply no longer wanted
    """A newer request about the same thing came before this one was begun."""


class Fault(Exception):  # noqa: N818
    """A fault of ours while the task was done. ``trace`` is for those who mend it."""

    def __init__(self, kind: str, trace: str) -> None:
        super().__init__(kind)
        self.trace = trace


class Done(NamedTuple):
    """What a worker sends back: "done" with bytes, "refused" with the refusal, "fault" with its kind."""

    how: str
    answer: bytes = b""
    refused: Refused | None = None
    kind: str = ""
    trace: str = ""


@dataclass(slots=True)
class _Waiting:
    task: str
    body: bytes
    told: tuple[str, str]
    answer: asyncio.Future[bytes]
    about: tuple[str, ...] = ()
    begun: float = 0.0
    dropped: bool = False
    """Whether it is no longer wanted, so that its process may be ended."""


@dataclass(slots=True)
class Hand:
    """One process, and the tasks that wait for it."""

    name: str
    limit_s: float
    patience_s: float | None = None
    """After how long work that is no longer wanted is ended with its process; None lets it finish."""
    gently: int = 0
    """How far its process lets others go first, so that typing never waits for it."""
    _at_work: _Waiting | None = None
    _process: BaseProcess | None = None
    _line: Connection | None = None
    _waiting: OrderedDict[tuple[str, ...], _Waiting] = field(default_factory=OrderedDict)
    _thread: ThreadPoolExecutor | None = None
    _runner: asyncio.Task[None] | None = None
    _numbers: int = 0
    _ended_by_us: bool = False
    _closing: Refused | None = None

    async def ask(
        self,
        task: str,
        body: bytes,
        about: tuple[str, ...] | None = None,
        told: tuple[str, str] = ("", ""),
    ) -> bytes:
        """Have a task done.

        about : what a newer one replaces; None if each is wanted.
        told : where the pattern stands on the disk, and the words of the house style.

        Raises Superseded, Refused, or Fault. Whoever stops waiting, as a page that was closed, lets go of it.
        """
        if self._closing is not None:
            raise self._closing
        loop = asyncio.get_running_loop()
        if about is None:
            self._numbers += 1
            about = (task, "", str(self._numbers))
        older = self._waiting.pop(about, None)
        if older is not None and not older.answer.done():
            older.answer.set_exception(Superseded())
        self._drop(about)
        mine = _Waiting(task, body, told, loop.create_future(), about)
        self._waiting[about] = mine
        if self._runner is None or self._runner.done():
            self._runner = loop.create_task(self._work())
        try:
            return await mine.answer
        except asyncio.CancelledError:
            if self._at_work is mine and self.patience_s is not None:
                left = max(0.0, mine.begun + self.patience_s - monotonic())
                loop.call_later(left, self._stop, mine)
            raise

    def _drop(self, about: tuple[str, ...]) -> None:
        """Let go of what is at work on an older text of the same, if it has been at it for long."""
        now = self._at_work
        if now is None or now.about != about or self.patience_s is None:
            return
        if monotonic() - now.begun >= self.patience_s:
            self._stop(now)

    def _stop(self, unwanted: _Waiting) -> None:
        """End the process that is at work on what nobody waits for any longer."""
        if self._at_work is not unwanted or unwanted.dropped:
            return
        unwanted.dropped = True
        if not unwanted.answer.done():
            unwanted.answer.set_exception(Superseded())
        if self._process is not None:
            self._ended_by_us = True
            self._process.kill()

    def refuse(self, why: Refused) -> None:
        """Answer whoever waits, and whoever comes, with a refusal; ``close`` ends the process."""
        self._closing = why
        now = [self._at_work] if self._at_work is not None else []
        for one in (*now, *self._waiting.values()):
            if not one.answer.done():
                one.answer.set_exception(why)

    async def warm(self) -> None:
        """Start the process before it is needed, so that the first answer does not wait for it."""
        await self.ask("warm", b"", ("warm",))

    async def _work(self) -> None:
        loop = asyncio.get_running_loop()
        if self._thread is None:
            self._thread = ThreadPoolExecutor(1, thread_name_prefix=f"bench-{self.name}")
        while self._waiting:
            _, one = self._waiting.popitem(last=False)
            if one.answer.done():  # whoever asked has gone
                continue
            one.begun = monotonic()
            self._at_work = one
            try:
                answer = await loop.run_in_executor(self._thread, self._exchange, one)
            except (Refused, Fault) as why:
                if not one.answer.done():
                    one.answer.set_exception(why)
            else:
                if not one.answer.done():
                    one.answer.set_result(answer)
            finally:
                self._at_work = None

    def _exchange(self, one: _Waiting) -> bytes:
        """Hand over one task and wait for its answer, in a thread of its own."""
        line = self._ready()
        try:
            line.send((one.task, one.body, one.told))
            if not line.poll(self.limit_s):
                self.end()
                raise Refused(
                    503,
                    f"This took longer than {self.limit_s:g} seconds and was stopped. Your words are safe. "
                    "Look for a repeat that is worked very many times, or make the piece smaller.",
                )
            done: Done = line.recv()
        except (EOFError, OSError):
            self.end()
            ended, self._ended_by_us = self._ended_by_us, False
            if ended and not one.dropped:  # ended because of the task before, which had just finished
                return self._exchange(one)
            raise Fault("the process that knitted it ended by itself", "") from None
        if done.refused is not None:
            raise done.refused
        if done.how != "done":
            raise Fault(done.kind, done.trace)
        return done.answer

    def _ready(self) -> Connection:
        if self._process is not None and self._line is not None and self._process.is_alive():
            return self._line
        self.end()
        from purlwright.bench.worker import serve

        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(
            target=serve, args=(theirs, self.gently), daemon=True, name=f"bench-{self.name}"
        )
        before = _hold_interrupts()
        try:
            process.start()
        finally:
            _let_interrupts(before)
        theirs.close()
        self._process, self._line = process, ours
        return ours

    def end(self) -> None:
        """End the process at once; the next task gets a new one."""
        if self._line is not None:
            self._line.close()
        if self._process is not None:
            self._process.kill()
            self._process.join()
        self._process = self._line = None

    def close(self) -> None:
        """End the process and the thread."""
        if self._process is not None:
            self._process.kill()  # whoever waits for it in the thread hears that the line is closed
        if self._thread is not None:
            self._thread.shutdown(wait=True, cancel_futures=True)
        self.end()


def _hold_interrupts() -> object:
    """A process started now never hears Ctrl-C: the one that started it does, and ends it."""
    if not hasattr(signal, "pthread_sigmask"):
        return None
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # the first process would start it, and it lets interrupts in again
    return signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})


def _let_interrupts(before: object) -> None:
    if isinstance(before, set):
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_GENTLY = {"proof": 5, "heavy": 10}
_PATIENCE_S = 2.0
"""A new process takes about so long to have read and knitted the pattern anew."""


class Hands:
    """The processes of one bench: what she types, what is proved behind, what she looks at, what takes
    long.
    """

    def __init__(self, limits_s: dict[str, float] | None = None) -> None:
        limits = {"typing": 10.0, "proof": 60.0, "looking": 30.0, "heavy": 180.0} | (limits_s or {})
        self._hands = {
            name: Hand(name, limit, _PATIENCE_S if name == "heavy" else None, _GENTLY.get(name, 0))
            for name, limit in limits.items()
        }

    def __getitem__(self, name: str) -> Hand:
        return self._hands[name]

    async def warm(self) -> None:
        """Start those that are needed first, one after another: a machine may have few cores."""
        for name in ("typing", "proof", "looking"):
            with suppress(Refused, Fault, Superseded):  # it is started again when it is needed
                await self._hands[name].warm()

    def refuse(self, why: Refused) -> None:
        """Answer everybody who waits, and whoever comes, with a refusal."""
        for hand in self._hands.values():
            hand.refuse(why)

    def close(self) -> None:
        """End them all."""
        for hand in self._hands.values():
            hand.close()
