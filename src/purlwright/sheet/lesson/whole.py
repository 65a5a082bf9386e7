"""The whole lesson pack, in the order in which a teacher needs it.

In: the material of one size, and what is asked. Out: a :class:`~purlwright.sheet.document.Document`, with
the rows to be played stitch by stitch beside it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.lesson.join_drawing import SHOWN, draw_join
from purlwright.lesson.joins import Join, joins_of
from purlwright.proof.said import count
from purlwright.sheet.document import (
    Block,
    Document,
    Fact,
    Facts,
    Figure,
    Heading,
    Items,
    Paragraph,
    Row,
    Stamp,
    Table,
)  # fmt: skip
from purlwright.sheet.lesson.player import left_out, played_rows
from purlwright.sheet.lesson.practice import answers, exercises, kit, practice
from purlwright.sheet.lesson.seams import sewn
from purlwright.sheet.lesson.stages import moves, ready, said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.lesson.reading import PartClues
    from purlwright.sheet.lesson.asked import Asked, Material

__all__ = ["lesson_document"]

SHOWN_STEPS = 3
"""The steps of so many pairs of a graft are told one by one."""


def lesson_document(material: Material, asked: Asked) -> Document:
    """The pack as one document."""
    title = material.pattern.title or "A pattern without a title"
    found, planted = exercises(material)
    size = f"size {material.follow.size}" if len(material.pattern.sizes) > 1 else "the one size"
    blocks: list[Block] = [
        Paragraph(
            words=said(
                f"A lesson on {title}, from {size} as it was knitted: {count(asked.learners, 'learner')}, "
                f"lessons of {asked.minutes:g} minutes, {asked.pace:g} plain stitches a minute."
            ),
            hers=False,
        ),
        *moves(material),
        *ready(material, asked),
        *_checkpoints(material),
        *practice(material),
        *found,
        *_joins(material),
        *kit(material, asked),
        *_captions(material),
        *_not_played(material),
        *answers(planted),
    ]
    entries = material.pattern.header.entries
    version = next((e.value for e in entries if e.known == "Version"), "")
    stamp = Stamp(
        name=title, version=version, size=material.follow.size if len(material.pattern.sizes) > 1 else ""
    )
    return Document(
        title=f"Lesson: {title}", stamp=stamp, blocks=tuple(blocks), played=played_rows(material.knitted)
    )


# --- checkpoints -----------------------------------------------------------------------------------


def _checkpoints(material: Material) -> Iterator[Block]:
    """What should be seen in each part, and what it means if it is not."""
    told = [p for p in material.clues if any(t.chosen for t in p.told)]
    if not told:
        return
    yield Heading(text="Checkpoints: if you see this, then", anchor="checkpoints")
    for p in told:
        yield Heading(text=p.name, level=2)
        yield Table(
            caption=f"What to see in {p.name}",
            head=("Look for", "Holds for", "If it is not so"),
            rows=_rows(p),
        )
    if material.signs:
        yield Heading(text="First signs of trouble", level=2)
        yield Paragraph(
            words=said(
                "Each was found by knitting the pattern with that slip in it, every time the row is worked."
            ),
            hers=False,
        )
        yield Items(items=tuple(said(f"{s.section}: {s.words}") for s in material.signs))


def _rows(p: PartClues) -> tuple[tuple[str, ...], ...]:
    out = []
    for t in p.told:
        if not t.chosen:
            continue
        where = f"{t.clue.rows}; {t.clue.stops}" if t.clue.stops else t.clue.rows
        if t.clue.tells_row:
            then = "you are at another row than you thought"
        else:
            then = f"look at the {p.part.what} just done, then at the one before"
        if t.faked:
            then += f". It still seems so if {t.faked[0]}"
        out.append((t.clue.words, where, then))
    return tuple(out)


# --- seams and grafts --------------------------------------------------------------------------------


def _joins(material: Material) -> Iterator[Block]:
    found = joins_of(material.knitted, material.size_mm[0] if material.size_mm else None)
    seams = tuple(sewn(material))
    if not found and not seams:
        return
    yield Heading(text="Seams and grafts", anchor="joins")
    for join in found:
        yield from _join(join)
    yield from seams


def _join(join: Join) -> Iterator[Block]:
    name = join.entry.section or join.entry.label or "The join"
    yield Heading(text=f"{name}: {'graft' if join.how == 'graft' else 'bind off together'}", level=2)
    facts = [Fact(label="Pairs", words=said(f"{len(join.pairs)}, stitch for stitch"))]
    if join.tail_mm is not None:
        cm = -(-join.tail_mm // 50) * 5
        told = ": four times the edge, and 20 cm to hold" if join.how == "graft" else ""
        facts.append(Fact(label="Tail", words=said(f"about {cm:.0f} cm{told}")))
    look = (
        "heads of loops meet heads: the columns of the two sides stand half a stitch apart, which shows in "
        "ribs and in colours and not in plain knitting"
        if join.heads
        else "the live loops meet the lower loops of the cast-on: the columns run straight on"
    )
    facts.append(Fact(label="How it looks", words=said(look)))
    if join.how == "graft":
        facts.append(
            Fact(
                label="What it costs",
                words=said(
                    f"{2 * len(join.pairs)} loops, each entered twice, {4 * len(join.pairs)} times in all. "
                    "A seam through two bound-off edges is quicker and firmer, and shows as a ridge inside."
                ),
            )
        )
    yield Facts(facts=tuple(facts))
    if join.how != "graft":
        return
    steps = join.steps(SHOWN_STEPS)
    yield Paragraph(
        words=said("Hold the two needles side by side, wrong sides together, the front one nearer to you.")
    )
    lines = [f"{s.words[0].upper()}{s.words[1:]}." for s in steps]
    yield Items(items=tuple(said(line) for line in lines))
    more = "Go on so. " if len(join.pairs) > SHOWN_STEPS else ""
    ending = "The last loop of each needle has none after it to enter: it is slipped off, and that is all."
    yield Paragraph(words=said(f"{more}{ending} Draw each stitch up until it is as large as its neighbours."))
    shown = min(SHOWN, len(join.pairs))
    words = (
        f"The way of the yarn through the first {shown} loops of both edges, flat and seen from the right "
        "side: up through a loop of the front edge, over between two of the back edge, and down through the "
        "same front loop."
    )
    yield Figure(drawing=draw_join(join), alternative=words, caption=said(words))


# --- captions ----------------------------------------------------------------------------------------


def _captions(material: Material) -> Iterator[Block]:
    """A caption and a count for each row, as it is first worked."""
    steps = [s for s in material.follow.steps if s.pass_ == 1]
    if not steps:
        return
    yield Heading(text="Captions for filming", anchor="captions")
    yield Paragraph(
        words=said("Each row as it is first worked, without abbreviations, with the count to end on."),
        hers=False,
    )
    section = ""
    last: tuple[str, str, int] | None = None
    before = ""
    for s in steps:
        if s.kind == "join" and s.row == before:
            continue  # told by the words of the row that joins
        before = s.row
        if s.section != section:
            section = s.section
            yield Heading(text=section, level=2)
        key = (s.label, s.in_full, s.after)
        if key == last:
            continue
        last = key
        total = count(s.after, "stitch", "stitches") if s.after else "no stitches"
        full = f"{s.in_full[:1].upper()}{s.in_full[1:]}"
        yield Row(label=s.label, side=s.side, words=said(full), total=total, proved=True)


def _not_played(material: Material) -> Iterator[Block]:
    """Which rows the page does not show stitch by stitch, for want of room."""
    rows = left_out(material.knitted)
    if not rows:
        return
    yield Heading(text="Rows not shown stitch by stitch", anchor="not-played")
    yield Paragraph(
        words=said(
            f"The web page shows rows stitch by stitch until it is full. It leaves out "
            f"{count(len(rows), 'row')}; the captions tell them in words:"
        ),
        hers=False,
    )
    by_section: dict[str, list[str]] = {}
    for row in rows:
        by_section.setdefault(row.section, []).append(row.label)
    yield Items(
        items=tuple(
            said(f"{section}: {', '.join(labels)}" if section else ", ".join(labels))
            for section, labels in by_section.items()
        )
    )
