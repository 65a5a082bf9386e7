"""How fast and how large: the targets for reading, knitting, proving, starting and memory, beside references.

    python benchmarks/run.py             print the table
    python benchmarks/run.py --write     and write it to benchmarks/RESULTS.md

Every line is a ratio to something measured in the same run on the same machine, so that the numbers mean the
same everywhere. Each time is the best of several; nothing here is asserted.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np
import typst
from markdown_it import MarkdownIt
from pypdf import PdfReader
from thousand import write_patterns

from purlwright.chart.draw_key import draw_chart
from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across
from purlwright.chart.told import with_key
from purlwright.drawing import to_svg
from purlwright.needles.knit import knit
from purlwright.needles.knitted import Knitted
from purlwright.needles.ledger import Kind
from purlwright.pattern.file import read_pattern
from purlwright.sheet.document import Document, Row
from purlwright.sheet.out.faces import typst_fonts
from purlwright.sheet.out.pdf import print_files, to_pdf
from purlwright.text import Source
from purlwright.workup import Kept, WorkUp

HERE = Path(__file__).parent
MILLION_RUNS = 15
LACE = "*K2tog, yo, k3, yo, ssk, p1; rep from * to end."
ABOUT = """# Results

Made by `make measure` (`python benchmarks/run.py --write`).
{machine}.

Each time is the best of several runs. One line changed: the best of ten for each row, what is kept being
that of the text before alone, and of all rows the median. Each reference is measured in the same run:
markdown-it-py tokenising the same file; copying the finished arrays once; an empty Python; one compile of the
sheet's template by Typst, its data ready in memory (of both the median of 23). The arrays are copied into
memory that stands ready, which is the quickest that a copy can be: into fresh memory, which the system must
first make ready, it takes several times as long. The knitting takes its memory as it comes.

The second table has no reference but the clock. *Took* is what passed on it, beside whatever else the
machine was doing; *worked* is the processor time of all processes together. The pullover is
`ten_sizes.pattern.md`, read, knitted and proved anew each time in a process that has proved it before; the
best of five. The thousand patterns are made by `thousand.py`: lace, ribs, shaped pieces and hats in the
round, 60 written rows each, in one to five sizes, no two alike. The command `purlwright proof FOLDER --jobs
2` proves them once, from its start to the end of its summary, every page written; that all of them hold is
part of the measure.

How much of real patterns is read, and which lines are not, is in [unread.md](unread.md).

