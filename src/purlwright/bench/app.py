"""The bench's server: which address answers what.

In: a folder, a key, a port. Out: the application. Files are left to ``store``, knitting to ``hands``, who may
ask to ``guard``.
"""

from __future__ import annotations

import asyncio
import os
import sys
import traceback
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from msgspec import Struct
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from purlwright.bench import routes_files, routes_page, routes_work
from purlwright.bench.answers import sentence
from purlwright.bench.bench import Bench
from purlwright.bench.guard import Guard
from purlwright.bench.hands import Fault, Hands
from purlwright.bench.refusals import Refused
from purlwright.bench.store import Binder
from purlwright.wire import bench, bench_looks, bench_lost, bench_plans

__all__ = ["create_app"]

_TASKS: tuple[tuple[str, str, type[Struct]], ...] = (
    ("work", "typing", bench.WorkIn),
    ("complete", "typing", bench_looks.AtIn),
    ("hover", "typing", bench_looks.AtIn),
    ("stitches", "typing", bench_looks.SpanIn),
    ("proof", "proof", bench.WorkIn),
    ("repairs", "proof", bench.WorkIn),
    ("clues", "proof", bench_looks.RowIn),
    ("row", "looking", bench_looks.RowIn),
    ("rescue", "heavy", bench_lost.LostIn),
    ("where", "heavy", bench_lost.LostIn),
    ("regauge", "heavy", bench_plans.RegaugeIn),
)
"""What the page may ask of the knitting, which process does it, and how it is asked."""

_TRACE = "PURLWRIGHT_TRACEBACK"
Answer = Callable[[Request], Awaitable[Response]]


def create_app(
    folder: Path, *, key: str, port: int, limits_s: dict[str, float] | None = None, warm: bool = False
) -> Starlette:
    """The application for one folder.

    limits_s : after how long work is stopped, by process.
    warm : start the processes at once, and not when they are needed.
    """
    run_of = Bench(binder=Binder(folder), hands=Hands(limits_s), key=key, port=port)

    @asynccontextmanager
    async def run(_app: Starlette) -> AsyncIterator[None]:
        run_of.binder.tidy()
        warming = asyncio.create_task(run_of.hands.warm()) if warm else None
        try:
            yield
        finally:
            if warming is not None:
                warming.cancel()
            await asyncio.to_thread(run_of.hands.close)

    app = Starlette(
        routes=[
            _at("/", "GET", routes_page.page),
            _at("/open", "GET", routes_page.opened),
            _at("/favicon.ico", "GET", routes_page.icon),
            _at("/static/{name:path}", "GET", routes_page.static),
            _at("/fonts/{name}", "GET", routes_page.face),
            _at("/page/{name}", "GET", routes_page.kept_page),
            _at("/api/binder", "GET", routes_files.binder),
            _at("/api/example", "GET", routes_files.one_example),
            _at("/api/pattern", "GET", routes_files.open_pattern),
            _at("/api/pattern", "PUT", routes_files.save),
            _at("/api/draft", "PUT", routes_files.draft),
            _at("/api/draft", "DELETE", routes_files.let_go),
            _at("/api/new", "POST", routes_files.new),
            _at("/api/history", "GET", routes_files.history),
            _at("/api/history/one", "GET", routes_files.one_version),
            _at("/api/watch", "GET", routes_files.watch),
            _at("/api/paste", "POST", routes_work.paste),
            _at("/api/explain", "GET", routes_work.explain),
            *(_at(f"/api/{task}", "POST", routes_work.asks(task, hand, kind)) for task, hand, kind in _TASKS),
            _at("/api/plans", "GET", routes_work.plans),
            _at("/api/plan", "POST", routes_work.plan),
            _at("/api/cloth", "POST", routes_work.cloth),
            _at("/api/page", "POST", routes_work.page),
            _at("/api/export", "POST", routes_work.export),
        ],
        middleware=[Middleware(Guard, key=key, port=port)],
        exception_handlers={HTTPException: _no_such_address},
        lifespan=run,
    )
    app.state.bench = run_of
    return app


def _at(path: str, method: str, answer: Answer) -> Route:
    """A route whose every fault is answered with one sentence."""

    async def guarded(request: Request) -> Response:
        try:
            return await answer(request)
        except Refused as why:
            return sentence(why.status, why.sentence, **why.more)
        except Fault as e:
            return _own_up(str(e), e.trace)
        except OSError as e:
            return sentence(500, f"The disk does not let the bench do that: {e.strerror or e}.")
        except Exception as e:  # noqa: BLE001 - whatever it is, she is told that it is not her pattern
            return _own_up(type(e).__name__, traceback.format_exc())

    return Route(path, guarded, methods=[method])


def _own_up(kind: str, trace: str) -> Response:
    if os.environ.get(_TRACE) and trace:
        sys.stderr.write(trace)
    return sentence(
        500, f"purlwright-fault: a fault in Purlwright, not in your pattern ({kind}). Your words are safe."
    )


async def _no_such_address(_request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = "This is not how that address is asked." if status == 405 else "There is nothing at this address."
    return sentence(status, words)
