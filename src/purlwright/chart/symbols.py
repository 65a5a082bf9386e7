"""The signs that stand in the squares of a chart, as vector shapes.

In: the name of a mark, as the stitch dictionary gives it. Out: a :class:`Sign`: shapes over one or more
squares of 1 by 1, bottom row at y = 1. Which mark a worked stitch gets is left to ``grid``, and its size in
millimetres to ``draw``.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pkgutil import get_data
from typing import Any

from purlwright.drawing import (
    BLACK,
    NONE,
    Circle,
    Drawing,
    Group,
    Ink,
    Path,
    Shape,
    Step,
    mirrored,
    path,
)
from purlwright.stitches.spelling import NUMBER_WORDS

__all__ = ["NO_STITCH", "Sign", "known_signs", "mirrored_name", "sign"]

NO_STITCH = "no-stitch"
LINE = 0.1
"""How wide a line is drawn, as a part of a square: 0.4 mm where squares are 4 mm."""
_UNIT = 1 / 8
_SOLID = Ink(fill=BLACK, stroke=NONE)
_PAPER = Ink(fill="#fff", stroke=NONE)

Draw = Callable[[re.Match[str]], "tuple[int, list[Shape]]"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """A sign over ``squares`` squares, the upper left corner of the first at 0, 0. ``shade`` fills them.

    ``status`` says how sure it is that the trade draws it so: confirmed, recalled or own; ``source`` where it
    was read.
    """

    name: str
    squares: int
    shapes: tuple[Shape, ...]
    shade: bool
    status: str
    source: str


def known_signs() -> tuple[str, ...]:
    """The names of all signs of the table; those drawn by rule come on top."""
    return tuple(_table("symbols"))


@cache
def sign(name: str) -> Sign | None:
    """The sign of a mark; None for a name that no table and no rule has."""
    row = _table("symbols").get(name)
    if name.startswith(_MIRRORED):
        return _in_a_mirror(name)
    if row is not None:
        return Sign(
            name=name, squares=row.get("squares", 1), shapes=tuple(_shapes(name)),
            shade=row.get("shade", False), status=row["status"], source=_table("sources")[row["source"]],
        )  # fmt: skip
    for pattern, draw, status, source in _RULES:
        match = re.fullmatch(pattern, name)
        if match is not None:
            squares, shapes = draw(match)
            return Sign(
                name=name, squares=squares, shapes=tuple(shapes), shade=False, status=status,
                source=_table("sources")[source],
            )  # fmt: skip
    return None


_MIRRORED = "mirrored:"


def mirrored_name(name: str) -> str:
    """The name of the sign that a mirror shows of another."""
    swapped = re.sub(r"\b(?:left|right)\b", lambda m: {"left": "right", "right": "left"}[m[0]], name)
    if swapped == name or name.startswith("letters:"):
        return name
    return swapped if sign(swapped) is not None else f"{_MIRRORED}{name}"


def _in_a_mirror(name: str) -> Sign | None:
    """A sign that has no fellow leaning the other way."""
    plain = sign(name.removeprefix(_MIRRORED))
    if plain is None:
        return None
    sheet = mirrored(Drawing(width_mm=plain.squares, height_mm=1, shapes=plain.shapes))
    return replace(plain, name=name, shapes=sheet.shapes)


@cache
def _table(name: str) -> dict[str, Any]:
    # Not importlib.resources, whose import alone takes longer than all the rest.
    return tomllib.loads((get_data("purlwright.chart", f"data/{name}.toml") or b"").decode())


def _shapes(name: str) -> Iterator[Shape]:
    """The shapes of a sign of the table, with those of the sign that it adds to."""
    row = _table("symbols")[name]
    if "from" in row:
        yield from _shapes(row["from"])
    yield from (_line(words) for words in row.get("lines", ()))
    yield from (_scaled(path(words), _SOLID) for words in row.get("solid", ()))
    yield from (_dot(*dot) for dot in row.get("dots", ()))
    yield from (_ring(*ring) for ring in row.get("rings", ()))
    if "digit" in row:
        x, y, digits = row["digit"]
        yield from _digits(digits, x, y)


def _scaled(shape: Path, ink: Ink | None = None) -> Path:
    """A path of eighths of a square as one of squares."""
    steps: list[Step] = []
    for letter, *numbers in shape.steps:
        if letter == "A":
            rx, ry, turn, large, sweep, x, y = (float(n) for n in numbers)
            steps.append(("A", rx * _UNIT, ry * _UNIT, turn, large, sweep, x * _UNIT, y * _UNIT))
        else:
            steps.append((letter, *(float(n) * _UNIT for n in numbers)))
    return Path(steps=tuple(steps), ink=ink)


def _line(words: str) -> Path:
    return _scaled(path(words))


def _dot(x: float, y: float, radius: float) -> Circle:
    return Circle(x_mm=x * _UNIT, y_mm=y * _UNIT, radius_mm=radius * _UNIT, ink=_SOLID)


def _ring(x: float, y: float, radius: float) -> Circle:
    return Circle(x_mm=x * _UNIT, y_mm=y * _UNIT, radius_mm=radius * _UNIT)


_DIGITS = {
    "0": "M1.2 0 A1.2 1.8 0 0 1 1.2 3.4 A1.2 1.8 0 0 1 1.2 0 Z",
    "1": "M0.4 0.8 L1.4 0 L1.4 3.4",
    "2": "M0 0.9 Q0.2 0 1.2 0 Q2.4 0 2.4 1 Q2.4 1.8 0 3.4 L2.4 3.4",
    "3": "M0.2 0 L2.3 0 L1.1 1.4 Q2.4 1.4 2.4 2.4 Q2.3 3.4 1.1 3.4 Q0.3 3.4 0 2.8",
    "4": "M1.8 3.4 L1.8 0 L0 2.4 L2.5 2.4",
    "5": "M2.2 0 L0.5 0 L0.3 1.5 Q2.4 1 2.4 2.3 Q2.4 3.4 1.1 3.4 Q0.3 3.4 0 2.8",
    "6": "M2.1 0 Q0 0.8 0 2.3 A1.2 1.1 0 1 0 2.4 2.3 A1.2 1.1 0 0 0 0.2 2",
    "7": "M0 0 L2.4 0 L1 3.4",
    "8": "M1.2 1.6 A0.9 0.8 0 1 1 1.2 0 A0.9 0.8 0 0 1 1.2 1.6 A1.2 0.9 0 1 1 1.2 3.4 A1.2 0.9 0 0 1 1.2 1.6",
    "9": "M0.3 3.4 Q2.4 2.6 2.4 1.1 A1.2 1.1 0 1 0 0 1.1 A1.2 1.1 0 0 0 2.2 1.4",
}


def _digits(digits: str, x: float, y: float) -> Iterator[Shape]:
    """Digits drawn by hand, so that no typeface is needed for them; two share the room of one and a half."""
    squeeze = 1.0 if len(digits) == 1 else 0.8
    for n, digit in enumerate(digits):
        inner = _scaled(path(_DIGITS[digit]))
        at = (x + n * 2.4 - (1.1 if len(digits) > 1 else 0)) * _UNIT
        yield Group(shapes=(inner,), x_mm=at, y_mm=y * _UNIT, scale=squeeze)


# --- signs that follow a rule ------------------------------------------------------------------------------

_NUMBER_OF = {word: number for number, word in enumerate(NUMBER_WORDS)}
_MANY = "|".join(NUMBER_WORDS[4:13])


def _together(m: re.Match[str]) -> tuple[int, list[Shape]]:
    """Four or more worked into one: the slash of the lean, or an upside-down V, with the number under it."""
    number, how = _NUMBER_OF[m["n"]], m["how"]
    digits = str(number)
    if how == "centre":
        shapes: list[Shape] = [_line("M1.2 3.6 L4 0.9 L6.8 3.6"), *_digits(digits, 2.8, 4)]
    elif how == "right":
        shapes = [_line("M1 7 L6.6 0.9"), *_digits(digits, 4.9, 4)]
    else:
        left = "M7 7 L1.4 0.9" if how != "left-twisted" else "M7 7 L2.5 2.2"
        shapes = [_line(left), *_digits(digits, 0.8 if len(digits) == 1 else 1.6, 4)]
        if how == "left-twisted":
            shapes.append(_ring(2, 1.6, 0.9))
        elif how == "left-passed":
            shapes.append(_line("M3.8 7 L7 7"))
    if m["purl"]:
        shapes.append(_dot(1.6 if how == "right" else 6.4, 1.6, 0.9))
    return 1, shapes


def _brioche(m: re.Match[str]) -> tuple[int, list[Shape]]:
    """A brioche increase or decrease: the plain sign under an arch; a dot where it is purled."""
    inner = sign(m["inner"])
    if inner is None:
        raise ValueError(f"there is no sign {m['inner']}")
    shapes: list[Shape] = [_line("M0.9 2.4 A3.1 1.7 0 0 1 7.1 2.4")]
    shapes.append(Group(shapes=inner.shapes, x_mm=0.12, y_mm=0.24, scale=0.76))
    if m["purl"]:
        shapes.append(_dot(1.6 if "left" in m["inner"] else 6.4, 6.2, 1))
    return 1, shapes


def _crossing(m: re.Match[str]) -> tuple[int, list[Shape]]:
    """``cross-2-1-left-purl``: two bars crossing, the front one whole; dots where the back group is purled.

    ``cross-2-1-2-left``: a group between them that stays where it is; with ``purl`` that group is purled.
    ``all-purl`` has every stitch purled.
    """
    front, middle, back = int(m["a"]), int(m["m"] or 0), int(m["b"])
    return crossed(
        front, middle, back, right=m["side"] == "right", purled_back=bool(m["purl"]),
        purled_front=m["purl"] == "-all-purl", long=bool(m["long"]),
    )  # fmt: skip


def crossed(
    front: int, middle: int, back: int, *, right: bool, purled_back: bool, purled_front: bool, long: bool
) -> tuple[int, list[Shape]]:
    """A crossing as seen from the right side; drawn as one that leans right, and mirrored if it does not."""
    wide = front + middle + back
    low, high, inset = 7.3 * _UNIT, 0.7 * _UNIT, 0.1

    def x(at: float) -> float:
        return at if right else wide - at

    def bar(bottom: float, top: float, many: int) -> tuple[tuple[float, float], ...]:
        return (
            (x(bottom + inset), low), (x(top + inset), high),
            (x(top + many - inset), high), (x(bottom + many - inset), low),
        )  # fmt: skip

    def lines(corners: tuple[tuple[float, float], ...]) -> list[Shape]:
        a, b, c, d = corners
        return [Path(steps=(("M", *a), ("L", *b))), Path(steps=(("M", *d), ("L", *c)))]

    behind, whole = bar(front + middle, 0, back), bar(0, back + middle, front)
    shapes: list[Shape] = lines(behind)
    purled_middle = bool(middle) and purled_back and not purled_front
    for n in range(0 if purled_middle else middle):
        at, top = x(front + n + 0.5), x(back + n + 0.5)
        shapes.append(Path(steps=(("M", at, low), ("L", at, low - 0.12))))
        shapes.append(Path(steps=(("M", top, high), ("L", top, high + 0.12))))
    shapes.append(
        Path(steps=(*((("M" if i == 0 else "L"), *p) for i, p in enumerate(whole)), ("Z",)), ink=_PAPER)
    )
    shapes += lines(whole)
    if long:
        a, b, c, d = whole
        mid = ((a[0] + d[0]) / 2, low), ((b[0] + c[0]) / 2, high)
        shapes.append(Path(steps=(("M", *mid[0]), ("L", *mid[1]))))
    dots = []
    if purled_middle:
        dots += [(front + middle / 2, low - 0.04), (back + middle / 2, high + 0.04)]
    elif purled_back:
        dots += [(front + middle + back / 2, low - 0.08), (back / 2, high + 0.08)]
    if purled_front:
        dots += [(front / 2, low - 0.08), (back + middle + front / 2, high + 0.08)]
    shapes += [Circle(x_mm=x(at), y_mm=y, radius_mm=0.12, ink=_SOLID) for at, y in dots]
    return wide, shapes


def _twist(m: re.Match[str]) -> tuple[int, list[Shape]]:
    """Two or three that change places without a cable needle: a heavy stroke over a broken one."""
    many, right = int(m["n"] or 2), m["side"] == "right"
    wide = 8.0 * many

    def at(x: float) -> float:
        return x if right else wide - x

    def stroke(x1: float, y1: float, x2: float, y2: float) -> Path:
        return _line(f"M{at(x1)} {y1} L{at(x2)} {y2}")

    heavy = _scaled(path(f"M{at(2)} 7 L{at(wide - 2)} 1"), Ink(width_mm=2.2 * LINE))
    mid = wide / 2
    shapes: list[Shape] = [heavy, stroke(wide - 2, 7, mid + 2.4, 5.1), stroke(2, 1, mid - 2.4, 2.9)]
    if many == 3:
        shapes += [stroke(mid, 7.2, mid, 6.2), stroke(mid, 0.8, mid, 1.8)]
    if m["purl"] or m["on"]:
        shapes.append(_dot(at(wide - 2), 5, 1) if m["on"] else _dot(at(2.4), 3.8, 1))
    if m["purl"]:
        shapes.append(_dot(at(wide - 2.4), 4.2, 1))
    if m["twisted"]:
        shapes.append(_ring(at(wide - 1.7), 1.8, 1))
    if m["slip"]:
        shapes += [stroke(1, 7.2, 5, 7.2), stroke(wide - 5, 0.8, wide - 1, 0.8)]
    return many, shapes


def _band(m: re.Match[str]) -> tuple[int, list[Shape]]:
    """Several gathered: a band of yarn round them; a star, or an arch where one is passed over."""
    many = int(m["n"])
    right = 8 * many - 1
    if m["what"] == "cluster":
        inner = [_line(f"M{8 * n + 4} 1.2 L{8 * n + 4} 6.8") for n in range(many)]
        return many, [_line(f"M1 3.2 L{right} 3.2"), _line(f"M1 4.8 L{right} 4.8"), *inner]
    mid = 4 * many
    if m["what"] == "star":
        rays = [(0, 2.6), (2.3, 1.3), (2.3, -1.3)]
        star = [_line(f"M{mid - x} {4 - y} L{mid + x} {4 + y}") for x, y in rays]
        return many, [*star, _line(f"M1 7 L1 5 M1 7 L{right} 7 L{right} 5")]
    return many, [_line(f"M1.4 6.6 C{mid - 6} 0.2 {mid + 6} 0.2 {right - 0.4} 6.6"), _dot(mid, 5.6, 1)]


_COUNTED = rf"(?P<purl>purl-)?(?P<n>{_MANY})-(?P<how>right|left|left-twisted|left-passed|centre)"
_RULES: tuple[tuple[str, Draw, str, str], ...] = (
    (_COUNTED, _together, "own", "own"),
    (r"brioche-(?P<purl>purl-)?(?P<inner>.+)", _brioche, "own", "own"),
    (
        r"cross-(?P<long>long-)?(?P<a>\d+)-(?:(?P<m>\d+)-)??(?P<b>\d+)(?:-(?P<side>right|left))?(?P<purl>-purl|-all-purl)?",
        _crossing, "recalled", "cyc",
    ),
    (
        r"(?P<slip>slip-)?(?:twist|cross)-(?:(?P<n>3)-)?(?P<purl>purl-)?(?P<side>right|left)(?P<on>-on-purl)?(?P<twisted>-twisted)?",
        _twist, "own", "own",
    ),
    (r"(?P<what>cluster|star|mock-cable)-(?P<n>\d+)", _band, "own", "own"),
)  # fmt: skip