"""


class Measured(NamedTuple):
    """One line of the table: seconds taken, seconds of the reference, and the target in words."""

    work: str
    took: float
    reference: float
    target: str


def times(work: Callable[[], object], runs: int) -> list[float]:
    """How long each of ``runs`` runs takes, in seconds, shortest first, after one that is thrown away."""
    work()
    took = []
    for _ in range(runs):
        begin = time.perf_counter()
        work()
        took.append(time.perf_counter() - begin)
    return sorted(took)


EDIT_RUNS = 10
"""The shortest of so many, as the reference is the shortest of forty: other work on the machine only adds."""


def after_edit(text: str, edited: str) -> float:
    """Seconds to work an edited text, with what is kept from the text before it and nothing else."""
    kept = Kept()
    WorkUp(text, kept=kept).proved()
    begin = time.perf_counter()
    WorkUp(edited, kept=kept).proved()
    return time.perf_counter() - begin


def forty_rows() -> list[Measured]:
    """Read, knit and prove a pattern of 40 rows, beside markdown-it-py cutting the same file into tokens."""
    text = (HERE / "forty_rows.pattern.md").read_text(encoding="utf-8")
    reference = times(partial(MarkdownIt().parse, text), 40)[0]
    fresh = times(lambda: WorkUp(text).proved(), 20)[0]
    lines = text.split("\n")
    # the same row in other words, so that it is read and knitted anew while all the others stay
    edits = [
        "\n".join([*lines[:i], line.replace("K3", "Knit 3", 1), *lines[i + 1 :]])
        for i, line in enumerate(lines)
        if line.startswith("Row ")
    ]
    shortest = (min(after_edit(text, edited) for _ in range(EDIT_RUNS)) for edited in edits)
    median = sorted(shortest)[len(edits) // 2]
    return [
        Measured("read, knit and prove 40 rows, nothing cached", fresh, reference, "30x, aim 10x"),
        Measured("the same with one line changed, the rest cached", median, reference, "5x, aim 2x"),
    ]


def copy_time(knitted: Knitted) -> float:
    """Copying every array of the fabric once, into arrays that stand ready."""
    fabric = knitted.fabric
    arrays = [a for name in fabric.__slots__ if isinstance(a := getattr(fabric, name), np.ndarray)]
    ready = [a.copy() for a in arrays]

    def copy() -> None:
        for there, array in zip(ready, arrays, strict=True):
            np.copyto(there, array)

    return times(copy, MILLION_RUNS)[0]


def cloth(row: str, repeats: int) -> str:
    """A pattern of 1,000 stitches: ``row`` and a purl row, so many times."""
    return (
        f"# Cloth\n\nCast on 1000 sts.\nRow 1: {row}\nRow 2: Purl.\n"
        f"Rep rows 1-2 {repeats - 1} more times.\nBind off.\n"
    )


def knit_and_copy(row: str) -> str:
    """Stitches, seconds to knit them and seconds to copy them, for a cloth of this row."""
    pattern = read_pattern(Source(cloth(row, 500)))
    took = times(partial(knit, pattern), MILLION_RUNS)[0]
    knitted = knit(pattern)
    return f"{knitted.fabric.n} {took} {copy_time(knitted)}"


def million() -> list[Measured]:
    """Knit a million stitches, plain and lace, beside copying the arrays once; each in its own process."""
    out = []
    for name, row, target in (("plain fabric", "Knit.", "10x"), ("lace", LACE, "40x")):
        call = [sys.executable, __file__, "--knit-and-copy", row]
        n, took, copied = subprocess.run(call, check=True, capture_output=True, text=True).stdout.split()
        out.append(Measured(f"knit {int(n):,} stitches of {name}", float(took), float(copied), target))
    return out


def start() -> Measured:
    """Open the help, beside an empty Python; both may keep what they have compiled, as at a user's."""
    python = sys.executable
    command = str(Path(python).with_name("purlwright"))
    home = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    run = partial(subprocess.run, check=True, stdout=subprocess.DEVNULL, env=home)
    empty = times(lambda: run([python, "-c", "pass"]), 25)[0]
    helped = times(lambda: run([command, "--help"]), 25)[0]
    return Measured("purlwright --help", helped, empty, "3x")


def six_pages() -> Document:
    """The sheet of the pullover in ten sizes, with rows of its own said again until it fills six pages."""
    document = WorkUp((HERE / "ten_sizes.pattern.md").read_text(encoding="utf-8")).sheet()
    rows = [replace(block, anchor="") for block in document.blocks if isinstance(block, Row)]
    many = 0
    while pages_of(document) < 6:
        more = tuple(rows[n % len(rows)] for n in range(many, many + 4))
        document = replace(document, blocks=(*document.blocks, *more))
        many += 4
    return document


def pages_of(document: Document) -> int:
    return len(PdfReader(BytesIO(to_pdf(document))).pages)


