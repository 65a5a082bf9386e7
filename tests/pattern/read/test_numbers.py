"""Numbers of a row: plain, in words, one a size, by name; and lengths."""

from fractions import Fraction

import pytest

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import parse_length, parse_number
from purlwright.pattern.tokens import Cursor, tokenize


def context(sizes):
    return Context(
        sizes=tuple("SMLX"[:sizes]) if sizes > 1 else (), numbers={"width": (20, 24), "edge": (3,)}
    )


@pytest.mark.parametrize(
    ("words", "sizes", "values"),
    [
        ("24", 1, (24,)),
        ("twenty-four", 1, (24,)),
        ("88 (96, 104)", 3, (88, 96, 104)),
        ("90[96, 104]", 3, (90, 96, 104)),
        ("90 (96-104)", 3, (90, 96, 104)),
        ("4 (-, 6)", 3, (4, None, 6)),
        ("-(2, 4)", 3, (None, 2, 4)),
        ("(90, 96)", 2, (90, 96)),
        ("23 (26)", 2, (23, 26)),
        ("{width - 8}", 2, (12, 16)),
        ("{(width - edge * 2) / 2}", 2, (7, 9)),
        ("{edge}", 2, (3,)),
    ],
)
def test_a_number_gives_one_value_or_one_a_size(words, sizes, values):
    ctx = context(sizes)
    cur = Cursor(tokenize(words, 0, {}))
    number = parse_number(cur, ctx)
    assert number is not None
    assert number.values == values
    assert (number.span.start, number.span.end) == (0, len(words))
    assert cur.done
    assert not ctx.findings.findings


@pytest.mark.parametrize(
    ("words", "sizes", "code"),
    [
        ("88 (96)", 3, "size-list-length"),
        ("88 (96, 104)", 1, "size-list-length"),
        ("1000001", 1, "number-too-large"),
        ("{height}", 1, "number-unknown"),
        ("{width / 3}", 2, "not-whole"),
        ("{width - 99}", 2, "below-nothing"),
    ],
)
def test_what_is_wrong_with_a_number_is_said_once_for_each_place(words, sizes, code):
    ctx = context(sizes)
    parse_number(Cursor(tokenize(words + " sts", 0, {})), ctx)
    assert {f.code for f in ctx.findings} == {code}


@pytest.mark.parametrize("words", ["twice", "½", "k", "(24", "", ")"])
def test_what_is_no_count_is_left_alone(words):
    cur = Cursor(tokenize(words, 0, {}))
    assert parse_number(cur, context(1)) is None
    assert cur.at == 0


@pytest.mark.parametrize(
    ("words", "sizes", "values", "unit"),
    [
        ("30 (32, 35) cm", 3, (30, 32, 35), "cm"),
        ('3½"', 1, (Fraction(7, 2),), "in"),
        ("2 1/2 ins", 1, (Fraction(5, 2),), "in"),
        ('18 (19)" [46 (48) cm]', 2, (18, 19), "in"),
        ("half an inch", 1, (Fraction(1, 2),), "in"),
        ("75 mm", 1, (75,), "mm"),
    ],
)
def test_a_length_has_values_and_a_unit(words, sizes, values, unit):
    cur = Cursor(tokenize(words, 0, {}))
    length = parse_length(cur, context(sizes))
    assert length is not None
    assert (length.values, length.unit, length.less) == (values, unit, False)
    assert cur.done


def test_a_length_short_of_what_is_wished_is_marked_so():
    length = parse_length(Cursor(tokenize("5 cm less than desired length", 0, {})), context(1))
    assert length is not None
    assert (length.values, length.less) == ((5,), True)
    free = parse_length(Cursor(tokenize("desired length", 0, {})), context(1))
    assert free is not None
    assert free.values == ()
