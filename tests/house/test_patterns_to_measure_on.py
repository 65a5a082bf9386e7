"""What is measured on is what it is said to be, and holds: else the time would say nothing."""

import runpy
from pathlib import Path

import pytest

from purlwright.workup import WorkUp

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"
THOUSAND = runpy.run_path(str(BENCHMARKS / "thousand.py"))


@pytest.mark.parametrize("number", [*range(8), 19, 998, 999])
def test_a_made_pattern_has_sixty_rows_and_holds(number):
    work = WorkUp(THOUSAND["one_pattern"](number))
    assert len(work.sizes) == 1 + number // 4 % 5
    assert sum(line.label is not None for line in work.pattern.lines) == 60
    assert work.proved().errors == 0


def test_no_two_are_alike_and_each_is_always_the_same(tmp_path):
    THOUSAND["write_patterns"](tmp_path, 200)
    texts = [path.read_text(encoding="utf-8") for path in sorted(tmp_path.iterdir())]
    assert len({text.split("\n", 1)[1] for text in texts}) == 200
    assert texts[7] == THOUSAND["one_pattern"](7)


def test_the_pullover_has_ten_sizes_and_nothing_is_found_in_it():
    proved = WorkUp((BENCHMARKS / "ten_sizes.pattern.md").read_text(encoding="utf-8")).proved()
    assert len(proved.sizes) == 10
    assert proved.findings == ()
    assert all(piece.live == 0 for k in proved.knitted for piece in k.ledger.pieces)
