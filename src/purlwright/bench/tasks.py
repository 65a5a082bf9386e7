"""What a process of the bench can do, by name: from the words of a request to the words of its answer.

In: JSON from the page, and the patterns that are open in this process. Out: JSON. What is told of a pattern
is made in the rooms below; what the fields are called stands in ``wire.bench``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from time import perf_counter
from typing import TYPE_CHECKING, Any, NamedTuple

import msgspec

from purlwright.bench.refusals import Refused
from purlwright.wire import bench as wire
from purlwright.wire import bench_looks as looks
from purlwright.wire import bench_lost as lost
from purlwright.wire import bench_plans as plans

if TYPE_CHECKING:
    from purlwright.bench.open_patterns import OpenPatterns
    from purlwright.workup import WorkUp

__all__ = ["TASKS", "About", "choice", "told_ms"]


class About(NamedTuple):
    """What a task is told besides the words of the page: where the pattern stands on the disk, and the
    house style.
    """

    name: str = ""
    house: str = ""


def told_ms(since: float) -> float:
    """How long it took, in ms."""
    return round((perf_counter() - since) * 1000, 1)


def choice(work: WorkUp, size: str | None, options: Mapping[str, str]) -> tuple[str, dict[str, str]]:
    """The size and values that are looked at; the first and the usual for what the pattern no longer has."""
    named = {s.casefold(): s for s in work.sizes}
    chosen = named.get((size or "").strip().casefold(), work.sizes[0])
    values = {name: options[name] if options.get(name) in of else of[0] for name, of in work.options}
    return chosen, values


def _opened(asked: Any, known: OpenPatterns, about: About) -> tuple[WorkUp, str, dict[str, str]]:
    """The work on the words of a request, and the size and values that are looked at."""
    work = known.work(about.name or asked.path, asked.text, about.house)
    return work, *choice(work, asked.size, asked.options)


def _work(body: bytes, known: OpenPatterns, about: About) -> bytes:
    """One size and choice, read and knitted."""
    begun = perf_counter()
    asked = msgspec.json.decode(body, type=wire.WorkIn)
    work, size, options = _opened(asked, known, about)
    work.findings(size, options)
    return msgspec.json.encode(wire.work_out(work, asked, size, options, told_ms(begun)))


def _proof(body: bytes, known: OpenPatterns, about: About) -> bytes:
    """Every size and choice, proved."""
    from purlwright.bench.proof_told import checks_told, summary_told

    begun = perf_counter()
    asked = msgspec.json.decode(body, type=wire.WorkIn)
    work, _, _ = _opened(asked, known, about)
    if not work.source.text.strip():
        raise Refused(422, "There are no words to prove yet.")
    proved = work.proved(sheet=asked.whole)
    answer = wire.proof_out(
        work,
        asked.version,
        proved.findings,
        checks_told(proved),
        summary_told(work, proved),
        len(proved.knitted),
        told_ms(begun),
    )
    return msgspec.json.encode(answer)


def _repairs(body: bytes, known: OpenPatterns, about: About) -> bytes:
    """Changes of the words that mend what was found first; each was knitted."""
    asked = msgspec.json.decode(body, type=wire.WorkIn)
    work, _, _ = _opened(asked, known, about)
    return msgspec.json.encode(wire.repairs_out(work, asked.version))


def _complete(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.place_told import complete

    asked = msgspec.json.decode(body, type=looks.AtIn)
    work, size, options = _opened(asked, known, about)
    return msgspec.json.encode(complete(work, size, options, asked.at))


def _hover(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.place_told import meaning

    asked = msgspec.json.decode(body, type=looks.AtIn)
    work, _, _ = _opened(asked, known, about)
    return msgspec.json.encode(meaning(work, asked.at))


def _stitches(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.cloth_told import stitches_of

    asked = msgspec.json.decode(body, type=looks.SpanIn)
    work, size, options = _opened(asked, known, about)
    return msgspec.json.encode(stitches_of(work, size, options, asked))


def _row(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.row_told import row_told

    asked = msgspec.json.decode(body, type=looks.RowIn)
    work, size, options = _opened(asked, known, about)
    told = row_told(work, size, options, asked.order, asked.version, known, left_handed=asked.left_handed)
    return msgspec.json.encode(told)


def _clues(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.row_told import clues_told

    asked = msgspec.json.decode(body, type=looks.RowIn)
    work, size, options = _opened(asked, known, about)
    return msgspec.json.encode(clues_told(work, size, options, asked.order, asked.version))


def _cloth(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.cloth_told import cloth_bytes

    asked = msgspec.json.decode(body, type=looks.ClothIn)
    work, size, options = _opened(asked, known, about)
    return cloth_bytes(work, size, options, asked)


def _page(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.made import page

    asked = msgspec.json.decode(body, type=looks.PageIn)
    work, size, options = _opened(asked, known, about)
    return page(work, None if asked.size is None else size, options, asked)


def _export(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.made import export

    asked = msgspec.json.decode(body, type=looks.ExportIn)
    work, size, options = _opened(asked, known, about)
    return export(work, None if asked.size is None else size, options, asked)


def _rescue(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.lost import rescue_told

    asked = msgspec.json.decode(body, type=lost.LostIn)
    work, size, options = _opened(asked, known, about)
    return msgspec.json.encode(rescue_told(work, size, options, asked))


def _where(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.lost import where_told

    asked = msgspec.json.decode(body, type=lost.LostIn)
    work, size, options = _opened(asked, known, about)
    return msgspec.json.encode(where_told(work, size, options, asked))


def _plan(body: bytes, _known: OpenPatterns, _about: About) -> bytes:
    from purlwright.bench.planned import planned

    return msgspec.json.encode(planned(msgspec.json.decode(body, type=plans.PlanIn)))


def _regauge(body: bytes, known: OpenPatterns, about: About) -> bytes:
    from purlwright.bench.planned import regauged

    asked = msgspec.json.decode(body, type=plans.RegaugeIn)
    work = known.work(about.name or asked.path, asked.text, about.house)
    return msgspec.json.encode(plans.RegaugedOut(version=asked.version, found=regauged(work, asked.gauge)))


def _warm(_body: bytes, known: OpenPatterns, _about: About) -> bytes:
    """Load what knitting needs, by knitting a little."""
    known.work("", "# Swatch\nCast on 4 sts.\nRow 1 (RS): K2, p2. (4 sts)\nBind off.\n").proved()
    return b""


TASKS: Mapping[str, Callable[[bytes, OpenPatterns, About], bytes]] = {
    "warm": _warm,
    "work": _work,
    "proof": _proof,
    "repairs": _repairs,
    "complete": _complete,
    "hover": _hover,
    "stitches": _stitches,
    "row": _row,
    "clues": _clues,
    "cloth": _cloth,
    "page": _page,
    "export": _export,
    "rescue": _rescue,
    "where": _where,
    "plan": _plan,
    "regauge": _regauge,
}
