"""The addresses about files: the folder, a pattern, its drafts and versions, a new one, text that is pasted.

In: requests. Out: answers of ``wire.bench_files``. What happens to a file is decided in ``store``.
"""

from __future__ import annotations

import asyncio
from functools import partial

from starlette.requests import Request
from starlette.responses import Response

from purlwright.bench.answers import body_of, json, query, read
from purlwright.bench.bench import bench_of
from purlwright.bench.examples import example, examples
from purlwright.bench.paths import shown
from purlwright.bench.refusals import Refused
from purlwright.bench.store import Binder, ChangedElsewhere, now_ms
from purlwright.bench.titles import titles
from purlwright.wire import bench_files as wire
from purlwright.wire.bench import Utf16

__all__ = [
    "binder", "draft", "history", "let_go", "new", "one_example", "one_version", "open_pattern", "save",
    "watch",
]  # fmt: skip

_LONGEST_WATCH_S = 25.0
_LOOK_EVERY_S = 0.25


async def binder(request: Request) -> Response:
    """What is in the folder, and the examples."""
    bench = bench_of(request)
    told = await bench.look(partial(_told, bench.binder))
    return json(told)


def _told(binder: Binder) -> wire.BinderOut:
    patterns = []
    for name in binder.names():
        try:
            changed = binder.changed_ms(name)
            title, sizes = titles(binder.place(name), changed)
        except (OSError, Refused):
            continue  # gone since the folder was looked through
        patterns.append(wire.InBinderOut(path=name, title=title, changed=changed, sizes=sizes))
    return wire.BinderOut(
        folder=str(binder.folder),
        patterns=patterns,
        examples=[wire.ExampleOut(name=e.name, title=e.title, told=e.told) for e in examples()],
    )


async def open_pattern(request: Request) -> Response:
    """The text of a pattern."""
    bench = bench_of(request)
    opened = await bench.files(partial(bench.binder.open, query(request, "path")))
    draft = opened.draft
    return json(
        wire.PatternOut(
            path=opened.path,
            text=opened.text,
            stamp=opened.stamp,
            draft=None
            if draft is None
            else wire.DraftOut(text=draft.text, stamp=draft.stamp, when=draft.when_ms),
        )
    )


async def one_example(request: Request) -> Response:
    """The text of an example; it is no file of hers until she begins from it."""
    found = example(query(request, "name"))
    return json(wire.ExampleTextOut(name=found.name, title=found.title, text=found.text))


async def save(request: Request) -> Response:
    """Put the text into its file."""
    bench = bench_of(request)
    asked = read(await body_of(request), wire.SaveIn)
    try:
        stamp = await bench.files(
            partial(bench.binder.save, asked.path, asked.text, asked.stamp, asked.window)
        )
    except ChangedElsewhere as why:
        at = Utf16(why.merged.text)
        return json(
            wire.ConflictOut(
                message=f'"{shown(asked.path)}" was changed elsewhere since it was opened here. '
                "Nothing was written over.",
                text=why.opened.text,
                stamp=why.opened.stamp,
                merged=wire.MergedOut(
                    text=why.merged.text,
                    clashes=[
                        wire.ClashOut(from_=at.to(c.start), to=at.to(c.end), hers=c.hers, theirs=c.theirs)
                        for c in why.merged.clashes
                    ],
                ),
            ),
            409,
        )
    return json(wire.SavedOut(stamp=stamp, when=now_ms()))


async def draft(request: Request) -> Response:
    """Keep words that are being typed."""
    bench = bench_of(request)
    asked = read(await body_of(request), wire.SaveIn)
    when = await bench.files(
        partial(bench.binder.put_draft, asked.path, asked.text, asked.stamp, asked.window)
    )
    return json(wire.KeptOut(when=when))


async def let_go(request: Request) -> Response:
    """She wants none of the drafts; their words stay among the versions."""
    bench = bench_of(request)
    asked = read(await body_of(request), wire.PathIn)
    await bench.files(partial(bench.binder.let_go, asked.path))
    return json(wire.KeptOut(when=now_ms()))


async def new(request: Request) -> Response:
    """A new pattern: blank, from an example, or from words that were pasted."""
    bench = bench_of(request)
    asked = read(await body_of(request), wire.NewIn)
    text = asked.text
    if text is None:
        text = "" if asked.from_ is None else example(asked.from_).text
    path, stamp = await bench.files(partial(bench.binder.new, asked.name, text))
    return json(wire.NewOut(path=path, stamp=stamp, text=text), 201)


async def history(request: Request) -> Response:
    """The versions of a pattern, the newest first."""
    bench = bench_of(request)
    known = await bench.look(partial(bench.binder.history, query(request, "path")))
    out: list[wire.VersionOut] = []
    before: list[str] = []
    for version, text in known:
        lines = text.splitlines()
        out.append(
            wire.VersionOut(
                id=version.id,
                when=version.when_ms,
                lines=len(lines),
                changed=_changed(before, lines),
                draft=version.draft,
                stamp=version.stamp,
            )
        )
        before = lines
    return json(wire.HistoryOut(versions=out[::-1]))


def _changed(before: list[str], after: list[str]) -> int:
    """How many lines are not as they were: those new or changed, and those gone beyond them."""
    from collections import Counter

    gone, new = Counter(before), Counter(after)
    return max((new - gone).total(), (gone - new).total())


async def one_version(request: Request) -> Response:
    """The text of one version."""
    bench = bench_of(request)
    text = await bench.files(partial(bench.binder.version, query(request, "path"), query(request, "id")))
    return json(wire.VersionTextOut(text=text))


async def watch(request: Request) -> Response:
    """Whether a file was changed elsewhere: at once, or as soon as it is, up to so many seconds."""
    bench = bench_of(request)
    path, stamp = query(request, "path"), query(request, "stamp")
    given = request.query_params.get("wait", "")
    wait = min(float(given), _LONGEST_WATCH_S) if given.isascii() and given.isdecimal() else _LONGEST_WATCH_S
    loop = asyncio.get_running_loop()
    end = loop.time() + wait
    looked: object = "nothing yet"
    now = stamp
    while True:
        seen = await bench.look(partial(_glance, bench.binder, path))
        if seen != looked:
            looked = seen
            now = await bench.look(partial(bench.binder.stamp, path))
        if now != stamp or loop.time() >= end or await request.is_disconnected():
            return json(wire.WatchedOut(stamp=now, changed=now != stamp, gone=now == ""))
        await asyncio.sleep(min(_LOOK_EVERY_S, max(0.0, end - loop.time())))


def _glance(binder: Binder, path: str) -> tuple[int, int] | None:
    """When a file was written and how long it is; None when it is not there."""
    try:
        seen = binder.place(path).stat()
    except FileNotFoundError:
        return None
    return seen.st_mtime_ns, seen.st_size
