"""Grading: 12 sizes with 40 unknown counts each, solved together; the target is two seconds.

Run: python benchmarks/sizing.py. Seconds of this process's own work are given beside those by the clock,
for other work on the machine makes the clock run on.
"""

import random
import time
from fractions import Fraction

from purlwright.sizing.solve import Solved, solve
from purlwright.sizing.unknowns import Question, Rule, Unknown, broken

SIZES = tuple(f"size {n}" for n in range(1, 13))


def question(seed: int) -> Question:
    """Forty counts that grow from size to size, with multiples, liked steps and rules that tie them in
    threes.
    """
    draw = random.Random(seed)  # noqa: S311 - a drawn question, no secret
    unknowns = []
    for n in range(40):
        first, step = draw.uniform(20, 120), draw.uniform(1, 9)
        unknowns.append(
            Unknown(
                name=f"count {n + 1}",
                targets=tuple(Fraction(round((first + step * size) * 10), 10) for size in range(12)),
                of=draw.choice([1, 2, 4, 6, 8]),
                plus=draw.choice([0, 1, 2]),
                steps=(4, 8) if n % 10 == 0 else (),
            )
        )
    rules = []
    for n in range(0, 36, 3):
        three = unknowns[n : n + 3]
        odd = sum(u.plus for u in three) % 2
        rules.append(Rule(terms={u.name: 1 for u in three}, equals=odd, of=2, words="the right side is next"))
    rules.append(
        Rule(terms={"count 38": 1, "count 39": -2}, equals=-4000, least=True, words="not too narrow")
    )
    return Question(sizes=SIZES, unknowns=tuple(unknowns), rules=tuple(rules))


def main() -> None:
    solve(Question(sizes=("S",), unknowns=(Unknown(name="a", targets=(Fraction(5),)),)))  # imports done
    for seed in range(1, 6):
        asked = question(seed)
        began, worked = time.perf_counter(), time.process_time()
        found = solve(asked)
        clock, own = time.perf_counter() - began, time.process_time() - worked
        right = isinstance(found, Solved) and not broken(asked, found.counts)
        print(
            f"question {seed}: {own:.2f} s of its own work, {clock:.2f} s by the clock; "
            f"{'solved' if right else 'not solved'}"
        )


if __name__ == "__main__":
    main()
