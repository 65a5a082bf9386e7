"""Real patterns with a few words lost, doubled or put in the wrong place: whatever comes of it is said, never a fault.

Each text is one of our own patterns with up to six changes, drawn from a fixed seed. It is read, knitted, proved, and now
and then its yarn is counted and its cloth settled; nothing may be raised.
"""

import random
import re
from pathlib import Path

import pytest

from purlwright.cloth.told import pieces_told
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[1]
TEXTS = [
    text
    for folder in ("examples", "examples/faults", "benchmarks/faults", "tests/cases")
    for path in sorted((ROOT / folder).rglob("*.md"))
    if len(text := path.read_text(encoding="utf-8")) < 5000
]
STRAY = """
k1 | p2 | yo | k2tog | turn | * | rep from * to end | [ | ] | ( | ) | twice | 3 times | sm | pm | to end | w&t | 0 | -1 | 1000
bind off 3 sts | cast on 4 sts | {a-9} | ssk | join | place 5 sts on hold | Rep rows 1-2 until 3 sts remain | MB | C4F
until piece measures 5 cm | every other row 5 times | at the same time | as row 1 | in pattern | to last 2 sts | before gap
pick up and knit 10 sts along edge | kfb | (RS) | Row 7: | Rnd 3: | Rows 2-9: | evenly | dec 6 sts evenly across | 2/2 RC
slip marker | remove marker | graft | seam | both sides | k1 tbl | dropping extra wraps | yo twice | work even | BO all sts
"""
WORDS = [word.strip() for line in STRAY.strip().splitlines() for word in line.split("|")]


def slipped(draw):
    """One pattern after a few slips."""
    words = re.split(r"(\s+)", draw.choice(TEXTS))
    for _ in range(draw.randint(1, 6)):
        at, kind = draw.randrange(len(words)), draw.random()
        if kind < 0.3:
            words[at] = draw.choice(WORDS)
        elif kind < 0.5:
            words.insert(at, f" {draw.choice(WORDS)} ")
        elif kind < 0.65 and len(words) > 8:
            del words[at : at + draw.randint(1, 4)]
        elif kind < 0.8:
            words[at] = re.sub(r"\d+", str(draw.choice([0, 1, 2, 3, 7, 12, 99, 1000, 99999])), words[at])
        else:
            other = draw.randrange(len(words))
            words[at], words[other] = words[other], words[at]
    return "".join(words)


def looked_at_from_all_sides(text, *, cloth):
    work = WorkUp(text, "slipped.pattern.md")
    knitted = work.proved().knitted
    if cloth and 0 < knitted[0].fabric.n < 3000:
        work.yarn()
        pieces_told(work.knitted(), work.settled())


@pytest.mark.parametrize("seed", range(60))
def test_a_pattern_after_a_few_slips_is_answered(seed):
    draw = random.Random(seed)  # noqa: S311 - no secret
    looked_at_from_all_sides(slipped(draw), cloth=seed % 5 == 0)


@pytest.mark.long
def test_thousands_of_patterns_after_a_few_slips_are_answered():
    draw = random.Random(2026)  # noqa: S311 - no secret
    for n in range(3000):
        looked_at_from_all_sides(slipped(draw), cloth=n % 5 == 0)


@pytest.mark.parametrize(
    "text",
    [
        "# Hat\nCast on*15 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K2tog across. (8 sts)\nBind off.\n",
        (
            "Finished size: 21.5 cm round the hand\nGauge: 28 sts and 36 rnds = 10 cm in st st\n"
            "Next rnd: [K2, p2] around.\nRep the last rnd 5 times more. (60 sts)\n"
        ),
    ],
)
def test_loops_of_a_row_that_came_to_nothing_take_no_yarn_and_have_no_width(text):
    looked_at_from_all_sides(text, cloth=True)
