"""One small pattern for each kind of fault: what is found, where, and how a person is told.

Each file in ``examples/faults`` is a pattern with one planted fault, named for the finding it must get and, after a
point, for what is wrong. Here stand the words that must be underlined and the answer of ``proof``; the pictures
beside this file hold the pattern and the page as a person sees it.
"""

from pathlib import Path
from typing import NamedTuple

import pytest
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from purlwright.cli import main
from purlwright.workup import WorkUp

FAULTS = Path(__file__).parents[2] / "examples" / "faults"


class Planted(NamedTuple):
    """What a planted fault must give: the words underlined, their line, the answer of ``proof``, what else follows.

    Most faults give one finding and no more. Where another finding truly follows (stitches that would go to a holder
    that is short of them stay live), its code stands in ``also``.
    """

    words: str
    line: int
    answer: int
    also: tuple[str, ...] = ()


PLANTED = {
    "count-differs.row-one-short": Planted("K4, p15, k4", 8, 1),
    "count-differs.group-short": Planted("[K3, p1] 5 times", 6, 1),
    "count-differs.one-size": Planted("26", 7, 1),
    "count-differs.second-repeat": Planted("K2, yo, k5, yo, k2", 5, 1),
    "total-differs.wrong-total": Planted("(68 sts)", 6, 1),
    "total-differs.times-more": Planted("(15 sts)", 7, 1),
    "change-differs.two-not-four": Planted("(4 sts dec)", 6, 1),
    "repeat-uneven.edge-left-out": Planted("*K3, p1; rep from * to end", 7, 1),
    "repeat-uneven.one-size": Planted("*K2, p2; rep from * to end", 7, 1),
    "group-uneven.last-stitch": Planted("K2tog across", 7, 1),
    "repeat-without-star.missing-mark": Planted("rep from * to end", 6, 1),
    "unclosed-bracket.group": Planted("[", 5, 1),
    "size-list-length.one-missing": Planted("28 (30, 32)", 7, 1),
    "sizes-line-differs.one-too-many": Planted("S, M, L, XL", 4, 1),
    "sizes-not-named.no-sizes-line": Planted("80 (88, 96)", 4, 0),
    "size-unknown.xl": Planted("Sizes M, XL", 8, 1),
    "size-left-out.row-for-two-of-three": Planted("Row 2 (WS)", 8, 0),
    "no-such-gap.no-turn-yet": Planted("Knit to 4 sts before gap", 6, 1),
    "marker-not-here.one-placed": Planted("sm", 7, 0),
    "turned-at-once.nothing-knitted": Planted("turn", 6, 1),
    "explained-by-itself.bobble": Planted("mb", 5, 1),
    "between-markers-differs.gusset": Planted("(8 sts between markers)", 8, 1),
    "no-marker.never-placed": Planted("Knit to m", 6, 1, also=("knitted-on-from-count",)),
    "side-differs.row-left-out": Planted("Knit", 8, 1),
    "side-not-as-counted.three-rows-first": Planted("K2, p20, k2", 6, 0),
    "ending-side-differs.odd-rows": Planted("Knit 7 rows, ending with a WS row", 7, 1),
    "left-live.no-ending": Planted("*K2tog; rep from * to end. (12 sts)", 7, 0),
    "pick-up-too-sparse.front-band": Planted("pick up and knit 33 sts along the right edge", 12, 0),
    "left-on-hold.thumb": Planted("place next 8 sts on a holder", 7, 0),
    "left-live.steps-do-not-use-up": Planted(
        "Bind off 8 sts at the beginning of the next 3 rows", 7, 0, also=("total-lacking",)
    ),
    "held-differs.more-than-there": Planted("place next 10 sts on a holder", 5, 1),
    "nothing-held.sleeve": Planted(
        "Place the held sleeve sts on the needle", 11, 1, also=("nothing-on-needle",)
    ),
    "join-differs.graft": Planted("Graft the live sts to the cast-on sts", 7, 1),
    "pick-up-differs.cast-on-edge": Planted("pick up and knit 40 sts along the cast-on edge", 11, 0),
    "rows-differ.twelve-for-eight": Planted("Rep rows 1-8", 6, 1),
    "no-such-row.row-seven": Planted("As row 7", 7, 1),
    "row-missing.row-four": Planted("Row 5", 8, 0),
    "row-twice.row-three": Planted("Row 3", 8, 0),
    "row-out-of-order.four-before-three": Planted("Row 3", 8, 0),
    "not-read.unknown-stitch": Planted("k2tgo", 6, 1),
    "double-yarn-over.worked-as-one": Planted("p2tog", 6, 0),
    "definition-differs.cable-of-five": Planted(
        "C6F: worked over 6 sts. Slip 3 sts to cable needle and hold in front, k3, k2 from cable needle.",
        5,
        1,
        also=("crossing-differs",),
    ),
    "never-reached.odd-and-even": Planted("Rep rnd 2 until 11 sts remain", 7, 1, also=("total-lacking",)),
    "leaves-differs.turn": Planted("turn, leaving 6 sts unworked", 5, 1),
    "turn-left-open.never-crossed": Planted("turn", 6, 0, also=("left-live",)),
    "wraps-not-spoken-of.wedge": Planted("w&t", 6, 0),
    "times-or-more.four-times": Planted("Rep rows 1 and 2 four times", 7, 0),
    "total-on-repeat.first-time-only": Planted("(7 sts)", 5, 0),
    "total-lacking.after-shaping": Planted("K2tog, knit to last 2 sts, ssk", 7, 0),
    "round-called-row.join": Planted("Row 3", 7, 0),
    "wrong-side-in-round.label": Planted("Round 2 (WS)", 6, 0),
    "place-behind.too-few-left": Planted("knit to last 4 sts", 6, 1),
    "evenly-does-not-fit.too-many": Planted(
        "Dec 14 sts evenly across", 6, 1, also=("knitted-on-from-count",)
    ),
    "parts-differ.front-and-back": Planted("(18 + 18 + 6 = 40 sts)", 5, 1),
    "option-unused.picot": Planted("picot", 2, 0),
    "option-unclear.two-options": Planted("plain", 7, 1),
    "not-whole.half-of-odd": Planted("{width / 2}", 9, 1),
    "number-unknown.never-given": Planted("length", 9, 1),
    "number-named-twice.width": Planted("width", 6, 0),
    "number-not-read.words": Planted("plus a bit", 5, 1),
    "number-too-large.slip-of-the-key": Planted("20000000", 5, 1),
    "pattern-not-given.chart": Planted("Work row 1 of chart B", 5, 0),
    "chart-mark-unused.leftover": Planted("v", 11, 0),
    "chart-repeat-lines.one-line": Planted("| o / . . 1", 6, 1),
    "chart-row-number.gap": Planted("| . . . . | 7", 6, 0),
    "repeat-uneven.chart-box-missing": Planted("Work row 1 of chart A", 15, 1),
    "total-differs.yarn-over-missing": Planted("(24 sts)", 7, 1),
    "total-differs.yoke-join": Planted("72", 7, 1),
    "bind-off-two-ways.neck": Planted("Bind off 5 sts, p30", 6, 0),
    "abbreviation-not-explained.ssk": Planted("ssk", 11, 0),
    "abbreviation-not-used.sk2p": Planted("sk2p", 7, 0),
    "crossing-unclear.front-or-back": Planted("C6", 5, 0),
    "two-forms.row-and-rnd": Planted("Round 2", 6, 0),
    "marker-not-placed.slip": Planted("sm", 5, 0),
    "marker-never-used.stray": Planted("place marker A", 5, 0),
    "gauge-not-read.vague": Planted("not important", 2, 0),
    "header-not-read.terms": Planted("Scots", 2, 0),
    "length-needs-gauge.until": Planted("Knit every row until piece measures 20 cm", 6, 0),
    "measured-from-nowhere.fold-line": Planted(
        "Rep rows 1 and 2 until work measures 10 cm from fold line", 8, 0
    ),
    "length-left-to-knitter.desired": Planted(
        "Rep rows 1 and 2 until the scarf is as long as you wish", 7, 0
    ),
    "nothing-on-needle.after-bind-off": Planted("Knit", 7, 1),
    "side-not-known.rejoin": Planted("Bind off all sts", 9, 0),
    "fence-left-open.chart": Planted("```chart", 10, 1),
    "chart-not-read.sentence": Planted("mind the middle one", 11, 1),
    "line-too-long.written-out": Planted("p,p,p,p,p,p,p,p,p.", 5, 1),
    "times-not-said.lost-number": Planted("times", 6, 1),
    "marker-inside-stitch.k2tog": Planted("k2tog", 7, 0),
    "definition-not-knitted.bobble": Planted("MB: [k1, p1, k1] in next st, turn, p4, turn, k3tog.", 5, 1),
    "ending-not-said.for-ever": Planted("Purl", 6, 0),
    "pattern-row-on-other-side.row-three": Planted("Cont in pattern", 11, 0),
    "reading-chosen.comma": Planted("k1, p1 3 times", 5, 0),
    "no-slipped-stitches.cable": Planted("knit the slipped sts", 7, 1),
    "nested-too-deep.brackets": Planted("[[[[[[[[[[k1]]]]]]]]]]", 5, 1),
    "too-much-knitting.times": Planted("Rep rows 1 and 2 900000 times more", 7, 1),
}


