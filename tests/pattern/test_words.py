"""The tree put into words, and read again."""

from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import structs

import strategies
from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.words import action_words, definition_words, line_words
from purlwright.stitches.load import dictionary
from purlwright.text import NOWHERE, Source, Span

MANY = pytest.param(10_000, marks=pytest.mark.long)
QUIET = {"deadline": None, "suppress_health_check": list(HealthCheck)}


def context(sizes=strategies.SIZES, terms=""):
    return Context(
        sizes=sizes,
        compact=dictionary().compact,
        terms=terms,
        yarns=frozenset({"a", "mc"}),
        markers=frozenset({"a", "red"}),
        called={"chart a": "Chart A"},
    )


def read(words, terms=""):
    return read_line(words, context(terms=terms))


def plain(node):
    """The tree without what words cannot carry: spans, and the designer's own words for a label or a length."""
    if isinstance(node, tuple) and not isinstance(node, Span):
        return tuple(plain(x) for x in node)
    if isinstance(node, tree.Node):
        fields = {f: plain(getattr(node, f)) for f in node.__struct_fields__}
        fields["span"] = NOWHERE
        if isinstance(node, tree.Label | tree.Length):
            fields["words"] = ""
        return type(node)(**fields)
    return node


# --- laws ---


def same_again(line, terms):
    words = line_words(line, terms)
    got = read(words, terms)
    assert plain(got.label) == plain(line.label), words
    assert plain(got.actions) == plain(line.actions), words
    assert got.findings == (), words


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("what", [strategies.lines, strategies.statements], ids=["rows", "statements"])
def test_reading_the_words_of_a_line_gives_the_line(what, terms):
    @settings(max_examples=200, **QUIET)
    @given(what())
    def law(line):
        same_again(line, terms)

    law()


def spans_inside(node, length):
    for n in tree.walk(node):
        if n.span != NOWHERE:
            assert 0 <= n.span.start <= n.span.end <= length, n


@pytest.mark.parametrize("examples", [300, MANY])
def test_any_line_reads_without_raising_and_every_span_lies_inside(examples):
    @settings(max_examples=examples, **QUIET)
    @given(strategies.texts(), st.sampled_from(["", "US", "UK", "old"]))
    def law(text, terms):
        got = read(text, terms)
        spans_inside(got.actions, len(text))
        if got.label is not None:
            spans_inside(got.label, len(text))
        for f in got.findings:
            assert 0 <= f.span.start <= f.span.end <= len(text)
            assert f.message

    law()


@pytest.mark.parametrize("examples", [200, MANY])
def test_any_file_reads_without_raising_and_every_span_lies_inside(examples):
    @settings(max_examples=examples, **QUIET)
    @given(strategies.files())
    def law(text):
        source = Source(text)
        p = read_pattern(source)
        for line in p.lines:
            assert source.text[line.offset : line.offset + len(line.text)] == line.text
            spans_inside(line.actions, len(line.text))
        for f in p.findings:
            assert 0 <= f.span.start <= f.span.end <= len(source.text)
        for d in p.definitions:
            spans_inside(d, len(source.text))
        for c in p.charts:
            for line in c.lines:
                spans_inside(line.actions, len(source.text) - line.offset)

    law()


# --- every kind of node ---


def samples():
    """One of each kind of step and statement, with as little in it as it needs."""
    n = tree.Number(values=(3,))
    k = tree.Work(stitch="k", count=n)
    end = tree.Place(kind=tree.PlaceKind.END)
    fields = {
        "stitch": "k", "count": n, "body": (k,), "to": end, "ground": "garter", "steps": (k,), "held": n, "front": True,
        "first": (k,), "second": (k,), "over": n, "act": "place", "change": 1, "where": "each end", "name": "Wave Chart",
        "readings": ((k,),), "words": "a word", "rows": tree.RowSet(first=1, last=4), "every": n, "how": "graft",
        "parts": (tree.WorkRows(body=(k,), rows=n),), "rule": "slip first", "slipped": k,
    }  # fmt: skip
    for kind in (*get_args(tree.Step), *get_args(tree.Statement)):
        needed = {f.name: fields[f.name] for f in structs.fields(kind) if f.required}
        if kind is tree.Stated:
            needed["total"] = n
        if kind is tree.RowRef:
            needed["number"] = 2
        if kind is tree.Yarn:
            needed["act"] = "use"
        if kind is tree.PickUp:
            needed["count"] = n
        yield kind(**needed)


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("node", list(samples()), ids=lambda n: type(n).__name__)
def test_every_kind_of_node_has_words(node, terms):
    assert action_words(node, terms).strip()


def test_a_definition_in_words():
    p = read_pattern(Source("# A\n\n## Special stitches\nhk (harbour knot): k1, yo, k2tog.\n"))
    assert definition_words(p.definitions[0]) == "hk (harbour knot): k1, yo, k2tog."


@pytest.mark.parametrize(
    ("words", "uk"),
    [
        ("Row 1: K2, yo, k2tog, k to end.", "Row 1: K2, yfwd, k2tog, k to end."),
        ("Bind off all sts.", "Cast off all sts."),
        ("Row 2: Work in seed stitch to end.", "Row 2: Work in moss stitch to end."),
    ],
)
def test_us_words_in_uk_terms(words, uk):
    got = read(words, "US")
    assert line_words(tree.Line(label=got.label, actions=got.actions), "UK") == uk


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize(
    "words",
    [
        "Work rows 1-4 of the chart twice.",
        "Rep rows 1, 3 and 7 of chart A twice.",
        "Work all 4 rows of chart A twice.",
        "Following chart A, work rows 1-4 twice.",
        "Work 8 rows of chart A.",
        "Work in chart A for 8 rows.",
        "Work in chart A until piece measures 10 cm.",
        "Continue in pattern until row 4 of chart A is complete.",
        "Work all WS rows as they appear.",
        "The rnd now begins at this marker.",
        "Place the held sts of the first finger on the needles.",
        "Place the next 13 sts on waste yarn for the first finger.",
        "Increase 1 st at each end of next row, then increasing in the same way on every 8th row 5 times more.",
        "Bind off 26 sts for the shoulder at the beg of the next 2 rows.",
        "Bind off 5 sts at each end.",
        "Bind off 2 sts at each end of next and every foll alt row 3 times.",
        "Cast on 5 sts at the beg of the next 4 rows.",
        "Rows 3 and 4: As rows 1 and 2.",
        "Work 24 rows of i-cord on these 4 sts.",
        "Knit 3 rows: 13 sts between markers.",
        "Resume working in the round.",
        "The sts between the lines are worked 5 times the first time, 4 times the second and 3 times the third.",
    ],
)
def test_words_that_call_a_chart_or_tell_again_are_read_again_as_they_were(words, terms):
    got = read(words, terms)
    assert got.findings == ()
    same_again(tree.Line(label=got.label, actions=got.actions), terms)


def test_limits_are_printed_before_the_line():
    p = read_pattern(
        Source(
            "# A\nSizes: S (M, L)\nOptions: edge = plain, picot\n\n## B\nplain only: Sizes M, L only: Row 1: Knit.\npicot only: Row 1: Purl.\n"
        )
    )
    assert line_words(next(p.lines)) == "Sizes M, L only: edge plain only: Row 1: Knit."
