"""A thousand patterns to measure on: no two alike, 60 written rows each, made from a seed.

In: how many, and a folder to write them to. Out: files. They are lace, ribs and textures worked flat, shaped
pieces, and hats in the round, in one to five sizes, with printed totals; all of them hold.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

__all__ = ["one_pattern", "write_patterns"]

ROWS = 60
SIZES = ("S", "M", "L", "XL", "XXL")
BIRDS = ("Tern", "Gannet", "Puffin", "Eider", "Dunlin", "Knot", "Fulmar", "Plover", "Curlew", "Shag")
THINGS = ("Scarf", "Panel", "Cowl", "Strip", "Cloth", "Square", "Wrap", "Border")


def listed(numbers: list[int]) -> str:
    """``40``, ``40 (48, 56)``."""
    return f"{numbers[0]} ({', '.join(map(str, numbers[1:]))})" if len(numbers) > 1 else f"{numbers[0]}"


def _lace(dice: Random, sizes: int) -> tuple[list[int], list[str]]:
    """Repeats of ten stitches with one yarn over for each decrease."""
    rows = []
    for n in range(1, ROWS + 1):
        if n % 2 == 0:
            rows.append(f"Row {n} (WS): Purl.")
            continue
        a = dice.randint(1, 4)
        body = dice.choice(
            [
                f"k{a}, k2tog, yo, k{8 - a}",
                f"k{a}, yo, ssk, k{8 - a}",
                f"k{a}, k2tog, yo, k1, yo, ssk, k{5 - a}" if a < 5 else "k10",
                f"k{a}, yo, sk2p, yo, k{7 - a}",
            ]
        )
        rows.append(f"Row {n} (RS): K1, *{body}; rep from * to last st, k1.")
    first = dice.randint(3, 9)
    return [10 * (first + s) + 2 for s in range(sizes)], rows


def _ribs(dice: Random, sizes: int) -> tuple[list[int], list[str]]:
    """Ribs and textures over four stitches, with two at the edge."""
    ways = [
        "*K2, p2; rep from * to last 2 sts, k2.",
        "*P2, k2; rep from * to last 2 sts, p2.",
        "*K1, p1; rep from * to end.",
        "K2, *sl1, k3; rep from * to end.",
        "Knit.",
        "[K3, p1] to last 2 sts, k2.",
    ]
    rows = [f"Row {n} ({'RS' if n % 2 else 'WS'}): {dice.choice(ways)}" for n in range(1, ROWS + 1)]
    first = dice.randint(8, 20)
    return [4 * (first + s) + 2 for s in range(sizes)], rows


def _shaped(dice: Random, sizes: int) -> tuple[list[int], list[str]]:
    """One stitch more or less at each end now and then, with its total."""
    first = dice.randint(30, 50)
    begin = [2 * (first + 4 * s) for s in range(sizes)]
    now, rows = begin, []
    for n in range(1, ROWS + 1):
        side = "RS" if n % 2 else "WS"
        if n % 4 == 3:
            more = dice.random() < 0.5
            now = [c + 2 if more else c - 2 for c in now]
            words = (
                "K1, m1r, knit to last st, m1l, k1." if more else "K1, ssk, knit to last 3 sts, k2tog, k1."
            )
            rows.append(f"Row {n} ({side}): {words} ({listed(now)} sts)")
        else:
            rows.append(f"Row {n} ({side}): {'Knit' if n % 2 else 'Purl'}.")
    return begin, rows


def _round(dice: Random, sizes: int) -> tuple[list[int], list[str]]:
    """A hat: ribbing, a plain part with some texture, and a crown that closes in eight wedges."""
    wedge = dice.randint(12, 15)
    begin = [8 * (wedge + s) for s in range(sizes)]
    rows = [f"Rnd {n}: *K2, p2; rep from * around." for n in range(1, 11)]
    ways = ["Knit.", "Purl.", "*K3, p1; rep from * around.", "*K1, p1; rep from * around."]
    rows += [f"Rnd {n}: {dice.choice(ways)}" for n in range(11, ROWS - 19)]
    for down in range(10):
        n = ROWS - 19 + 2 * down
        now = [wedge + s - down for s in range(sizes)]
        left = [8 * (w - 1) for w in now]
        rows.append(f"Rnd {n}: [K{listed([w - 2 for w in now])}, k2tog] 8 times. ({listed(left)} sts)")
        rows.append(f"Rnd {n + 1}: Knit.")
    return begin, rows


KINDS: tuple[Callable[[Random, int], tuple[list[int], list[str]]], ...] = (_lace, _ribs, _shaped, _round)


def one_pattern(number: int) -> str:
    """The pattern of this number; always the same one."""
    dice = Random(number)  # noqa: S311 - nothing is kept secret by it
    kind = KINDS[number % len(KINDS)]
    sizes = 1 + number // len(KINDS) % len(SIZES)
    begin, rows = kind(dice, sizes)
    head = [f"# {dice.choice(BIRDS)} {dice.choice(THINGS)} {number}"]
    if sizes > 1:
        head.append(f"Sizes: {SIZES[0]} ({', '.join(SIZES[1:sizes])})")
    join = " Join to work in the round." if kind is _round else ""
    return "\n".join([*head, "", f"Cast on {listed(begin)} sts.{join}", *rows, "Bind off all sts.", ""])


def write_patterns(folder: Path, many: int) -> None:
    """Write so many patterns."""
    for number in range(many):
        (folder / f"{number:04}.pattern.md").write_text(one_pattern(number), encoding="utf-8")
