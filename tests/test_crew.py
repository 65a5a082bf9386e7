"""Several processes work one pile: in order, and one that dies takes only its own piece along."""

import multiprocessing
import os
import sys

import pytest

from crew_pieces import die_at_some, double_slowest_first
from purlwright.crew import each, hands_for

STARTS = ["spawn", pytest.param("fork", marks=pytest.mark.skipif(os.name == "nt", reason="no fork there"))]
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")


def buried(n, exit_code):
    return f"{n} died: {exit_code}"


@pytest.mark.parametrize("start", STARTS)
def test_results_come_in_the_order_of_the_pieces(start):
    told = []
    assert list(each(range(7), double_slowest_first, buried, 3, told.append, start)) == [
        2 * n for n in range(7)
    ]
    assert told == [1, 2, 3, 4, 5, 6, 7]


@pytest.mark.parametrize("start", STARTS)
def test_a_process_that_dies_is_told_and_the_rest_goes_on(start):
    if sys.platform == "win32":
        assert list(each(range(4), die_at_some, buried, 2, start=start)) == [0, 1, "2 died: 7", 3]
    else:
        assert list(each(range(6), die_at_some, buried, 2, start=start)) == [
            0, 1, "2 died: 7", 3, "4 died: -9", 5,
        ]  # fmt: skip


def test_one_hand_works_in_this_process():
    told = []
    assert list(each([1, 2], lambda n: (n, os.getpid()), buried, 1, told.append)) == [
        (1, os.getpid()), (2, os.getpid()),
    ]  # fmt: skip
    assert told == [1, 2]
    assert list(each([], double_slowest_first, buried, 4)) == []


def test_those_who_stop_early_leave_no_process_behind():
    some = each(range(50), double_slowest_first, buried, 2)
    assert next(some) == 0
    some.close()
    assert not multiprocessing.active_children()


def test_how_many_hands():
    assert hands_for(100, 3) == 3
    assert hands_for(2, 8) == 2
    assert hands_for(2) == 1
    assert hands_for(0) == 1
    assert 1 <= hands_for(10_000) <= (os.cpu_count() or 1)
