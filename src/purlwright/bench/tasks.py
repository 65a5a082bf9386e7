"""What a process of the bench can do, by name: from the words of a request to the words of its answer.

In: JSON from the page, and the patterns that are open in this process. Out: JSON. What is told of a pattern
is made in the rooms below; what the fields are called stands in ``wire.bench``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from time import perf_counter
from typing import TYPE_CHECKING

import msgspec

from purlwright.bench.refusals import Refused
from purlwright.wire import bench as wire

if TYPE_CHECKING:
    from purlwright.bench.open_patterns import OpenPatterns
    from purlwright.workup import WorkUp

__all__ = ["TASKS", "choice", "told_ms"]


def told_ms(since: float) -> float:
    """How long it took, in ms."""
    return round((perf_counter() - since) * 1000, 1)


def choice(work: WorkUp, size: str | None, options: Mapping[str, str]) -> tuple[str, dict[str, str]]:
    """The size and values that are looked at; the first and the usual for what the pattern no longer has."""
    named = {s.casefold(): s for s in work.sizes}
    chosen = named.get((size or "").strip().casefold(), work.sizes[0])
    values = {name: options[name] if options.get(name) in of else of[0] for name, of in work.options}
    return chosen, values


def _work(body: bytes, known: OpenPatterns) -> bytes:
    """One size and choice, read and knitted."""
    begun = perf_counter()
    asked = msgspec.json.decode(body, type=wire.WorkIn)
    work = known.work(asked.path, asked.text)
    size, options = choice(work, asked.size, asked.options)
    work.findings(size, options)
    return msgspec.json.encode(wire.work_out(work, asked, size, options, told_ms(begun)))


def _proof(body: bytes, known: OpenPatterns) -> bytes:
    """Every size and choice, proved."""
    from purlwright.proof.catalogue import CATALOGUE

    begun = perf_counter()
    asked = msgspec.json.decode(body, type=wire.WorkIn)
    work = known.work(asked.path, asked.text)
    if not work.source.text.strip():
        raise Refused(422, "There are no words to prove yet.")
    proved = work.proved()
    checks = [
        wire.BenchCheckOut(
            check=v.check, title=CATALOGUE[v.check].title, result=v.result, places=v.places, missing=v.missing
        )
        for v in proved.verdicts
    ]
    answer = wire.proof_out(
        work, asked.version, proved.findings, checks, "", len(proved.knitted), told_ms(begun)
    )
    return msgspec.json.encode(answer)


TASKS: Mapping[str, Callable[[bytes, OpenPatterns], bytes]] = {"work": _work, "proof": _proof}
