"""The addresses about the knitting: handed to a process, and its answer sent on as it comes.

In: requests. Out: answers of ``wire.bench``. What is told is made in ``tasks``.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from starlette.requests import Request
from starlette.responses import Response

from purlwright.bench.answers import body_of, json, raw_json, read
from purlwright.bench.bench import bench_of
from purlwright.bench.hands import Superseded
from purlwright.bench.refusals import Refused
from purlwright.bench.store import MOST_BYTES
from purlwright.wire.bench import StaleOut, WorkIn

__all__ = ["asks"]


def asks(task: str, hand: str) -> Callable[[Request], Awaitable[Response]]:
    """A route that has a task done by one of the processes."""

    async def answer(request: Request) -> Response:
        bench = bench_of(request)
        body = await body_of(request)
        asked = read(body, WorkIn)
        if len(asked.text.encode("utf-8", "replace")) > MOST_BYTES:
            raise Refused(413, f"These words are over 1 MB; a pattern may have {MOST_BYTES:,} bytes.")
        try:
            return raw_json(await bench.hands[hand].ask(task, body, (task, asked.path)))
        except Superseded:
            return json(StaleOut(version=asked.version))

    return answer
