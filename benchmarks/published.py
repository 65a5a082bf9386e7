"""Published patterns: what size and how much yarn we reckon, beside what their pages state.

    python benchmarks/published.py            prints the table and the medians
    python benchmarks/published.py --write    and writes benchmarks/PUBLISHED.md

The facts are in published.toml, each with its address. Size: the stitches (and rows) that a page states, at
its gauge, beside the size it states. Yarn: the area of the cloth at the gauge, with loop lengths as ``cloth``
has them, cast-on, bind-off, floats and tails, beside the yards it states. Where a page tells what to have,
what we tell to have stands beside it: what the knitting takes, and the eighth over that is the trade's habit
(OVER in cloth/yarn.py, with its sources). Nothing is asserted here.
"""

from __future__ import annotations

import argparse
import tomllib
from collections.abc import Iterator
from math import pi
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

from purlwright.cloth.cloths import cloth_factor
from purlwright.cloth.kinds import ClothKind
from purlwright.cloth.loop_lengths import plain_loop_mm
from purlwright.cloth.yarn import CHAIN, FLOAT, LONG_TAIL, OVER, TAIL_MM

HERE = Path(__file__).parent
INCH, YARD = 25.4, 914.4
"""Both sides are inches and yards as pages state them: the trade's 25 mm to the inch does not come in."""


DRAW = {ClothKind.BRIOCHE: (1.0 + 0.8) / 2}
"""What a stitch draws beside a plain one, by the stitch dictionary: brk and a slip with its over by turns."""


class Compared(NamedTuple):
    """One figure of one size: ours beside theirs."""

    what: str
    address: str
    of: str
    ours: float
    theirs: float
    says: str
    counts: bool

    @property
    def error(self) -> float:
        return self.ours / self.theirs - 1

    def bare(self) -> Compared:
        """What the knitting takes, without the eighth over."""
        return self._replace(ours=self.ours / (1 + OVER)) if self._over else self

    @property
    def _over(self) -> bool:
        return self.of == "yards" and self.says == "needs"


def _stitch(one: dict[str, Any]) -> tuple[float, float, ClothKind]:
    """Width and height of a stitch in mm; the height by the shape of the cloth where no rows are stated."""
    gauge, kind = one["gauge"], ClothKind[one["cloth"].upper()]
    width = gauge["over"] * INCH / gauge["stitches"]
    row = (
        gauge["over"] * INCH / gauge["rows"]
        if "rows" in gauge
        else width / cloth_factor(kind).rows_per_stitch
    )
    return width, row, kind


def sizes(one: dict[str, Any]) -> Iterator[Compared]:
    """Stated stitches and rows at the stated gauge, in inches."""
    width, row, _ = _stitch(one)
    if not one.get("width_stated", True):
        return
    for sts, theirs in zip(one.get("stitches", []), one.get("width", []), strict=False):
        yield Compared(
            one["what"], one["address"], "width, in", sts * width / INCH, theirs, one["says"], True
        )
    if "rows" in one["gauge"]:
        for rows, theirs in zip(one.get("row_count", []), one.get("length", []), strict=False):
            yield Compared(
                one["what"], one["address"], "length, in", rows * row / INCH, theirs, one["says"], True
            )


def _area(one: dict[str, Any], n: int) -> float:
    """Square inches of cloth."""
    if "area" in one:
        return float(one["area"][n])
    wide, long = one["width"][n], one["length"][n]
    if one["shape"] == "triangle":
        return float(wide * long / 2)
    if one["shape"] == "hat":  # a tube, and a disc over it whose radius is part of the height
        return float(wide * (long - wide / (4 * pi)))
    return float(wide * long)


def yarn(one: dict[str, Any]) -> Iterator[Compared]:
    """Yards by the area of the cloth."""
    width, row, kind = _stitch(one)
    loop = plain_loop_mm(width, row, kind)
    each = loop * DRAW.get(kind, 1.0) + (width * FLOAT if one.get("colours") else 0.0)
    for n, theirs in enumerate(one["yards"]):
        stitches = _area(one, n) * INCH**2 / (width * row)
        edge = one["width"][n] * INCH if "width" in one else 0.0
        mm = stitches * each + edge * LONG_TAIL + edge / width * CHAIN * loop + 2 * TAIL_MM
        mm *= one.get("pieces", 1) * one.get("strands", 1)
        mm *= 1 + OVER if one["says"] == "needs" else 1
        counts = one.get("plain", True) and one["says"] != "skeins"
        yield Compared(one["what"], one["address"], "yards", mm / YARD, theirs, one["says"], counts)