class PageSnapshot(SingleFileSnapshotExtension):
    """One page of text a fault."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


def files():
    return {path.name.removesuffix(".pattern.md"): path for path in sorted(FAULTS.glob("*.pattern.md"))}


def test_every_file_is_spoken_of_here_and_every_name_is_a_file():
    assert set(files()) == set(PLANTED)


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_fault_is_found_where_it_stands(name):
    work = WorkUp(files()[name].read_text(encoding="utf-8"), name)
    found = work.proved().findings
    code = name.partition(".")[0]
    mine = [f for f in found if f.code == code]
    assert mine, [f.code for f in found]
    placed = {(work.source.text[f.span.start : f.span.end], work.source.place(f.span.start)[0]) for f in mine}
    assert placed == {PLANTED[name][:2]}
    assert {f.code for f in found} - {code} == set(PLANTED[name].also)


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_fault_as_a_person_sees_it(name, capsys, monkeypatch, snapshot):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")
    answer = main(["proof", str(files()[name])])
    page, complaint = capsys.readouterr()
    assert (answer, complaint) == (PLANTED[name].answer, "")
    picture = f"{files()[name].read_text(encoding='utf-8')}\n{'=' * 80}\n{page}"
    assert len(picture.encode()) < 20 * 1024
    assert picture == snapshot(extension_class=PageSnapshot)