def printed() -> list[Measured]:
    """A sheet of six pages as PDF, beside one compile of the same template with its data ready in memory.

    Each run has another name in the foot of its pages: a compiler that sets the same again remembers it.
    """
    document = six_pages()
    named = [replace(document, stamp=replace(document.stamp, name=f"Run {n}")) for n in range(48)]
    ready = [print_files(each, "a4", large=False) for each in named[:24]]
    waiting = iter(ready)
    reference = times(
        lambda: typst.compile(next(waiting), font_paths=typst_fonts(), pdf_standards=["ua-1"]), 23
    )
    documents = iter(named[24:])
    took = times(lambda: to_pdf(next(documents)), 23)
    work = f"a sheet of {pages_of(document)} pages as PDF/UA-1"
    return [Measured(work, took[len(took) // 2], reference[len(reference) // 2], "1.5x")]


class Timed(NamedTuple):
    """One line of the second table: seconds taken, seconds of processor time, and the seconds it may take."""

    work: str
    took_s: float
    worked_s: float
    most_s: float


def ten_sizes() -> Timed:
    """Read, knit and prove a garment in ten sizes, nothing kept but what a first proof has loaded."""
    text = (HERE / "ten_sizes.pattern.md").read_text(encoding="utf-8")
    proved = WorkUp(text).proved()
    if len(proved.sizes) != 10 or proved.findings:
        raise SystemExit("ten_sizes.pattern.md should have ten sizes and nothing found in it")
    took = times(lambda: WorkUp(text).proved(), 5)[0]
    begin = time.process_time()
    WorkUp(text).proved()
    return Timed("prove a pullover in ten sizes, warm", took, time.process_time() - begin, 1)


def thousand(many: int = 1000) -> Timed:
    """The command on a folder of patterns, in two processes, from its start to the end of its summary."""
    with TemporaryDirectory() as folder:
        write_patterns(Path(folder), many)
        command = [sys.executable, "-m", "purlwright", "proof", folder, "--jobs", "2"]
        begin, before = time.perf_counter(), os.times()
        shown = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        took, after = time.perf_counter() - begin, os.times()
        worked = sum(after[2:4]) - sum(before[2:4])  # of the processes started here
    if f"{many:,} patterns: {many:,} hold and 0 fail." not in shown:
        raise SystemExit("every pattern made for measuring should hold")
    return Timed(f"prove {many:,} patterns of 60 rows on two cores", took, worked, 60)


def large_chart() -> Timed:
    """From the knitting of 200 rows over 100 stitches to the SVG of their chart, lace, cables and purls."""
    text = chart_rows()
    work = WorkUp(text)
    knitted = work.knitted()
    entries = [e for p in knitted.ledger.pieces for e in p.rows if e.kind is Kind.ROW]

    def draw() -> str:
        one = with_key(once_across(make_grid(knitted, entries, "Large")), work.pattern)
        return to_svg(draw_chart(one.grid, one.key), "Large")

    size = len(draw().encode()) / 1e6
    took = times(draw, 5)[0]
    begin = time.process_time()
    draw()
    worked = time.process_time() - begin
    return Timed(f"chart of 200 rows over 100 stitches as SVG ({size:.2f} MB, under 2 MB)", took, worked, 0.5)


def chart_rows() -> str:
    """Rows of 100 stitches, no two right-side rows alike."""
    parts = (("yo, k2tog", 2), ("ssk, yo", 2), ("k3", 3), ("p2", 2), ("2/2 RC", 4), ("yo, sk2p, yo", 3))
    lines = ["# Large", "Cast on 100 sts."]
    for n in range(1, 201):
        if n % 2 == 0:
            lines.append(f"Row {n}: P{20 + n % 13}, k3, p to end.")
            continue
        row, used, turn = [], 0, n
        while used < 94:
            words, wide = parts[(turn * turn + n) % 6]
            row.append(words)
            used, turn = used + wide, turn + 1
        lines.append(f"Row {n}{' (RS)' if n == 1 else ''}: K1, {', '.join(row)}, k to end.")
    return "\n".join(lines)


def memory() -> Fraction:
    """Bytes a stitch in a finished fabric of lace."""
    fabric = knit(read_pattern(Source(cloth(LACE, 200)))).fabric
    return Fraction(fabric.nbytes, fabric.n)


def main(argv: list[str]) -> int:
    """Measure everything and print it."""
    if argv[:1] == ["--knit-and-copy"]:
        print(knit_and_copy(argv[1]))
        return 0
    lines = ["| work | took | reference | ratio | must reach |", "|---|---|---|---|---|"]
    for m in (*forty_rows(), *million(), start(), *printed()):
        ratio = m.took / m.reference
        lines.append(
            f"| {m.work} | {m.took * 1e3:.2f} ms | {m.reference * 1e3:.2f} ms | {ratio:.1f}x | {m.target} |"
        )
    lines.append(f"| memory of the fabric | {float(memory()):.0f} bytes a stitch | | | under 150 |")
    lines += ["", "| work | took | worked | must be under |", "|---|---|---|---|"]
    for t in (large_chart(), ten_sizes(), thousand()):
        lines.append(f"| {t.work} | {t.took_s:.2f} s | {t.worked_s:.2f} s | {t.most_s:g} s |")
    table = "\n".join(lines)
    print(table)
    if "--write" in argv:
        cores = os.cpu_count()
        machine = (
            f"Python {platform.python_version()}, NumPy {np.__version__}, "
            f"{platform.system()} {platform.machine()}, {cores} cores"
        )
        (HERE / "RESULTS.md").write_text(ABOUT.format(machine=machine) + table + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
