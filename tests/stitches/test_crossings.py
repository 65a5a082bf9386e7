"""Crossings by rule: what is held, what is worked first, what passes in front."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.stitches.kinds import Face, Lean
from purlwright.stitches.load import dictionary
from purlwright.stitches.regular import LARGEST, crossing, together

K, P = Face.KNIT, Face.PURL
sizes = st.integers(1, LARGEST)


def worked(held_at_back, held, rest):
    """The places in working order, told as a cable needle tells it: the held ones are the first on the needle."""
    waiting, others = list(range(held)), list(range(held, held + rest))
    assert held_at_back in {True, False}
    return tuple(others + waiting)


@given(front=sizes, back=sizes, right=st.booleans(), purl=st.booleans())
def test_a_crossing_is_what_the_cable_needle_does(front, back, right, purl):
    name = f"{front}/{back} {'R' if right else 'L'}{'P' if purl else ''}C"
    stitch = crossing(name)
    behind = P if purl else K
    # Right: hold b at the back, knit a, then the b. Left: hold a in front, work b, then knit the a.
    assert stitch.order == (worked(True, back, front) if right else worked(False, front, back))
    assert stitch.faces == ((K,) * front + (behind,) * back if right else (behind,) * back + (K,) * front)
    assert stitch.front == front
    assert stitch.lean is (Lean.RIGHT if right else Lean.LEFT)
    assert stitch.takes == stitch.makes == front + back
    assert stitch.key == name.lower()
    assert dictionary().find(stitch.uk) in {stitch, crossing(stitch.uk)}


@given(front=sizes, middle=sizes, back=sizes, right=st.booleans(), purl=st.booleans())
def test_three_parts_leave_the_middle_where_it_was(front, middle, back, right, purl):
    stitch = crossing(f"{front}/{middle}/{back} {'R' if right else 'L'}{'P' if purl else ''}C")
    first, last = (front, back) if right else (back, front)
    total = front + middle + back
    assert stitch.order[first : first + middle] == tuple(range(last, last + middle))
    assert stitch.order[:first] == tuple(range(total - first, total))
    assert stitch.order[first + middle :] == tuple(range(last))
    assert stitch.faces.count(P) == (middle if purl else 0)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("C4F", "2/2 lc"),
        ("c4b", "2/2 rc"),
        ("C6L", "3/3 lc"),
        ("C6R", "3/3 rc"),
        ("C10F", "5/5 lc"),
        ("T4B", "2/2 rpc"),
        ("T2F", "1/1 lpc"),
        ("cable 8 back", "4/4 rc"),
        ("4-st RPC", "2/2 rpc"),
        ("2/1rpc", "2/1 rpc"),
        ("2x2 LC", "2/2 lc"),
        ("2/2 left cross", "2/2 lc"),
        ("2 / 1 / 2 RPC", "2/1/2 rpc"),
        ("5/5 LPC", "5/5 lpc"),
    ],
)
def test_one_crossing_has_many_names(name, key):
    stitch = crossing(name)
    assert stitch.key == key
    assert not stitch.readings
    assert dictionary().find(name) is stitch


@pytest.mark.parametrize(
    ("name", "readings"),
    [
        ("C3B", ("2/1 rc", "1/2 rc")),
        ("C5F", ("3/2 lc", "2/3 lc", "2/1/2 lc")),
        ("T3B", ("2/1 rpc", "1/2 rpc")),
        ("T5B", ("2/1/2 rpc", "3/2 rpc", "2/3 rpc")),
        ("Cr4L", ("2/2 lpc", "3/1 lpc", "2/2 lc")),
        ("Tw3F", ("2/1 lpc", "2/1 lc")),
        ("C6", ("3/3 rc", "3/3 lc")),
    ],
)
def test_names_that_keys_explain_in_several_ways_keep_them(name, readings):
    stitch = crossing(name)
    assert stitch.readings == readings
    assert stitch.takes == dictionary().stitches[readings[0]].takes


@pytest.mark.parametrize(
    "name", ["13/1 rc", "0/2 rc", "2/0/2 rc", "c1f", "c25f", "c26f", "t4", "2/2", "rc2", "", "2/2 xc"]
)
def test_what_is_no_crossing_is_none(name):
    assert crossing(name) is None


@pytest.mark.parametrize("count", range(2, LARGEST + 1))
def test_any_number_together(count):
    knit, purl = together(f"k{count}tog"), together(f"p{count}tog tbl")
    assert (knit.takes, knit.makes, knit.top, knit.lean) == (count, 1, count - 1, Lean.RIGHT)
    assert (purl.takes, purl.faces, purl.top, purl.lean) == (count, (P,), 0, Lean.LEFT)
    table = dictionary().stitches.get(knit.key)
    assert (table.takes, table.top, table.lean, table.faces) == (knit.takes, knit.top, knit.lean, knit.faces)


def test_one_or_very_many_are_not_worked_together():
    assert together("k1tog") is None
    assert together("k13tog") is None
