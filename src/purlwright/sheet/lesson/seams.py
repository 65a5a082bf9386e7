"""Sewn seams in the lesson pack: what meets what, how the needle goes, what it costs, how it looks.

In: the material. Out: blocks. Grafts and bind-offs of two edges together are in ``whole``.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from purlwright.lesson.join_drawing import SHOWN, draw_join
from purlwright.lesson.joins import rate_of, ratio_said
from purlwright.lesson.seam_drawing import draw_seam, draw_turned
from purlwright.lesson.seams import Seam, seams_of
from purlwright.needles.ledger import Kind
from purlwright.proof.said import count
from purlwright.sheet.document import Block, Fact, Facts, Figure, Heading, Items, Paragraph
from purlwright.sheet.lesson.stages import said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.sheet.lesson.asked import Material

__all__ = ["sewn"]

_UNITS = {"rows": ("row", "rows"), "loops": ("stitch", "stitches"), "both": ("place", "places")}
_SIDE = (
    "Lay the two edges side by side, right sides up, the beginning of the seam towards you.",
    "{enter}",
    "{rate}",
    "Draw the yarn up after every 2 or 3 cm, until the edges meet and no bar shows; do not pull it tighter.",
)
_ENTER = {
    "V": "Put the needle under the bar between the edge stitch and the next on one side, then under the "
    "bar of "
    "the same row on the other.",
    "bump": "Put the needle through the bump of the stitch inside the edge on one side, then through the "
    "bump "
    "of the same row on the other.",
    "garter": "Put the needle through the lower bump of a ridge at one edge, then through the upper bump "
    "of the "
    "same ridge at the other: one each side for each ridge.",
}
_LAY_TURNED = (
    "Lay the two pieces side by side, right sides up: the {edge} edge of the one along the ends of rows "
    "of the other. Pin them together at both ends, in the middle, and half way between."
)
_DRAW_TURNED = (
    "Draw the yarn up after every 2 or 3 cm, until the edges meet, and look whether the seam lies flat: "
    "if the ends of rows pucker, too many are taken with a stitch; if the stitches ruffle, too few."
)
_TURNED = (_LAY_TURNED, "{enter}", "{rate}", _DRAW_TURNED)
_ENTER_LOOP = "Put the needle under both legs of the first stitch inside the {edge} edge, then "
_ENTER_TURNED = {
    "V": "under the bar between the edge stitch and the next at the ends of rows.",
    "bump": "through the bump of the stitch inside the edge at the ends of rows.",
    "garter": "through the bump at the end of a row of the other: a ridge has two, an upper and a lower.",
}
_LOOPS = (
    "Lay the two edges end to end, right sides up.",
    "Put the needle under both legs of the first stitch inside the nearer edge, then of that in the other.",
    "{rate}",
    "Draw each up until it is as large as the stitches beside it: the yarn then lies like a row.",
)


def sewn(material: Material) -> Iterator[Block]:
    """Each seam whose edges are known; of the others it is said that the words leave them open."""
    seams = seams_of(material.knitted, material.size_mm)
    alike = Counter((s.entry.order, frozenset(s.names), s.many, s.along) for s in seams)
    for (order, names, many, along), times in alike.items():
        seam = next(
            s
            for s in seams
            if (s.entry.order, frozenset(s.names), s.many, s.along) == (order, names, many, along)
        )
        yield from _seam(seam, times)
    entries = [e for e in material.knitted.ledger.entries if e.kind is Kind.SEAM]
    told = {s.entry.order for s in seams}
    joined = material.knitted.fabric.join_kind
    if entries and not told and not len(joined):
        yield Heading(text="Sewing up", level=2)
        yield Paragraph(
            words=said(
                "The words of the pattern do not say row by row which two edges meet, or these differ in "
                "length, "
                "so nothing is told here of how many are taken with how many."
            ),
            hers=False,
        )


def _seam(seam: Seam, times: int) -> Iterator[Block]:
    one, many = _UNITS[seam.along]
    a, b = seam.many
    between = " and ".join(dict.fromkeys(name for name in seam.names if name)) or "the edges"
    several = f", {times} alike" if times > 1 else ""
    yield Heading(text=f"{seam.entry.section or 'Sewing up'}: seam of {between}{several}", level=2)
    rate = ratio_said(a, b)
    rate = f"{one} for {one}" if a == b else rate
    edges = f"{count(a, one, many)} to {count(b, one, many)}: {rate}"
    if seam.along == "both" and seam.meets:
        edges = _meeting(seam)
    facts = [Fact(label="Pairs", words=said(edges))]
    if seam.meets and seam.along != "both":
        facts.append(Fact(label="Where stitches meet row ends", words=said(_meeting(seam))))
    if seam.tail_mm is not None:
        cm = -(-seam.tail_mm // 50) * 5
        facts.append(
            Fact(
                label="Tail",
                words=said(f"about {cm:.0f} cm: half as long again as the seam, and 20 cm to hold"),
            )
        )
    facts += [
        Fact(label="How it looks", words=said(_looks(seam))),
        Fact(label="What it costs", words=said(_costs(seam))),
        Fact(label="Instead", words=said(_instead(seam))),
    ]
    yield Facts(facts=tuple(facts))
    if seam.along == "both":
        yield from _turned(seam)
        return
    steps = _SIDE if seam.along != "loops" else _LOOPS
    told = f"Go on so, {rate}."
    if a != b:
        told += " Where the longer edge gives two, take both on the needle at once."
    yield Items(items=tuple(said(s.format(enter=_ENTER[seam.face], rate=told)) for s in steps))
    if seam.along == "loops":
        shown = min(SHOWN, len(seam.join.pairs))
        pairs = count(shown, "pair")
        words = f"The first {pairs} of stitches inside the two edges, and the yarn between them as a row."
        yield Figure(drawing=draw_join(seam.join), alternative=words, caption=said(words))
        return
    words = (
        "The two edges from the right side, two columns of stitches each; the yarn goes up under a bar of "
        "one, "
        "across, and up under a bar of the other. It is drawn slack."
    )
    yield Figure(drawing=draw_seam(seam), alternative=words, caption=said(words))


def _turned(seam: Seam) -> Iterator[Block]:
    """How a needle goes between stitches and ends of rows, and the drawing."""
    edge = seam.loops_edge
    enter = _ENTER_LOOP.format(edge=edge) + _ENTER_TURNED[seam.face]
    yield Items(items=tuple(said(s.format(edge=edge, enter=enter, rate=_by_turns(seam))) for s in _TURNED))
    words = (
        f"From the right side: on the left the {edge} edge, its stitches lying on their side; on the right "
        "the ends of rows, two columns of stitches. The yarn goes up under a stitch, across, and up under "
        "one bar or two. It is drawn slack."
    )
    yield Figure(drawing=draw_turned(seam), alternative=words, caption=said(words))


def _by_turns(seam: Seam) -> str:
    """How many rows each stitch takes, as she counts them off."""
    stitches, rows = seam.meets[0] if seam.meets else (min(seam.many), max(seam.many))
    if stitches == rows:
        return "Go on so, a stitch and a row by turns."
    if rows == 2 * stitches:
        return "Go on so, two rows with every stitch: take both on the needle at once."
    n, m = rate_of(stitches, rows)
    more = m - n
    if more == 1:
        rhythm = f"of every {n} stitches take {n - 1} with one row each and the last with two"
    else:
        rhythm = f"of every {n} stitches take {n - more} with one row each and {more} with two, spread evenly"
    about = (
        "" if n * rows == m * stitches else f" Over the whole seam {rows - stitches} stitches take two rows."
    )
    return f"Go on so, but {rhythm}; both rows go on the needle at once.{about}"


def _meeting(seam: Seam) -> str:
    """How many stitches go with how many rows, stretch by stretch along the seam."""
    told = []
    for stitches, rows in seam.meets:
        n, m = rate_of(stitches, rows)
        both = f"{count(stitches, 'stitch', 'stitches')} to {count(rows, 'row')}"
        small = f"{count(n, 'stitch', 'stitches')} to {count(m, 'row')}"
        about = "" if n * rows == m * stitches else "about "
        told.append(both if (n, m) == (stitches, rows) else f"{both}: {about}{small}")
    return "; ".join(told)


def _looks(seam: Seam) -> str:
    if seam.along == "both":
        return (
            "flat, the columns of the one edge standing against the side of the other; what is turned under "
            "makes a ridge inside"
        )
    if seam.along != "loops":
        return (
            "flat and hardly seen from the right side; the two edge stitches turn under and make a ridge "
            "inside"
        )
    if seam.heads:
        return (
            "like a row of stitches between the two edges, which make a firm ridge inside; the columns of "
            "the two sides stand half a stitch apart, which shows in ribs and in colours"
        )
    return (
        "like a row of stitches; the columns of the two sides run on into one another, and the edges lie "
        "inside"
    )


def _costs(seam: Seam) -> str:
    passes = count(2 * (min if seam.along == "both" else max)(seam.many), "time")
    width = "" if seam.lost_mm is None else f", about {seam.lost_mm / 10:.1f} cm together"
    if seam.along == "loops":
        return f"the needle goes through {passes}; both edges lie inside"
    if seam.along == "both":
        edge = seam.loops_edge
        into = f"one stitch at the ends of rows goes into the seam{width.replace(' together', '')}, and the"
        return f"the needle goes through {passes}; {into} {edge} edge lies inside"
    return f"the needle goes through {passes}; one stitch of each edge goes into the seam{width}"


def _instead(seam: Seam) -> str:
    if seam.along == "loops":
        return (
            f"left live and grafted, the {count(min(seam.many), 'loop')} of each edge would be entered "
            f"twice: "
            "no ridge and more stretch, but slower. A seam holds weight better, at a shoulder for instance."
        )
    if seam.along == "both":
        stitches = count(min(seam.many), "stitch", "stitches")
        return (
            f"picked up along the ends of rows, {stitches} could be knitted outwards from there: no seam to "
            "sew, but the band then grows away from the edge, and its last row is its outer edge."
        )
    return (
        "side edges have no live loops, so they cannot be grafted. Worked in the round there would be no "
        "seam; a "
        "seam keeps a long garment from twisting and growing."
    )
