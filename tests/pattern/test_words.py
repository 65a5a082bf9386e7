"""The tree put into words, and read again."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import strategies
from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.words import line_words
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
