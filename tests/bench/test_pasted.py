"""Text from a word processor, a web page or a PDF is put right, and each change is told."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.bench.pasted import put_right
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]

# Invented; as a PDF of a narrow page gives it.
WRISTLETS = """\
Tern Wrist\u00adlets
Page 1 of 3
A pair of wristlets for cold morn-
ings on the quay, knitted in the round from a stretchy cast-
on at the cuff up, and worn by everyone who “mends nets”, or
did once.
Yarn: MC, wool, 200 m per 100 g
Gauge: 22 sts and 30 rnds = 10 cm in stockinette stitch
Needles: 3¾ mm (31⁄2 mm for the cuff)

• Cast on 40 sts. Join to work in the round.
Rnd 1: *K2,\u00a0p2; rep from * to end.
Rnds 2-
12: Rep rnd 1.
□ Rnd 13: *K8, k2tog; rep from * to end, and take care that the last of them lies
over the one of the round before.
(36 sts)
Rnd 14: Knit.
Page 2 of 3
Tern Wristlets
Rnd 15: *K2, sl1-k2tog-
psso, k1; rep from
* to end. (24 sts)
Bind oﬀ.
Page 3 of 3
Tern Wristlets
"""
READ = """\
Tern Wristlets
A pair of wristlets for cold mornings on the quay, knitted in the round from a stretchy cast-on at the cuff up, and worn by everyone who "mends nets", or did once.
Yarn: MC, wool, 200 m per 100 g
Gauge: 22 sts and 30 rnds = 10 cm in stockinette stitch
Needles: 3¾ mm (3½ mm for the cuff)

Cast on 40 sts. Join to work in the round.
Rnd 1: *K2, p2; rep from * to end.
Rnds 2-12: Rep rnd 1.
Rnd 13: *K8, k2tog; rep from * to end, and take care that the last of them lies over the one of the round before. (36 sts)
Rnd 14: Knit.
Rnd 15: *K2, sl1-k2tog-psso, k1; rep from * to end. (24 sts)
Bind off.
"""


def test_a_page_of_a_pdf_reads_like_the_printed_sheet():
    assert put_right(WRISTLETS).text == READ


def test_each_change_is_told_where_it_stands():
    done = put_right(WRISTLETS)
    told = {(c.before, done.text[c.start : c.end]) for c in done.changes}
    assert {
        ("31⁄2", "3½"),
        ("-\n", ""),
        ("-\n", "-"),
        ("\n", " "),
        ("\u00a0", " "),
        ("• ", ""),
        ("“", '"'),
    } <= told
    assert any(c.before == "Page 2 of 3\n" for c in done.changes)
    assert all(c.why for c in done.changes)
    assert [c.start for c in done.changes] == sorted(c.start for c in done.changes)


def test_what_was_put_right_is_read_and_knitted():
    from_paper = WorkUp(put_right(WRISTLETS).text)
    found = [f for f in from_paper.findings() if f.severity.value == "error"]
    assert [
        e.end for e in from_paper.knitted().ledger.entries if e.label in {"Round 12", "Rnd 13", "Rnd 15"}
    ] == [40, 36, 24]
    assert found == []


@pytest.mark.parametrize("name", sorted(p.name for p in (ROOT / "examples").glob("*.pattern.md")))
def test_an_example_that_is_pasted_knits_to_the_same(name):
    text = (ROOT / "examples" / name).read_text(encoding="utf-8")
    pasted = put_right(text).text
    before, after = WorkUp(text), WorkUp(pasted)
    assert after.sizes == before.sizes
    assert after.options == before.options
    for size in before.sizes:
        assert [(e.label, e.start, e.end) for e in after.knitted(size).ledger.entries] == [
            (e.label, e.start, e.end) for e in before.knitted(size).ledger.entries
        ]


@pytest.mark.parametrize(
    ("pasted", "right"),
    [
        ("", ""),
        ("\ufeffTern\r\n", "Tern\n"),
        ("Knit 1⁄2, 11⁄2 and 3⁄5.", "Knit ½, 1½ and 3⁄5.\n"),
        ("K2\u2003p2 − k3", "K2 p2 - k3\n"),
        ("ﬁrst ﬂoss", "first floss\n"),
        ("the ribs knit-\nted before", "the ribs knitted before\n"),
        ("work short-\nrows", "work short-rows\n"),
        (
            "wear on the left-\nhand side, the left-hand one",
            "wear on the left-hand side, the left-hand one\n",
        ),
        ("Rows 3-\n8: Knit.", "Rows 3-8: Knit.\n"),
        ("Row 1: K2.\nRow 2: P2.", "Row 1: K2.\nRow 2: P2.\n"),
        ("Cast on 24\nRow 1: K2.", "Cast on 24\nRow 1: K2.\n"),
        (
            "rounds 1 thru 8: using MC, k all sts\nround 9: k all sts",
            "rounds 1 thru 8: using MC, k all sts\nround 9: k all sts\n",
        ),
        (
            "4. [K1 CC1, K1 CC2, K2 CC1, K1 CC2, K2 CC1] around and\n5. K",
            "4. [K1 CC1, K1 CC2, K2 CC1, K1 CC2, K2 CC1] around and\n5. K\n",
        ),
        ("TERN\nWRISTLETS", "TERN\nWRISTLETS\n"),
        ("a\n\n1\nb\n\n2\nc\n\n3\n", "a\n\nb\n\nc\n"),
        ("Repeat until\n24\nremain", "Repeat until\n24\nremain\n"),
        ("```\n- - x\n  x y\n```\n", "```\n- - x\n  x y\n```\n"),
        ("– Cast on", "Cast on\n"),
        ("*K2, p2; rep from * to end.", "*K2, p2; rep from * to end.\n"),
    ],
)
def test_one_thing_at_a_time(pasted, right):
    assert put_right(pasted).text == right


@given(st.text(alphabet=st.sampled_from("ab K2,.:;*-\n\r\f\u00a0\u00ad“’½⁄1•ﬁ𝕄[](`"), max_size=120))
def test_any_text_at_all_is_put_right_once_and_every_change_lies_inside(text):
    done = put_right(text)
    for c in done.changes:
        assert 0 <= c.start <= c.end
    letters = [c for c in "abK𝕄" if text.count(c)]
    assert all(done.text.count(c) == text.count(c) for c in letters)


def test_the_page_is_told_in_its_own_way_of_counting(page):
    got = page.post("/api/paste", json={"text": "𝕄 “tern” 1⁄2"}).json()
    assert got["text"] == '𝕄 "tern" ½\n'
    units = got["text"].encode("utf-16-le")
    for change in got["changes"]:
        assert units[2 * change["from"] : 2 * change["to"]].decode("utf-16-le") == change["after"]
    assert got["told"] == [
        "A curly or slanted mark was made a plain one (2 times).",
        "A fraction was put together again.",
    ]
