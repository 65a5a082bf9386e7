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
from purlwright.text import NOWHERE, Source

MANY = pytest.param(10_000, marks=pytest.mark.long)
QUIET = {"deadline": None, "suppress_health_check": list(HealthCheck)}


def context(sizes=strategies.SIZES, terms=""):
    return Context(sizes=sizes, compact=dictionary().compact, terms=terms)


def read(words, terms=""):
    return read_line(words, context(terms=terms))


def plain(node):
    """The tree without what words cannot carry: spans, the label's own words, the words of a length."""
    node = tree.bare(node)
    if isinstance(node, tree.Label):
        return tree.Label(**{f: getattr(node, f) for f in node.__struct_fields__ if f != "words"})
    return node


# --- laws ---


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_reading_the_words_of_a_row_gives_the_row(terms):
    @settings(max_examples=200, **QUIET)
    @given(strategies.lines())
    def law(line):
        words = line_words(line, terms)
        got = read(words, terms)
        assert plain(got.label) == plain(line.label), words
        assert tree.bare(got.actions) == tree.bare(line.actions), words
        assert got.findings == (), words

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