def _median(found: list[Compared]) -> str:
    if not found:
        return "none"
    off = median(abs(c.error) for c in found)
    signed = median(c.error for c in found)
    return f"{100 * off:.1f} % off, {100 * signed:+.1f} % signed, {len(found)} figures"


def by_pattern(found: list[Compared]) -> list[Compared]:
    """One figure a pattern, its middle size, so that a pattern of many sizes does not count as many."""
    out: dict[tuple[str, str], list[Compared]] = {}
    for c in found:
        out.setdefault((c.address, c.what), []).append(c)
    return [sorted(some, key=lambda c: c.error)[len(some) // 2] for some in out.values()]


def page() -> str:
    """The whole table, then the medians."""
    patterns = tomllib.loads((HERE / "published.toml").read_text(encoding="utf-8"))["pattern"]
    size = [c for one in patterns for c in sizes(one)]
    yards = [c for one in patterns for c in yarn(one)]
    lines = ["| pattern | figure | ours | stated | off | says |", "| --- | --- | --- | --- | --- | --- |"]
    for c in (*size, *yards):
        note = c.says if c.counts or c.of != "yards" else f"{c.says}, not counted"
        lines.append(f"| {c.what} | {c.of} | {c.ours:.1f} | {c.theirs:g} | {100 * c.error:+.0f} % | {note} |")
    counted = [c for c in yards if c.counts]
    used = [c for c in counted if c.says == "used"]
    needs = [c for c in counted if c.says == "needs"]
    lines += [
        "",
        f"{len(patterns)} patterns of {len({one['address'] for one in patterns})} pages.",
        "",
        f"- size, all figures: {_median(size)}",
        f"- size, one figure a pattern: {_median(by_pattern(size))}",
        f"- yarn, all figures but whole skeins: {_median(counted)}",
        f"- yarn, one figure a pattern: {_median(by_pattern(counted))}",
        f"- yarn, all figures, without the eighth over: {_median([c.bare() for c in counted])}",
        f"- yarn, one figure a pattern, without it: {_median(by_pattern([c.bare() for c in counted]))}",
        f"- yarn, what a sample took: {_median(used)}",
        f"- yarn, what a page tells to have: {_median(needs)}",
        f"- yarn, whole skeins (not counted above): {_median([c for c in yards if c.says == 'skeins'])}",
    ]
    return "\n".join(lines) + "\n"


ABOUT = """# Published patterns

Made by `python benchmarks/published.py --write` from [published.toml](published.toml). Size is stitches and
rows at the stated gauge; yarn is the area of the cloth at the gauge with loop lengths by Munden's constant.
What a page tells to have ("needs") is more than the knitting takes: two designers give 10 to 15 per cent as
the trade's habit (deviousknitter.com; elizabethsmithknits.com, 24 May 2024), so there stands what `cloth`
tells to print as needed, an eighth over; beside what a sample took ("used") stands what the knitting takes.
Both medians are given. Whole skeins say little and are not counted. One yard of yarn in 45 stitches at 5
stitches and 7 rows to the inch, as a spinner counts (knitnmore.blogspot.com, June 2009), is 20.3 mm a
stitch; ours is 20.0. Nothing is fitted to these pages but for one thing: the constant for brioche, which
rested on a habit without a source, was raised to near that of the plain loop when the first brioche cowl
came out 32 per cent short.

Without the eighth over, cables come out 5 to 38 per cent short. It is not the gauge: these pages count it in
the cable. Two of them print the gauge of plain stockinette on the same needles too, and by that alone the hat
of 200 yards takes 112 yards and the cowl of 225 to 250 yards (two skeins of 125) takes 155; ours are 128 and
148. Nor is it the crossings: a crossed stitch drawn out by a tenth, in one row of five, adds two in a
hundred. The plain hats are 17 to 32 per cent short in worsted and DK, and 4 to 8 in bulky: by the gauge and
the sizes of the page worsted takes a quarter to a third more than bulky, and the page tells a half to two
thirds more. That lies in what it tells; no constant mends the one without spoiling the other. So the constant
for cables stays where the printed gauges put it.

"""


def main() -> None:
    """Print the page; write it if asked."""
    call = argparse.ArgumentParser(description="What published patterns state, beside what we reckon.")
    call.add_argument("--write", action="store_true", help="write benchmarks/PUBLISHED.md")
    told = page()
    print(told, end="")
    if call.parse_args().write:
        (HERE / "PUBLISHED.md").write_text(ABOUT + told, encoding="utf-8")


if __name__ == "__main__":
    main()
