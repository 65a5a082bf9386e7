"""How fast and how large.

The targets for reading, knitting, proving, starting and memory, each beside its reference.

    python benchmarks/run.py             print the table
    python benchmarks/run.py --write     and write it to benchmarks/RESULTS.md

Every line is a ratio to something measured in the same run on the same machine, so that the numbers mean
the same
everywhere. Each time is the best of several; nothing here is asserted.
"""

from __future__ import annotations

import platform
import subprocess
import sys
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import numpy as np
from markdown_it import MarkdownIt

from purlwright.needles.knit import knit
from purlwright.needles.knitted import Knitted
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import Kept, WorkUp

HERE = Path(__file__).parent


def best(work: Callable[[], object], times: int) -> float:
    """The shortest of ``times`` runs, in seconds, after one that is thrown away."""
    work()
    took = []
    for _ in range(times):
        begin = time.perf_counter()
        work()
        took.append(time.perf_counter() - begin)
    return min(took)


def forty_rows() -> list[tuple[str, float, float, str]]:
    """Reading, knitting and proving a pattern of 40 rows, beside markdown-it-py cutting the same file into tokens."""
    text = (HERE / "forty_rows.pattern.md").read_text(encoding="utf-8")
    markdown = MarkdownIt()
    reference = best(lambda: markdown.parse(text), 40)
    fresh = best(lambda: WorkUp(text).proved(), 20)
    lines = text.split("\n")
    rows = [i for i, line in enumerate(lines) if line.startswith("Row ")]
    edits = []
    for i in rows:
        # the same row in other words, so that it is read and knitted anew while all the others stay
        edits.append("\n".join([*lines[:i], lines[i].replace("K3", "Knit 3", 1), *lines[i + 1 :]]))
    kept = Kept()
    WorkUp(text, kept=kept).proved()
    took = []
    for edited in edits:
        begin = time.perf_counter()
        WorkUp(edited, kept=kept).proved()
        took.append(time.perf_counter() - begin)
    median = sorted(took)[len(took) // 2]
    return [
        ("read, knit and prove 40 rows, nothing cached", fresh, reference, "30x, aim 10x"),
        ("the same with one line changed (median over all 40 rows)", median, reference, "5x, aim 2x"),
    ]


def _copy_time(knitted: Knitted) -> float:
    """Copying every finished array of the fabric once, into memory not used before (as knitting must)."""
    copies: list[object] = []
    fabric = knitted.fabric
    arrays = [a for name in fabric.__slots__ if isinstance(a := getattr(fabric, name), np.ndarray)]
    return best(lambda: copies.append([a.copy() for a in arrays]), 7)


def million() -> list[tuple[str, float, float, str]]:
    """Knitting a million stitches, plain and lace, beside copying the finished arrays once."""
    out = []
    for name, row, target in (
        ("plain fabric", "Knit.", "10x"),
        ("lace", "*K2tog, yo, k3, yo, ssk, p1; rep from * to end.", "40x"),
    ):
        text = f"# Cloth\n\nCast on 1000 sts.\nRow 1: {row}\nRow 2: Purl.\nRep rows 1-2 499 more times.\nBind off.\n"
        pattern = read_pattern(Source(text))
        knitted = knit(pattern)
        took = best(lambda: knit(pattern), 7)
        out.append((f"knit {knitted.fabric.n:,} stitches of {name}", took, _copy_time(knitted), target))
    return out


def start() -> list[tuple[str, float, float, str]]:
    """Opening the help, beside an empty Python."""
    python = sys.executable
    empty = best(lambda: subprocess.run([python, "-c", "pass"], check=True), 25)
    command = str(Path(python).with_name("purlwright"))
    helped = best(lambda: subprocess.run([command, "--help"], check=True, stdout=subprocess.DEVNULL), 25)
    return [("purlwright --help", helped, empty, "3x")]


def memory() -> Fraction:
    """Bytes a stitch in a finished fabric of lace."""
    text = "# Cloth\n\nCast on 1000 sts.\nRow 1: *K2tog, yo, k3, yo, ssk, p1; rep from * to end.\nRow 2: Purl.\nRep rows 1-2 199 more times.\nBind off.\n"
    fabric = knit(read_pattern(Source(text))).fabric
    return Fraction(fabric.nbytes, fabric.n)


def main(argv: list[str]) -> int:
    """Measure everything and print it."""
    rows = [*forty_rows(), *million(), *start()]
    lines = [
        "| work | took | reference | ratio | must reach |",
        "|---|---|---|---|---|",
    ]
    for name, took, reference, target in rows:
        lines.append(
            f"| {name} | {took * 1e3:.2f} ms | {reference * 1e3:.2f} ms | {took / reference:.1f}x | {target} |"
        )
    per = memory()
    lines.append(f"| memory of the fabric | {float(per):.0f} bytes a stitch | | | under 150 |")
    table = "\n".join(lines)
    print(table)
    if "--write" in argv:
        about = (
            "# Results\n\n"
            "Made by `make measure` (`python benchmarks/run.py --write`).\n"
            f"Python {platform.python_version()}, NumPy {np.__version__}, {platform.system()} {platform.machine()}, "
            f"{len(__import__('os').sched_getaffinity(0))} cores.\n\n"
            "Each time is the best of several runs (one line changed: the median over all rows); each
            reference is measured in the same run:\n"
            "markdown-it-py tokenising the same file, copying the finished arrays once, an empty Python.\n\n"
        )
        (HERE / "RESULTS.md").write_text(about + table + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
