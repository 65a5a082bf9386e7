"""The measures that a pattern states, and what the knitting measures by its gauges."""

from fractions import Fraction

import pytest

from purlwright.needles.ledger import Kind
from purlwright.proof.measures import amounts_in, stated
from purlwright.proof.rates import ground_named, ground_of, rate_for, rates, worked_rows
from purlwright.proof.subject import Subject, Way
from purlwright.workup import WorkUp


def subject(text):
    work = WorkUp(text)
    return Subject(
        work.source, work.pattern, [Way(k.size, k.options, k) for k in work.proved().knitted], None
    )


def lengths(words, sizes=1):
    return [
        ([None if v is None else float(v) for v in a.values], a.unit) for a in amounts_in(words, 0, sizes)
    ]


@pytest.mark.parametrize(
    ("words", "sizes", "found"),
    [
        ("46.5 (50, 56.5) cm round", 3, [([46.5, 50, 56.5], "cm")]),
        ("46½ [50, 56½] cm", 3, [([46.5, 50, 56.5], "cm")]),
        ("18 1/4 (20, -) inches", 3, [([18.25, 20, None], "in")]),
        ('34" (36", 38") chest', 3, [([34, 36, 38], "in")]),
        ("46 cm (18 in)", 2, [([46], "cm"), ([18], "in")]),
        ("46, 50, 56 cm", 3, [([46, 50, 56], "cm")]),
        ("in row 4, 20 cm", 1, [([20], "cm")]),
        ("20 x 25 cm", 1, [([20], "cm"), ([25], "cm")]),
        ("for 8 in.", 1, [([8], "in")]),
        ("K2 in next st, knit 2 in each st, 4 in all", 1, []),
        ("46 (50) cm", 3, []),
        ("a 30-cm tail", 1, [([30], "cm")]),
        ("", 1, []),
    ],
)
def test_lengths_in_words(words, sizes, found):
    assert lengths(words, sizes) == found


HEADER = """# Gull Cap
Sizes: S (M)
To fit: head about 54 (58) cm
{line}
Gauge: 20 sts and 30 rounds = 4 in in stockinette stitch

## Brim
Cast on 88 (96) sts. Join to work in the round.
Work in k2, p2 rib for 5 cm.

## Crown
Knit 10 rounds.
> It is now 9 (10) cm high.
Bind off all sts.
"""


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("Finished size: 44 (48) cm round the brim", [("brim", "round", 44)]),
        (
            "Finished size: 55 (60) cm round, 22 cm deep with the rib",
            [("", "round", 55), ("", "length", 22)],
        ),
        (
            "Finished size: chest 60 (65) cm; sleeve 20 (22) cm",
            [("chest", "round", 60), ("sleeve", "length", 20)],
        ),
        ("Finished size: 17 (19) in [42.5 (47.5) cm] brim circumference", [("brim", "round", 42.5)]),
        ("Finished chest: 90 (100) cm", [("chest", "round", 90)]),
        ("Finished size: 20 x 25 cm", [("", "", 20), ("", "", 25)]),
        ("Finished size: 21 cm square", [("", "square", 21)]),
        ("Finished size: 24 (26) cm from heel to toe", [("foot", "length", 24)]),
        ("Finished size: 20 (22) cm from brim to crown", [("", "length", 20)]),
        ("Needles: 4 mm", []),
    ],
)
def test_stated_measures(line, found):
    measures = stated(subject(HEADER.format(line=line)))
    finished = [m for m in measures if m.source == "finished size"]
    assert [(m.part, m.way, float(m.cm(0))) for m in finished] == found
    others = [(m.source, m.part, m.section, m.about) for m in measures if m.source != "finished size"]
    assert others == [("body", "head", "", True), ("text", "", "Brim", False), ("text", "", "Crown", False)]


def test_what_the_knitting_measures():
    sub = subject(HEADER.format(line="Notions: tapestry needle"))
    way = sub.ways[1]
    rows = way.knitted.ledger.pieces[0].rows
    brim = [e for e in rows if e.section == "Brim"]
    crown = [e for e in rows if e.section == "Crown"]
    assert (ground_of(way.knitted, brim), ground_of(way.knitted, crown)) == ("rib", "stockinette")
    rate = rate_for(sub, "stockinette", in_round=crown[0].kind is Kind.ROUND)
    assert rate.sure
    assert (rate.width_cm(96), rate.length_cm(worked_rows(crown))) == (48, Fraction(10, 3))
    assert not rate_for(sub, "rib").sure


@pytest.mark.parametrize(
    ("words", "ground"),
    [
        ("stocking stitch", "stockinette"),
        ("St st", "stockinette"),
        ("garter stitch", "garter"),
        ("k2, p2 rib", "rib"),
        ("brioche rib", "pattern"),
        ("stranded stockinette stitch", "pattern"),
        ("moss stitch", "pattern"),
        ("", ""),
    ],
)
def test_grounds_by_name(words, ground):
    assert ground_named(words) == ground


def test_a_gauge_without_its_ground_serves_if_it_is_the_only_one():
    text = "# Mat\nGauge: 20 sts and 40 rows = 10 cm\n\nCast on 20 sts.\nKnit 20 rows.\nBind off all sts.\n"
    sub = subject(text)
    rows = sub.ways[0].knitted.ledger.pieces[0].rows
    assert ground_of(sub.ways[0].knitted, rows) == "garter"
    assert rate_for(sub, "garter").sure
    assert rate_for(subject("# Mat\n\nCast on 20 sts.\n"), "garter") is None


def test_a_gauge_that_counts_over_two_lengths():
    sub = subject(
        "# Mat\nGauge: 10 sts to 5 cm and 28 rows to 4 inches in garter stitch\n\nCast on 20 sts.\n"
    )
    (rate,) = rates(sub)
    assert (rate.stitches, rate.rows) == (2, Fraction(28, 10))
