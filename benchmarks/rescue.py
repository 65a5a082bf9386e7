"""How often the rescue desk is right: mistakes are planted and hidden, and she is asked about them.

    PYTHONPATH=src python benchmarks/rescue.py [--trials N] [--only NAME] [--jobs N] [--write]

For every example, mistakes are drawn: first the operator, evenly among those that can happen in the pattern,
then its place, evenly among all its places; then the row she has come to, evenly among the next 24 that can
still be worked. The desk knows none of it. It asks; she answers by what is really there, with noise that was
fixed before anything was measured:

- a count of stitches is out by one in 15 %, by two in 5 % (each count between markers or turning
  places by itself); so is a count of the rows of a part;
- each fact is not known in 20 %;
- a side is wrong in 3 %.

The size and the piece she is knitting are given. The last row she is sure of lies 1 to 12 rows before the
mistake. A look at the whole for something odd, the four closer looks, and each way to tell in which row the
odd place lies, are facts by themselves. She is asked at most twelve times; a question that she cannot answer
counts. The count up one column, which the desk asks for after all these, is not asked here. An answer is
right if it names the mistake, its row, and the row she has just finished; mistakes that show the very same in
every fact that can be asked for are one.

An answer is timed whole, as it is given to her: what most likely happened, the cures, and the next question.
What is measured is the time of the processor, so that others who use the machine do not count; an answer that
takes longest so far is given three times more, and the least is kept.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable
from itertools import pairwise
from multiprocessing import Pool
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from purlwright.needles.knit import knit
from purlwright.needles.ledger import Entry
from purlwright.needles.looks import is_worked
from purlwright.needles.rehearse import Lie, Rehearsal
from purlwright.rescue.asking import next_question
from purlwright.rescue.cure import Cure, cures_for
from purlwright.rescue.desk import Desk
from purlwright.rescue.fit import said_of
from purlwright.rescue.knitted_on import Knit
from purlwright.rescue.observe import COUNTS, LOOKS, Facts
from purlwright.rescue.questions import QUESTIONS
from purlwright.rescue.rank import CERTAIN, CLEAR, Ranked, rank, weigh
from purlwright.rescue.table import Table
from purlwright.rescue.verdict import MOST_ASKED, diagnose
from purlwright.rescue.where import NOTHING_TELLS, SEEN_IN_A_ROW, fact_of
from purlwright.workup import WorkUp

HERE = Path(__file__).resolve().parent
EXAMPLES = sorted((HERE.parent / "examples").glob("*.pattern.md"))
SEED = 20_261_127
TRIALS, LONG_TRIALS, LONG_ROWS = 1430, 200, 300
"""Mistakes for each example; fewer for one of more rows, whose answers take longest."""
OUT_BY_ONE, OUT_BY_TWO, UNKNOWN, WRONG_SIDE = 0.15, 0.05, 0.20, 0.03
SURE_BEFORE, WITHIN = 12, 24
PLACE = frozenset({"down", "up", "marks_above", "above_mark", "lies_in"})
KNIT_EACH = 25
"""Every so manieth mistake is really knitted, whole, and its count compared."""


class Result(NamedTuple):
    """What came of one example."""

    name: str
    rows: int
    built: float
    lines: int
    out: Counter[str]
    asked: list[int]
    times: list[float]
    calibration: list[tuple[float, bool]]
    codes: Counter[tuple[str, bool, bool]]
    tried: int
    where: tuple[int, int, int]
    alike: Counter[tuple[str, ...]]


class Hidden:
    """One mistake, and one who sees it and answers with noise."""

    def __init__(self, table: Table, line: int, chance: random.Random) -> None:
        self.table, self.line, self.chance = table, line, chance
        self.made = table.made[int(table.made_of[line])]
        self.row = int(table.column("row")[line])

    def unknown(self) -> bool:
        return self.chance.random() < UNKNOWN

    def count(self, true: int) -> int:
        u = self.chance.random()
        by = 2 if u < OUT_BY_TWO else 1 if u < OUT_BY_TWO + OUT_BY_ONE else 0
        return max(0, true + self.chance.choice((-by, by)))

    def fact(self, name: str) -> Any:
        """What she says of one fact; None if she does not know."""
        if self.unknown():
            return None
        if name == "sure":
            made_in = self.made.row if self.made.row >= 0 else self.row
            return max(made_in + 1 - self.chance.randint(1, SURE_BEFORE), 0)
        if name in PLACE and self.table.column(name)[self.line] < 0:
            return None  # there is nothing to point at
        said = said_of(self.table, self.line, name)
        if said == "":
            return None  # nothing tells it
        if name in {"sts", "cast_on", "part_rows"}:
            return self.count(said)
        if name in COUNTS:
            return tuple(self.count(n) for n in said)
        if name == "side":
            if self.table.column("side")[self.line] == 2:
                return None
            return said if self.chance.random() >= WRONG_SIDE else {"RS": "WS", "WS": "RS"}[said]
        if name.startswith("since_") and said < 0:
            return None
        return said

    def answer(self, name: str) -> dict[str, Any]:
        """Her answer to a question, as facts."""
        if name in LOOKS:
            if self.unknown():
                return {}
            odd = said_of(self.table, self.line, "odd")
            if odd not in LOOKS[name]:
                return {name: "nothing"}
            down = self.fact("down")
            return {"odd": odd} if down is None else {"odd": odd, "down": down}
        told = {}
        for part in QUESTIONS[name].facts:
            said = self.fact(part)
            if said is None and part == "odd":
                break
            if said is not None:
                told[part] = said
        return told

    def is_it(self, found: Ranked) -> bool:
        """Whether a diagnosis is the truth, or shows the very same."""
        if found.table is not self.table:
            return False
        if found.table.sorts[found.line] == self.table.sorts[self.line]:
            return True
        m = found.made
        same = (m.kind.name, m.detail, m.row) == (self.made.kind.name, self.made.detail, self.made.row)
        return same and found.row == self.row


def ask(tables: list[Table], hidden: Hidden, times: list[float], again: Knit) -> tuple[list[Ranked], int]:
    """Ask until it is clear. The diagnoses, and how many questions it took."""
    facts, asked = Facts(), []
    while True:
        weighed = weigh(tables, facts)
        found = rank(weighed)
        clear = bool(asked) and found[0].likely >= CLEAR
        name = None if clear or len(asked) >= MOST_ASKED else next_question(weighed, facts, asked)
        times.append(timed(tables, facts, asked, again, max(times, default=0.0)))
        if name is None:
            return found, len(asked)
        asked.append(name)
        facts = facts.with_(hidden.answer(name))


def timed(tables: list[Table], facts: Facts, asked: list[str], again: Knit, slowest: float) -> float:
    """Processor time of one whole answer, in seconds; the least of four where it is the slowest so far."""

    def once() -> float:
        begun = time.process_time()
        diagnose(tables, facts, asked, again)
        return time.process_time() - begun

    took = once()
    return took if took <= slowest else min(took, *(once() for _ in range(3)))


def really(work: WorkUp, steps: dict[int, Lie]) -> dict[int, Entry]:
    """The ledger when before the rows of some orders the loops are laid otherwise."""

    def watch(row: Rehearsal) -> None:
        if row.order in steps:
            row.lay(steps[row.order])

    return {e.order: e for e in knit(work.pattern, watch=watch).ledger.entries if is_worked(e)}


def knits_to_every_total(work: WorkUp, table: Table, cure: Cure, known: dict[Any, bool]) -> bool:
    """Whether every count after a cure is right; really knitted, once for each way the loops lie."""
    looks = table.piece.looks
    if cure.row + 1 >= len(looks):
        return True
    order = looks[cure.row + 1].entry.order
    if cure.lie == table.piece.lies[cure.row + 1]:
        return True
    key = (order, cure.lie)
    if key not in known:
        right = {e.order: e.end for e in work.knitted().ledger.entries if is_worked(e)}
        real = really(work, {order: cure.lie})
        known[key] = {o: e.end for o, e in real.items()} == right
    return known[key]


def same_when_knitted(work: WorkUp, hidden: Hidden) -> bool | None:
    """Whether the count at her row is that of a whole knitting with the mistake; None where none can tell."""
    m, looks = hidden.made, hidden.table.piece.looks
    if m.lie is None or m.skipped or m.again or not m.on <= hidden.row < len(looks):
        return None
    real = really(work, {looks[m.on].entry.order: m.lie})
    for look in looks[m.on : hidden.row + 1]:
        e, true = real.get(look.entry.order), look.entry
        if e is None or e.resumed or (e.line, e.label, e.pass_) != (true.line, true.label, true.pass_):
            return None  # rows until a count is met, or gone on from a printed count
    return real[looks[hidden.row].entry.order].end == int(hidden.table.column("sts")[hidden.line])


def lines_by_mistake(table: Table) -> list[Any]:
    """For each mistake the lines of the table."""
    order = np.argsort(table.made_of, kind="stable")
    first = np.searchsorted(table.made_of[order], np.arange(len(table.made) + 1))
    return [order[a:b] for a, b in pairwise(first)]


def one_pattern(job: tuple[Path, int]) -> Result:
    """All trials of one example."""
    path, trials = job
    chance = random.Random(f"{SEED} {path.name}")  # noqa: S311 - a draw, not a secret
    work = WorkUp(path.read_text(encoding="utf-8"), path.name)
    work.knitted()
    begun = time.process_time()
    desk = work.desk()
    tables = desk.tables
    built = time.process_time() - begun
    rows = sum(len(t.piece.looks) for t in tables)
    pool: dict[str, list[tuple[int, int]]] = defaultdict(list)
    lines = [lines_by_mistake(t) for t in tables]
    for t, table in enumerate(tables):
        for i, made in enumerate(table.made):
            if made.kind.code != "P00":
                pool[made.kind.code].append((t, i))
    out: Counter[str] = Counter()
    codes: Counter[tuple[str, bool, bool]] = Counter()
    asked: list[int] = []
    times: list[float] = []
    calibration: list[tuple[float, bool]] = []
    known: dict[Any, bool] = {}
    trials = LONG_TRIALS if rows > LONG_ROWS and trials > LONG_TRIALS else trials
    while out["trials"] < trials:
        t, i = chance.choice(pool[chance.choice(sorted(pool))])
        table, at = tables[t], lines[t][i]
        made = table.made[i]
        if made.row >= 0:
            at = at[table.column("row")[at] <= max(made.row, made.on - 1) + WITHIN]
        if not len(at):
            continue
        hidden = Hidden(table, int(chance.choice(at.tolist())), chance)
        mine = [t for t in tables if t.piece.name == table.piece.name]
        found, questions = ask(mine, hidden, times, lambda watch: knit(work.pattern, watch=watch))
        place = next((n for n, r in enumerate(found) if hidden.is_it(r)), 99)
        out["trials"] += 1
        out["first"] += place == 0
        out["three"] += place < 3
        codes[made.kind.code, place == 0, place < 3] += 1
        asked.append(questions)
        calibration.append((found[0].likely, place == 0))
        cures = cures_for(found[0]) if found[0].made.row >= 0 else ()
        if found[0].made.row >= 0:
            out["diagnosed"] += 1
            out["no safe cure"] += not cures
        for cure in cures:
            out["cures"] += 1
            out["cures that hold"] += (
                knits_to_every_total(work, table, cure, known) if found[0].table is table else 1
            )
        if out["trials"] % KNIT_EACH == 0:
            same = same_when_knitted(work, hidden)
            if same is not None:
                out["knitted"] += 1
                out["as knitted"] += same
    return Result(
        path.name, rows, built, sum(t.n for t in tables), out, asked, times, calibration, codes, len(known),
        places(desk, chance), alike(tables),
    )  # fmt: skip


def places(desk: Desk, chance: random.Random) -> tuple[int, int, int]:
    """Where am I, without a mistake: how often the exact set was named."""
    tried = exact = alone = 0
    every = [(p, x) for p, looks in desk.pieces for x in looks]
    for piece, look in every:
        names = chance.sample(SEEN_IN_A_ROW, chance.randint(1, 4))
        told = {n: v for n in names if (v := fact_of(look, n)) is not None}
        got = {(f.piece, f.look.index) for f in desk.where(Facts().with_(told)).rows}
        want = {
            (p, x.index) for p, x in every
            if all(fact_of(x, n) == v or (n in NOTHING_TELLS and fact_of(x, n) is None)
                   for n, v in told.items())
        }  # fmt: skip
        tried += 1
        exact += got == want and (piece, look.index) in got
        alone += len(got) == 1
    return tried, exact, alone


def alike(tables: Iterable[Table]) -> Counter[tuple[str, ...]]:
    """Mistakes that nothing tells apart: which operators, and in how many lines of the tables."""
    found: Counter[tuple[str, ...]] = Counter()
    for table in tables:
        codes = np.array([int(m.kind.code[1:]) for m in table.made])[table.made_of]
        order, first = table.by_sort
        pairs = np.unique(table.sorts.astype(np.int64) * 100 + codes)
        many = np.bincount(pairs // 100)
        for sort in np.flatnonzero(many > 1).tolist():
            group = sorted({f"E{c:02}" for c in codes[order[first[sort] : first[sort + 1]]].tolist()})
            found[tuple(group)] += 1
    return found


def page(results: list[Result], command: str, seconds: float) -> str:
    """The report."""
    total: Counter[str] = Counter()
    codes: Counter[tuple[str, bool, bool]] = Counter()
    classes: Counter[tuple[str, ...]] = Counter()
    for r in results:
        total += r.out
        codes += r.codes
        classes += r.alike
    calibration = [c for r in results for c in r.calibration]
    where = [sum(r.where[i] for r in results) for i in range(3)]
    lines = [
        "# The rescue desk, measured",
        "",
        f"Made by `{command}`; what is drawn, and the noise, is told at the head of it.",
        "",
        *_by_example(results),
        "",
        *_reached(total, [q for r in results for q in r.asked], calibration, where),
        "",
        f"{sum(r.tried for r in results)} different cures leave the loops otherwise than the pattern would;",
        "each of these was really knitted to the end. The others bring back the very loops of the right",
        "knitting, so that nothing can come out otherwise. All this took",
        f"{seconds / 60:.0f} minutes on a machine that others used too: times are upper bounds.",
        "",
        *_how_sure(calibration),
        "",
        *_by_operator(codes),
        "",
        *_not_told_apart(classes),
    ]
    return "\n".join(lines) + "\n"


def _by_example(results: list[Result]) -> list[str]:
    heads = (
        "example",
        "rows",
        "lines of the table",
        "built in",
        "mistakes",
        "first",
        "in three",
        "questions",
        "answer",
    )
    out = [_row(*heads), _row(*("---" for _ in heads))]
    for r in results:
        n = r.out["trials"]
        out.append(
            _row(
                r.name.removesuffix(".pattern.md"),
                r.rows,
                f"{r.lines:,}",
                f"{r.built:.1f} s",
                f"{n:,}",
                share(r.out["first"], n),
                share(r.out["three"], n),
                f"{np.median(r.asked):.0f}",
                f"{np.median(r.times) * 1000:.0f} ms, at most {max(r.times) * 1000:.0f} ms",
            )
        )
    return [
        *out,
        "",
        "Questions and answer: the median. An answer is the diagnosis, its cures and the next question.",
        "Times are of the processor, that of building the table too.",
        "",
        _slowest(results),
    ]


def _slowest(results: list[Result]) -> str:
    slowest = max(results, key=lambda r: max(r.times))
    many = sum(len(r.times) for r in results)
    name = slowest.name.removesuffix(".pattern.md")
    return (
        f"The slowest of {many:,} answers took {max(slowest.times) * 1000:.0f} ms ({name}); 200 are wanted."
    )


def _reached(
    total: Counter[str], asked: list[int], calibration: list[tuple[float, bool]], where: list[int]
) -> list[str]:
    n = total["trials"]
    sure = [right for likely, right in calibration if likely >= CERTAIN]
    questions = f"{np.median(asked):.0f} (mean {np.mean(asked):.1f}, most {max(asked)})"
    held = f"{share(total['cures that hold'], total['cures'])} of {total['cures']:,}"
    return [
        _row("", "wanted", "reached"),
        _row("---", "---", "---"),
        _row("mistakes planted", "10,000", f"{n:,}"),
        _row("right row and mistake first", "85 %", share(total["first"], n)),
        _row("among the first three", "97 %", share(total["three"], n)),
        _row("questions, median", "4", questions),
        _row(
            "right, of those called almost certain", "95 %", f"{share(sum(sure), len(sure))} of {len(sure):,}"
        ),
        _row("cures after which every later count is right", "100 %", held),
        _row("diagnoses without a safe cure", "", share(total["no safe cure"], total["diagnosed"])),
        _row("where am I: exactly the rows that fit", "always", f"{where[1]:,} of {where[0]:,}"),
        _row("of these, one row alone", "", f"{where[2]:,}"),
        _row(
            "counts that are those of a whole knitting", "all", f"{total['as knitted']} of {total['knitted']}"
        ),
    ]


def _how_sure(calibration: list[tuple[float, bool]]) -> list[str]:
    out = ["## How sure it says it is", "", _row("said", "cases", "right"), _row("---", "---", "---")]
    for a, b in pairwise((0.0, 0.2, 0.4, 0.6, 0.8, 0.9, CERTAIN, 0.99, 1.01)):
        here = [right for likely, right in calibration if a <= likely < b]
        if here:
            span = f"{a * 100:.0f} to {min(b, 1) * 100:.0f} in 100"
            out.append(_row(span, f"{len(here):,}", share(sum(here), len(here))))
    return out


def _by_operator(codes: Counter[tuple[str, bool, bool]]) -> list[str]:
    out = ["## By operator", "", _row("operator", "planted", "first", "in three"), _row(*["---"] * 4)]
    for code in sorted({c for c, _, _ in codes}):
        here = {k: v for k, v in codes.items() if k[0] == code}
        many = sum(here.values())
        first, three = (sum(v for k, v in here.items() if k[i]) for i in (1, 2))
        out.append(_row(code, f"{many:,}", share(first, many), share(three, many)))
    return out


def _not_told_apart(classes: Counter[tuple[str, ...]]) -> list[str]:
    out = [
        "## Mistakes that nothing tells apart",
        "",
        "Operators of which the very same is seen in every fact that can be asked for, and how often in the",
        "tables. They count as one above.",
        "",
        _row("operators", "cases"),
        _row("---", "---"),
        *(_row(", ".join(group), f"{many:,}") for group, many in classes.most_common(40)),
    ]
    rest = classes.most_common()[40:]
    return [*out, "", f"And {len(rest)} groups more, in {sum(m for _, m in rest):,} cases."] if rest else out


def _row(*cells: object) -> str:
    return f"| {' | '.join(map(str, cells))} |"


def share(part: int, whole: int) -> str:
    """A share in percent."""
    return f"{100 * part / whole:.1f} %" if whole else "none"


def main() -> None:
    """Plant, ask, and tell."""
    args = argparse.ArgumentParser()
    args.add_argument("--trials", type=int, default=TRIALS)
    args.add_argument("--only", default="")
    args.add_argument("--jobs", type=int, default=2)
    args.add_argument("--write", action="store_true")
    chosen = args.parse_args()
    begun = time.perf_counter()
    # the longest first, so that both hands end together
    paths = sorted((p for p in EXAMPLES if chosen.only in p.name), key=lambda p: "spinnaker" not in p.name)
    if not paths:
        args.error(f"no example has {chosen.only!r} in its name")
    with Pool(chosen.jobs) as hands:
        results = sorted(
            hands.imap_unordered(one_pattern, [(p, chosen.trials) for p in paths]), key=lambda r: r.name
        )
    command = " ".join(["python benchmarks/rescue.py", *sys.argv[1:]])
    text = page(results, command, time.perf_counter() - begun)
    if chosen.write:
        (HERE / "RESCUE.md").write_text(text, encoding="utf-8")
    print(text)


if __name__ == "__main__":
    main()
