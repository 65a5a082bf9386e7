"""A row as pictures for a film: the needles after each stitch, and the captions that go with them.

In: a row to be played. Out: a drawing a frame, and the captions as WebVTT (W3C, WebVTT: The Web Video Text
Tracks Format).
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.drawing import Circle, Drawing, Ink, Line, Path, Shape, Text
from purlwright.sheet.document import PlayedRow

__all__ = ["SECONDS", "captions", "frames"]

SECONDS = 2.0
"""How long a frame stands."""
_WIDE, _HIGH, _NEEDLE, _APART, _SHOWN = 160.0, 90.0, 38.0, 6.6, 10
_INK, _NEW, _WOOD = "#2b2622", "#1f4e5f", "#85796a"


def frames(row: PlayedRow) -> tuple[Drawing, ...]:
    """One before the row, and one after each stitch; 16 to 9, as films are."""
    left, right = list(row.left), ["" for _ in range(row.behind)]
    out = [_frame(row, left, right, 0, "back", 0)]
    for n, beat in enumerate(row.beats, 1):
        del left[: beat.takes]
        right += beat.makes
        out.append(_frame(row, left, right, len(beat.makes), beat.yarn, n))
    return tuple(out)


def captions(row: PlayedRow, seconds: float = SECONDS) -> str:
    """The captions of the frames, each as long as its frame stands."""
    what = (
        f"{row.label}, right side."
        if row.side == "RS"
        else f"{row.label}, wrong side."
        if row.side
        else f"{row.label}."
    )
    said = [f"{what} {len(row.left)} loops on the left needle.", *(b.words for b in row.beats)]
    if row.beats:
        said[-1] += f" {row.after} stitches." if row.after != 1 else " 1 stitch."
    out = ["WEBVTT", ""]
    for n, words in enumerate(said):
        out += [str(n + 1), f"{_time(n * seconds)} --> {_time((n + 1) * seconds)}", _plain(words), ""]
    return "\n".join(out)


def _plain(words: str) -> str:
    """Words of a caption: no mark of the format, no empty line."""
    return " ".join(words.replace("&", "&amp;").replace("<", "&lt;").replace("-->", "--&gt;").split())


def _time(seconds: float) -> str:
    ms = round(seconds * 1000)
    return f"{ms // 3_600_000:02d}:{ms // 60_000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"


def _frame(
    row: PlayedRow, left: Sequence[str], right: Sequence[str], fresh: int, yarn: str, n: int
) -> Drawing:
    middle = _WIDE / 2
    wood = Ink(stroke=_WOOD, width_mm=2.2, cap="round")
    shapes: list[Shape] = [
        Line(x1_mm=3, y1_mm=_NEEDLE, x2_mm=middle - 5, y2_mm=_NEEDLE, ink=wood),
        Line(x1_mm=middle + 5, y1_mm=_NEEDLE, x2_mm=_WIDE - 3, y2_mm=_NEEDLE, ink=wood),
    ]
    for k, look in enumerate(left[:_SHOWN]):
        shapes += _loop(middle - 11 - k * _APART, look, new=False)
    for k, look in enumerate(list(right[::-1])[:_SHOWN]):
        shapes += _loop(middle + 11 + k * _APART, look, new=k < fresh)
    if right:
        shapes.append(_yarn(middle + 11, front=yarn != "back"))
    where = "yarn in front" if yarn != "back" else "yarn at the back"
    shapes += [
        Text(x_mm=4, y_mm=10, words=row.label, size_mm=6, bold=True),
        Text(x_mm=_WIDE - 4, y_mm=10, words=f"{n} of {len(row.beats)}", size_mm=5, anchor="end"),
        Text(x_mm=4, y_mm=_HIGH - 5, words=f"{len(left)} on the left needle", size_mm=5),
        Text(
            x_mm=_WIDE - 4, y_mm=_HIGH - 5, words=f"{len(right)} on the right needle", size_mm=5, anchor="end"
        ),
    ]
    if right:
        shapes.append(
            Text(x_mm=middle, y_mm=_HIGH - 14, words=where, size_mm=4.4, anchor="middle", colour=_NEW)
        )
    return Drawing(width_mm=_WIDE, height_mm=_HIGH, shapes=tuple(shapes))


def _yarn(x: float, *, front: bool) -> Path:
    y = _NEEDLE
    ink = Ink(stroke=_NEW, width_mm=1.3, cap="round", dash_mm=None if front else (2.4, 2.2))
    if front:
        return Path(
            steps=(("M", x - 2.6, y + 13), ("C", x - 9, y + 20, x - 10, y + 24, x - 15, y + 30)), ink=ink
        )
    return Path(steps=(("M", x - 2.6, y + 13), ("C", x - 12, y - 6, x - 8, y - 14, x - 18, y - 22)), ink=ink)


def _loop(x: float, look: str, *, new: bool) -> list[Shape]:
    y = _NEEDLE
    ink = Ink(stroke=_NEW if new else _INK, width_mm=1.8 if new else 1.2, cap="round")
    sign = Ink(stroke=_INK, width_mm=0.8, cap="round", join="round")
    out: list[Shape] = [
        Path(
            steps=(
                ("M", x - 2.4, y + 13),
                ("C", x - 2.4, y + 6, x - 3.2, y - 4.6, x, y - 4.6),
                ("C", x + 3.2, y - 4.6, x + 2.4, y + 6, x + 2.4, y + 13),
            ),
            ink=ink,
        )
    ]
    if look == "V":
        out.append(Path(steps=(("M", x - 2, y + 15.5), ("L", x, y + 19.5), ("L", x + 2, y + 15.5)), ink=sign))
    elif look == "bump":
        out.append(Path(steps=(("M", x - 2.3, y + 18.5), ("Q", x, y + 14, x + 2.3, y + 18.5)), ink=sign))
    elif look == "over":
        out.append(Circle(x_mm=x, y_mm=y + 17.5, radius_mm=1.8, ink=sign))
    return out
