"""Patterns to begin from, in all their sizes, laid out as cloth: what settles beside what the plan says.

Run: nice python benchmarks/starts_as_cloth.py [KIND ...]; it writes STARTS_AS_CLOTH.md beside itself,
line by line, and leaves out what stands there already. Small pieces are measured in every size of their
usual table, garments in the smallest and the largest size of women, men and children. The bound is 3 %.
Gauge: 18 sts and 25 rows to 10 cm in stockinette stitch, 16 and 32 in garter stitch.
"""

import sys
import time
from fractions import Fraction
from math import pi
from pathlib import Path

import numpy as np

from purlwright.cloth.measure import edges_of, length_along, row_nodes
from purlwright.cloth.relax.shape import Lies, relax
from purlwright.sizing.starts.asked import Asked, Knit, Start
from purlwright.sizing.starts.kinds import KINDS, who
from purlwright.workup import WorkUp

OUT = Path(__file__).with_name("STARTS_AS_CLOTH.md")
HEAD = """# Patterns to begin from, as cloth

Each piece is knitted in software, its cloth is left to settle, and a length is measured along the settled
stitches: of a round piece its middle round, of a flat back its middle row twice (of a cardigan once),
of a triangle and a half circle the top edge, of a crescent the row before the last two before it is pinned
out, of a wedge hat the brim. Written by
`python benchmarks/starts_as_cloth.py`; the bound is 3 %.

| piece | size | planned, mm | settled, mm | off | seconds |
| --- | --- | ---: | ---: | ---: | ---: |
"""
GAUGE = {"stockinette stitch": (18, 25, 5), "garter stitch": (16, 32, 5)}
ROUND = {
    "hat": "cast-on", "hat-from-crown": "brim", "mitten": "cast-on", "sock": "cast-on",
    "sock-from-toe": "cast-on", "raglan": "body", "round-yoke": "body",
}  # fmt: skip


def ring(work: WorkUp, size: str, count: int) -> float:
    """The length of the middle one of the rounds that end with so many stitches."""
    settled = work.settled(size)
    rows = [
        e
        for p in work.knitted(size).ledger.pieces[:1]
        for e in p.rows
        if e.kind == "round" and e.end == count
    ]
    nodes = row_nodes(settled.mesh, rows[len(rows) // 2].order)
    return length_along(settled.shape.position_mm, np.append(nodes, nodes[:1]))


def measured(name: str, start: Start, work: WorkUp, size: str, n: int) -> tuple[float, float]:
    """(planned, settled), in mm."""
    planned = float(start.finished[0].mm[n])
    if name in ROUND:
        return planned, ring(work, size, start.counts[ROUND[name]][n])
    if name == "round-mat":
        return planned, ring(work, size, start.counts["last count"][n]) / pi
    ledger = work.knitted(size).ledger
    if name in {"triangle-shawl", "half-round-shawl"}:
        settled = work.settled(size, lies="blocked")
        edges = [row_nodes(settled.mesh, e.order) for e in ledger.pieces[0].rows if e.kind == "row" and e.end]
        one = [r[0] if i % 2 else r[-1] for i, r in enumerate(edges) if len(r)]
        other = [r[-1] if i % 2 else r[0] for i, r in enumerate(edges) if len(r)]
        return planned, sum(length_along(settled.shape.position_mm, np.array(e)) for e in (one, other))
    settled = work.settled(size)
    rows = [e for e in ledger.pieces[0].rows if e.kind == "row"]
    if name == "wedge-hat":
        return planned, max(length_along(settled.shape.position_mm, e) for e in edges_of(settled.mesh, 0))
    if name == "crescent-shawl":
        row = rows[-3]
        loose = relax(settled.mesh, settled.rest, lies=Lies.FREE)
        edge = length_along(loose.position_mm, row_nodes(settled.mesh, row.order))
        return planned * row.end / start.counts["last count"][n], edge
    row = rows[len(rows) // 3]  # below the armholes; from middle to middle is a stitch less than the whole
    wide = length_along(settled.shape.position_mm, row_nodes(settled.mesh, row.order))
    if name == "cardigan":
        return start.counts["back"][n] * 100 / 18, wide + 100 / 18
    return planned, 2 * (wide + 100 / 18)


def cases(name: str) -> list[tuple[tuple[str, ...], str]]:
    """Whom a piece is measured for, and which of the sizes: all, or the first and the last."""
    if KINDS[name].part == "body":
        return [((group,), "ends") for group in ("child", "woman", "man")]
    return [((), "all")]


def main(names: list[str]) -> None:
    if not OUT.exists():
        OUT.write_text(HEAD, encoding="utf-8")
    for name in names or KINDS:
        kind = KINDS[name]
        sts, rows, needle = GAUGE[kind.fabric]
        for whom, which in cases(name):
            bodies, sizes = who(kind, whom)
            start = kind.make(
                Asked(
                    sizes=sizes, bodies=bodies, knit=Knit(stitches=Fraction(sts), rows=Fraction(rows)),
                    fabric=kind.fabric, needles_mm=Fraction(needle),
                )
            )  # fmt: skip
            work = WorkUp(start.text)
            for n, size in enumerate(sizes):
                if which == "ends" and 0 < n < len(sizes) - 1:
                    continue
                label = f"| {name} | {' '.join((*whom, size))} |"
                if label in OUT.read_text(encoding="utf-8"):
                    continue
                began = time.process_time()
                planned, cloth = measured(name, start, work, size, n)
                spent = time.process_time() - began
                off = f"{100 * (cloth / planned - 1):+.1f} %"
                with OUT.open("a", encoding="utf-8") as out:
                    out.write(f"{label} {planned:.0f} | {cloth:.0f} | {off} | {spent:.0f} |\n")


if __name__ == "__main__":
    main(sys.argv[1:])
