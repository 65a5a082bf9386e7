"""What one run of the bench has in hand: the folder, the processes, and pages that wait to be fetched.

In: a folder and a key. Out: one value that every route is given.
"""

from __future__ import annotations

import asyncio
import secrets
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from starlette.requests import Request

from purlwright.bench.hands import Hands
from purlwright.bench.store import Binder

__all__ = ["Bench", "Made", "bench_of"]

_MOST_PAGES = 12

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A page that was made and is fetched by its own address: its bytes and what it may load."""

    data: bytes
    policy: str


@dataclass(slots=True, kw_only=True)
class Bench:
    """One run."""

    binder: Binder
    hands: Hands
    key: str
    port: int
    _pages: OrderedDict[str, Made] = field(default_factory=OrderedDict)
    _saving: asyncio.Lock = field(default_factory=asyncio.Lock)

    def keep(self, page: Made) -> str:
        """Keep a page to be fetched; its name. The oldest makes room."""
        name = secrets.token_urlsafe(16)
        self._pages[name] = page
        while len(self._pages) > _MOST_PAGES:
            self._pages.popitem(last=False)
        return name

    def kept(self, name: str) -> Made | None:
        """A page that was kept."""
        return self._pages.get(name)

    async def look(self, do: Callable[[], Answer]) -> Answer:
        """Look at files, changing none, while others are answered and even while one is saved."""
        return await asyncio.to_thread(do)

    async def files(self, do: Callable[[], Answer]) -> Answer:
        """Do something with the files, one after another, while others are answered."""
        async with self._saving:
            return await asyncio.to_thread(do)


def bench_of(request: Request) -> Bench:
    """The run that a request belongs to."""
    bench: Bench = request.app.state.bench
    return bench
