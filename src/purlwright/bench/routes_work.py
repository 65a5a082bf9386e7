"""The addresses about the knitting: handed to a process, and its answer sent on as it comes.

In: requests. Out: answers of ``wire.bench`` and its neighbours. What is told is made in ``tasks``.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import Awaitable, Callable, Coroutine
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from purlwright.bench.answers import body_of, json, query, raw_json, read
from purlwright.bench.bench import Made, bench_of
from purlwright.bench.hands import Superseded
from purlwright.bench.made import unpacked
from purlwright.bench.refusals import Refused
from purlwright.bench.store import MOST_BYTES
from purlwright.wire import bench_looks as looks
from purlwright.wire import bench_plans
from purlwright.wire.bench import StaleOut, Utf16

__all__ = ["asks", "cloth", "explain", "export", "page", "paste", "plan", "plans"]

_POLICY = re.compile(rb'<meta http-equiv="Content-Security-Policy" content="([^"<>]+)">')


def _measured(asked: Any) -> None:
    if len(asked.text.encode("utf-8", "replace")) > MOST_BYTES:
        raise Refused(413, f"These words are over 1 MB; a pattern may have {MOST_BYTES:,} bytes.")


async def _ask(
    request: Request, hand: str, task: str, body: bytes, asked: Any, about: tuple[str, ...] | None = ()
) -> bytes:
    """Have a task done for as long as the page waits for it. Raises Superseded if the page went away.

    about : what of the task a newer one replaces; None if each is wanted.
    """
    bench = bench_of(request)
    told = await bench.look(lambda: bench.binder.told(asked.path))
    known = None if about is None else (task, asked.path, *about)
    return await _while_waited_for(request, bench.hands[hand].ask(task, body, known, told))


async def _while_waited_for(request: Request, asking: Coroutine[Any, Any, bytes]) -> bytes:
    """The answer of a process. Raises Superseded if the page went away."""
    work = asyncio.ensure_future(asking)
    gone = asyncio.ensure_future(_gone(request))
    try:
        await asyncio.wait({work, gone}, return_when=asyncio.FIRST_COMPLETED)
        if not work.done():
            raise Superseded
        return work.result()
    finally:
        work.cancel()
        gone.cancel()


async def _gone(request: Request) -> None:
    """Until the page no longer waits; its question has been heard in full before."""
    while (await request.receive())["type"] != "http.disconnect":
        pass


def asks(task: str, hand: str, kind: type[Any]) -> Callable[[Request], Awaitable[Response]]:
    """A route that has a task done by one of the processes."""

    async def answer(request: Request) -> Response:
        body = await body_of(request)
        asked = read(body, kind)
        _measured(asked)
        try:
            return raw_json(await _ask(request, hand, task, body, asked))
        except Superseded:
            return json(StaleOut(version=asked.version))

    return answer


async def cloth(request: Request) -> Response:
    """The cloth as bytes: at once for a first look, or in the shape that it takes."""
    body = await body_of(request)
    asked = read(body, looks.ClothIn)
    _measured(asked)
    hand = "looking" if asked.level == "quick" else "heavy"
    try:
        data = await _ask(request, hand, "cloth", body, asked, (asked.level,))
    except Superseded:
        return json(StaleOut(version=asked.version))
    return Response(data, media_type="application/octet-stream")


async def page(request: Request) -> Response:
    """A page to be looked at: kept here, to be fetched by its own address into a frame."""
    bench = bench_of(request)
    body = await body_of(request)
    asked = read(body, looks.PageIn)
    _measured(asked)
    try:
        head, data = unpacked(await _ask(request, "heavy", "page", body, asked, (asked.page,)))
    except Superseded:
        return json(StaleOut(version=asked.version))
    url = f"/page/{bench.keep(Made(data=data, policy=_policy_of(data)))}" if data else None
    return json({"version": asked.version, "url": url, **head})


def _policy_of(data: bytes) -> str:
    """What a page that we made may load: what it says itself; in a frame without a place of its own."""
    found = _POLICY.search(data[:4000])
    own = found[1].decode() if found else "default-src 'none'"
    scripts = "sandbox allow-scripts" if "script-src 'sha256-" in own else "sandbox"
    return f"{own}; frame-ancestors 'self'; {scripts}"


async def export(request: Request) -> Response:
    """A file to be taken away."""
    body = await body_of(request)
    asked = read(body, looks.ExportIn)
    _measured(asked)
    try:
        head, data = unpacked(await _ask(request, "heavy", "export", body, asked, None))
    except Superseded:
        return json(StaleOut(version=asked.version))
    plain = "".join(c if c.isascii() and c.isprintable() and c not in '"\\;%' else "_" for c in head["name"])
    named = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(head['name'], safe='')}"
    return Response(data, media_type=head["type"], headers={"Content-Disposition": named})


async def explain(request: Request) -> Response:
    """What a finding or a check means."""
    from purlwright.bench.explained import explained

    word = query(request, "code")
    return json(await asyncio.to_thread(explained, word))


async def plans(_request: Request) -> Response:
    """What can be planned, and what each plan asks."""
    from purlwright.plans.asks import fillable

    told = await asyncio.to_thread(fillable)
    return json(bench_plans.FillablesOut(plans=list(told)))


async def plan(request: Request) -> Response:
    """A plan that was filled in; it is of no pattern yet."""
    body = await body_of(request)
    asked = read(body, bench_plans.PlanIn)
    if asked.table is not None and len(asked.table.encode("utf-8", "replace")) > MOST_BYTES:
        raise Refused(413, "A table of bodies is not so long.")
    try:
        return raw_json(await _while_waited_for(request, bench_of(request).hands["heavy"].ask("plan", body)))
    except Superseded:  # the page went away, or the process was ended for a newer text
        raise Refused(503, "That was interrupted; ask again.") from None


async def paste(request: Request) -> Response:
    """Text from elsewhere, put right."""
    asked = read(await body_of(request), looks.PasteIn)
    _measured(asked)
    return json(await asyncio.to_thread(_put_right, asked.text))


def _put_right(text: str) -> looks.PasteOut:
    from collections import Counter

    from purlwright.bench.pasted import put_right

    done = put_right(text)
    at = Utf16(done.text)
    many = Counter(c.why for c in done.changes)
    return looks.PasteOut(
        text=done.text,
        changes=[
            looks.PutRightOut(
                from_=at.to(min(c.start, len(done.text))),
                to=at.to(min(c.end, len(done.text))),
                before=c.before,
                after=done.text[c.start : c.end],
                why=c.why,
            )
            for c in done.changes
        ],
        told=[f"{why[:1].upper()}{why[1:]}{f' ({n} times)' if n > 1 else ''}." for why, n in many.items()],
    )
