"""The cloth as numbers that the page can draw from: a frame for every stitch, and what is told beside them.

In: the work on a pattern, a size and choice, how it lies, how far it is to settle. Out: bytes: the length
of a header, the header as JSON, then arrays. Shape and frames are made in ``cloth``.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal, cast

import msgspec

from purlwright.bench.refusals import Refused
from purlwright.wire import bench_looks as wire
from purlwright.wire.bench import Utf16

if TYPE_CHECKING:
    from purlwright.cloth.frames import Frames
    from purlwright.cloth.settled import Settled
    from purlwright.needles.knitted import Knitted
    from purlwright.workup import WorkUp

__all__ = ["MOST_STITCHES", "cloth_bytes", "stitches_of"]

MOST_STITCHES = 150_000
_LIES = ("free", "blocked", "pressed")
_LEVELS = ("quick", "settled")


def cloth_bytes(work: WorkUp, size: str, options: Mapping[str, str], asked: wire.ClothIn) -> bytes:
    """The header and its arrays. Raises Refused where there is nothing to show."""
    from purlwright.cloth.frames import stitch_frames
    from purlwright.cloth.portrait import look_of
    from purlwright.cloth.told import pieces_told

    if asked.lies not in _LIES or asked.level not in _LEVELS:
        raise Refused(400, "A cloth lies free, blocked or pressed, and is quick or settled.")
    knitted = work.knitted(size, options)
    if not knitted.fabric.n or not any(e.worked for e in knitted.ledger.entries):
        raise Refused(422, "Nothing is knitted yet, so there is no cloth to show.")
    if knitted.fabric.n > MOST_STITCHES:
        raise Refused(
            422,
            f"The cloth has {knitted.fabric.n:,} stitches; more than {MOST_STITCHES:,} are too many to show.",
        )
    quick = asked.level == "quick"
    lies = cast("Literal['free', 'blocked', 'pressed']", asked.lies)
    settled = work.settled(size, options, lies=lies, quick=quick)
    frames = stitch_frames(knitted, settled)
    words = {y.name.casefold(): y.words for y in work.pattern.header.yarns}
    look = look_of([f"{name} {words.get(name.casefold(), '')}" for name in knitted.fabric.yarns])
    parts = [] if quick else pieces_told(knitted, settled)
    return _packed(
        _arrays(frames, Utf16(work.source.text)),
        wire.ClothHeadOut(
            version=asked.version,
            n=len(frames.stitch),
            level=asked.level,
            lies=asked.lies,
            size=size,
            options=dict(options),
            colours=[look.yarns[n % len(look.yarns)] for n in range(max(1, len(knitted.fabric.yarns)))],
            yarns=[f"{name}: {words.get(name.casefold(), '')}".rstrip(": ") for name in knitted.fabric.yarns],
            stitch_mm=_mean(settled.rest.stitch_mm),
            row_mm=_mean(settled.rest.row_mm),
            box_mm=_box(frames),
            view=_view(knitted, settled),
            told=[
                wire.ClothPartOut(
                    name=one.name,
                    lies=one.lies,
                    told=list(one.told),
                    figures=[
                        wire.FigureOut(
                            of=f.of,
                            mm=round(f.mm, 1),
                            least=round(f.mm - f.off_mm, 1),
                            most=round(f.mm + f.off_mm, 1),
                        )
                        for f in one.figures
                    ],
                )
                for one in parts
            ],
            said=[one.words for one in settled.gauge.said],
            arrays=[],
        ),
    )


def _view(knitted: Knitted, settled: Settled) -> wire.ViewOut | None:
    """How its picture looks at it; None where it lies flat."""
    import numpy as np

    from purlwright.cloth.portrait import lies_flat
    from purlwright.cloth.view import stood_up
    from purlwright.cloth.worn import axis_of, worn_up

    if lies_flat(settled):
        return None
    mesh, at = settled.mesh, settled.shape.position_mm
    stood, solid = stood_up(at, worn_up(knitted, mesh, at), axis_of(mesh, at))
    if not solid:
        return None
    # the picture's axes are those of the cloth, turned: which turn it was is read off the places
    turn = np.linalg.lstsq(at - at.mean(axis=0), stood, rcond=None)[0]
    return wire.ViewOut(
        front=[round(float(v), 4) for v in turn[:, 2]], up=[round(float(v), 4) for v in turn[:, 1]]
    )


def _mean(values: Any) -> float:
    return round(float(values.mean()), 3) if len(values) else 0.0


def _box(frames: Frames) -> list[list[float]]:
    if not len(frames.stitch):
        return [[0.0, 0.0, 0.0], [0.0, 0.0, 0.0]]
    return [
        [round(float(v), 2) for v in frames.at_mm.min(axis=0)],
        [round(float(v), 2) for v in frames.at_mm.max(axis=0)],
    ]


def _arrays(frames: Frames, at: Utf16) -> dict[str, Any]:
    import numpy as np

    span = frames.span
    if not at.plain and len(span):
        ends, back = np.unique(span, return_inverse=True)
        span = np.array([at.to(int(e)) for e in ends], np.uint32)[back].reshape(span.shape)
    return {
        "at": frames.at_mm.astype("<f4"),
        "along": frames.wale_mm.astype("<f4"),
        "across": frames.course_mm.astype("<f4"),
        "out": frames.normal.astype("<f4"),
        "shape": frames.shape.astype("u1"),
        "colour": frames.yarn.astype("u1"),
        "row": frames.order.astype("<u4"),
        "span": span.astype("<u4"),
        "stitch": frames.stitch.astype("<u4"),
    }


_NAMES = {"<f4": "f32", "|u1": "u8", "<u4": "u32"}


def _packed(arrays: dict[str, Any], head: wire.ClothHeadOut) -> bytes:
    """Length of the header (u32), header, arrays; each begins at a multiple of 8 bytes from the very start.

    ``offset`` of an array counts from the end of the header, which is filled up with blanks to a multiple
    of 8.
    """
    listed, parts, offset = [], [], 0
    for name, array in arrays.items():
        raw = array.tobytes()
        listed.append(
            wire.ClothArrayOut(
                name=name, dtype=_NAMES[array.dtype.str], shape=list(array.shape), offset=offset
            )
        )
        parts.append(raw + b"\0" * (-len(raw) % 8))
        offset += len(parts[-1])
    header = msgspec.json.encode(msgspec.structs.replace(head, arrays=listed))
    header += b" " * (-(len(header) + 4) % 8)
    return b"".join([struct.pack("<I", len(header)), header, *parts])


def stitches_of(work: WorkUp, size: str, options: Mapping[str, str], asked: wire.SpanIn) -> wire.StitchesOut:
    """The stitches that a stretch of the words made, by the number that ``stitch`` of a cloth gives them."""
    import numpy as np

    from purlwright.fabric.query import stitches_of_span

    at = Utf16(work.source.text)
    start, end = at.back(max(0, asked.from_)), at.back(max(0, asked.to))
    found = stitches_of_span(work.knitted(size, options).fabric, start, max(end, start + 1))
    cuts = np.flatnonzero(np.diff(found) != 1) + 1
    runs = [(int(run[0]), int(run[-1])) for run in np.split(found, cuts) if len(run)]
    return wire.StitchesOut(version=asked.version, stitches=runs, many=len(found))
