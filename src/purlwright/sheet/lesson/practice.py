"""The practice piece, the exercises with a planted mistake, their answers, and what a class needs.

In: the material and what is asked. Out: blocks.

Yarn is what the stitches take at the gauge, and half as much again for what is pulled out and worked anew (by
eye, no source).
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import TYPE_CHECKING

from purlwright.lesson.planted import Planted, planted
from purlwright.needles.ledger import ROWS
from purlwright.proof.said import and_list, count
from purlwright.sheet.document import (
    Block,
    Fact,
    Facts,
    Glossary,
    Heading,
    Items,
    Paragraph,
    Row,
    Table,
    Term,
)
from purlwright.sheet.lesson.stages import closer, said

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.sheet.lesson.asked import Asked, Material

__all__ = ["answers", "exercises", "kit", "practice"]

_LINE = re.compile(r"^(Row \d+)(?: \((RS|WS)\))?: (.*?)(?: \((\d+ sts)\))?$")
_PULLED_OUT = 1.5


def practice(material: Material) -> Iterator[Block]:
    """The piece, row by row, ready to be worked."""
    piece = material.practice
    yield Heading(text="Practice piece", anchor="practice")
    told = "The smallest piece that holds each new move once. It was knitted and proved like a pattern."
    if piece.left_out:
        told += f" Not in it, because each needs a piece of its own: {and_list(piece.left_out)}."
    yield Paragraph(words=said(told), hers=False)
    explaining = False
    terms: list[Term] = []
    for line in piece.text.split("\n"):
        found = _LINE.match(line)
        if line.startswith("## "):
            explaining = line == "## Abbreviations"
        elif found is not None:
            side = found[2] if found[2] in {"RS", "WS"} else ""
            yield Row(
                label=found[1],
                side="RS" if side == "RS" else "WS" if side == "WS" else "",
                words=said(found[3]),
                total=found[4] or "", boxes=1,
            )  # fmt: skip
        elif line and not line.startswith("#"):
            name, _, meaning = line.partition(": ")
            if explaining:
                terms.append(Term(term=name, meaning=said(meaning)))
            else:
                yield from [Glossary(terms=tuple(terms))] if terms else []
                terms = []
                yield Row(label="", words=said(line))


def exercises(material: Material) -> tuple[list[Block], tuple[Planted, ...]]:
    """What was knitted with a slip in it, as it looks and counts."""
    found = planted(material.practice, material.knit)
    blocks: list[Block] = []
    if not found:
        return blocks, found
    blocks.append(Heading(text="Find the mistake", anchor="mistakes"))
    blocks.append(
        Paragraph(
            words=said(
                "Each of these is the practice piece with one row not worked as written. Which row is it, "
                "and what was done? Some show in the count, some only in the look."
            ),
            hers=False,
        )
    )
    for n, one in enumerate(found, 1):
        blocks.append(Heading(text=f"Exercise {n}", level=2, anchor=f"exercise-{n}"))
        blocks.append(_counts(one, n))
        piece = one.knitted.ledger.pieces[0]
        at = next((e for e in piece.rows if e.label == one.row), None)
        later = [e for e in piece.rows if at is not None and e.order > at.order and e.kind in ROWS][:3]
        figure = closer(_of(material, one), piece, (later or [at or piece.rows[-1]])[-1], f"exercise {n}")
        if figure is not None:
            blocks.append(figure)
    return blocks, found


def _of(material: Material, one: Planted) -> Material:
    return replace(material, knitted=one.knitted)


def _counts(one: Planted, n: int) -> Table:
    """The counts as they were found, beside those to have."""
    rows = tuple(
        (label, str(should), str(n)) for (label, n), (_, should) in zip(one.rows, one.right, strict=True)
    )
    return Table(caption=f"Exercise {n}: stitches after each row", head=("", "To have", "Counted"), rows=rows)


def answers(found: Sequence[Planted]) -> Iterator[Block]:
    """The answers, at the end, where they are not seen too soon."""
    if found:
        yield Heading(text="Answers", anchor="answers")
        yield Items(items=tuple(said(f"Exercise {n}. {one.answer}") for n, one in enumerate(found, 1)))


def kit(material: Material, asked: Asked) -> Iterator[Block]:
    """What to bring for a class."""
    yield Heading(text="Class kit", anchor="kit")
    entries = material.pattern.header.entries
    wanted = {e.known: e.value for e in reversed(entries) if e.known in {"Yarn", "Needles", "Notions"}}
    n = asked.learners
    facts = []
    if "Needles" in wanted:
        facts.append(Fact(label="Needles", words=said(f"{count(n, 'set')}: {wanted['Needles']}")))
    metres = material.practice_metres
    if metres is not None:
        ball = math.ceil(metres * _PULLED_OUT / 5) * 5
        each = count(n, "ball")
        facts.append(
            Fact(
                label="Practice yarn",
                words=said(
                    f"{each} of about {ball} m, {ball * n:,} m in all: what the practice piece takes at the "
                    f"gauge, {metres:.0f} m, and half as much again for pulling out. Light in colour, "
                    f"smooth, "
                    "of the weight below."
                ),
            )
        )
    else:
        facts.append(
            Fact(
                label="Practice yarn",
                words=said(f"{count(n, 'small ball')}; the pattern has no gauge to reckon from."),
            )
        )
    for key, label in (("Yarn", "Pattern yarn"), ("Notions", "Notions")):
        if key in wanted:
            facts.append(Fact(label=label, words=said(wanted[key])))
    if material.yarn is not None and material.yarn.uses:
        takes = [
            f"{f'{use.name}: ' if use.name else ''}about {use.metres:.0f} m ({use.least:.0f} to "
            f"{use.most:.0f})"
            for use in material.yarn.uses
        ]
        facts.append(Fact(label="The whole takes", words=said(f"{and_list(takes)} for each learner")))
    facts.append(Fact(label="Copies", words=said(f"{count(n, 'handout')}, and the pattern sheet for each")))
    yield Facts(facts=tuple(facts))
