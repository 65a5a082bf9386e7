"""A drawing as SVG: clean, compact, with its title and description, without script or anything from outside.

In: a :class:`Drawing`. Out: text. Nothing is measured or decided here.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import assert_never
from xml.sax.saxutils import escape, quoteattr

from purlwright.drawing.shapes import (
    BLACK,
    NONE,
    SANS,
    Circle,
    Drawing,
    Group,
    Ink,
    Line,
    Path,
    Polygon,
    Rect,
    Shape,
    Symbol,
    Text,
    Use,
)
from purlwright.text import Span

__all__ = ["to_svg"]


def to_svg(
    drawing: Drawing, title: str, description: str = "", *, prefix: str = "", linked: bool = False
) -> str:
    """The drawing as one SVG element that has no script and asks for nothing from outside.

    title, description : what is seen, for those who hear it; the title is also its name.
    prefix : begins every id, so that several drawings can stand in one page.
    linked : write each span as ``data-span="start-end"``, code points in the source.
    """
    return _Writer(prefix, linked=linked).svg(drawing, title, description)


_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_NAME = re.compile(r"[^A-Za-z0-9_-]+")
_START = Ink(stroke=BLACK, fill=NONE, width_mm=0.25, dash_mm=(), cap="round", join="round", opacity=1)
_UNKNOWN = Ink()


def _words(text: str) -> str:
    return escape(_NOT_IN_XML.sub("\ufffd", text))


@lru_cache(maxsize=1 << 15)
def _n(number: str | float) -> str:
    """Hundredths of a millimetre, without needless noughts."""
    out = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if out == "-0" else out


class _Writer:
    """Writes shapes one after another, and gathers the symbols they use."""

    __slots__ = ("ids", "linked", "prefix", "symbols")

    def __init__(self, prefix: str, *, linked: bool) -> None:
        self.prefix = prefix
        self.linked = linked
        self.ids: dict[int, str] = {}
        self.symbols: dict[str, Symbol] = {}

    def svg(self, drawing: Drawing, title: str, description: str) -> str:
        body = "".join(self._shape(shape, _START) for shape in drawing.shapes)
        # A symbol may use others; those it meets are written too, and come after it.
        defs: list[str] = []
        while len(defs) < len(self.symbols):
            name, symbol = list(self.symbols.items())[len(defs)]
            parts = "".join(self._shape(part, _UNKNOWN) for part in symbol.shapes)
            defs.append(f'<g id="{name}">{parts}</g>')
        wide, high = _n(drawing.width_mm), _n(drawing.height_mm)
        named = f"{self.prefix}title"
        told = f"{self.prefix}desc"
        return "".join(
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm"',
                f' viewBox="0 0 {wide} {high}" role="img" aria-labelledby={quoteattr(named)}',
                f" aria-describedby={quoteattr(told)}>" if description else ">",
                f"<title id={quoteattr(named)}>{_words(title)}</title>",
                f"<desc id={quoteattr(told)}>{_words(description)}</desc>" if description else "",
                f"<defs>{''.join(defs)}</defs>" if defs else "",
                f"<g{_ink(_START, _UNKNOWN)} font-family={quoteattr(_faces())}>{body}</g></svg>\n",
            )
        )

    def _shape(self, shape: Shape, round_it: Ink) -> str:
        """One shape; ``round_it`` is the ink that the groups round it have set."""
        match shape:
            case Use():
                at = f' x="{_n(shape.x_mm)}" y="{_n(shape.y_mm)}"'
                return f'<use href="#{self._name(shape.symbol)}"{at}{self._span(shape.span)}/>'
            case Line():
                to = f"M{_n(shape.x1_mm)} {_n(shape.y1_mm)}L{_n(shape.x2_mm)} {_n(shape.y2_mm)}"
                return f'<path d="{to}"{_ink(shape.ink, round_it)}{self._span(shape.span)}/>'
            case Rect():
                box = f'x="{_n(shape.x_mm)}" y="{_n(shape.y_mm)}"'
                box += f' width="{_n(shape.width_mm)}" height="{_n(shape.height_mm)}"'
                box += f' rx="{_n(shape.round_mm)}"' if shape.round_mm else ""
                return f"<rect {box}{_ink(shape.ink, round_it)}{self._span(shape.span)}/>"
            case Circle():
                box = f'cx="{_n(shape.x_mm)}" cy="{_n(shape.y_mm)}" r="{_n(shape.radius_mm)}"'
                return f"<circle {box}{_ink(shape.ink, round_it)}{self._span(shape.span)}/>"
            case Polygon():
                points = " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points_mm)
                what = "polygon" if shape.closed else "polyline"
                return f'<{what} points="{points}"{_ink(shape.ink, round_it)}{self._span(shape.span)}/>'
            case Path():
                to = "".join(f"{letter}{' '.join(map(_n, numbers))}" for letter, *numbers in shape.steps)
                return f'<path d="{to}"{_ink(shape.ink, round_it)}{self._span(shape.span)}/>'
            case Text():
                return self._text(shape)
            case Group():
                return self._group(shape, round_it)
            case _:
                assert_never(shape)

    def _text(self, text: Text) -> str:
        at = f'x="{_n(text.x_mm)}" y="{_n(text.y_mm)}" font-size="{_n(text.size_mm)}"'
        at += f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
        at += ' font-weight="bold"' if text.bold else ""
        at += ' font-style="italic"' if text.italic else ""
        if text.turn_deg:
            at += f' transform="rotate({_n(text.turn_deg)} {_n(text.x_mm)} {_n(text.y_mm)})"'
        colour = f' fill={quoteattr(text.colour)} stroke="none"'
        return f"<text {at}{colour}{self._span(text.span)}>{_words(text.words)}</text>"

    def _group(self, group: Group, round_it: Ink) -> str:
        own = group.ink or _UNKNOWN
        set_here = {name: getattr(own, name) for name in Ink.__slots__ if getattr(own, name) is not None}
        inner = replace(round_it, **{**set_here, "opacity": 1})  # see-through things within such are more so
        body = "".join(self._shape(part, inner) for part in group.shapes)
        moves = f"translate({_n(group.x_mm)} {_n(group.y_mm)})" if group.x_mm or group.y_mm else ""
        moves += f"rotate({_n(group.turn_deg)})" if group.turn_deg else ""
        moves += f"scale({group.scale:.5g})" if group.scale != 1 else ""
        head = f' transform="{moves}"' if moves else ""
        head += _ink(group.ink, round_it) + self._span(group.span)
        return f"<g{head}>{body}</g>" if head else body

    def _span(self, span: Span) -> str:
        return f' data-span="{span.start}-{span.end}"' if self.linked and span.end >= 0 else ""

    def _name(self, symbol: Symbol) -> str:
        """The id of a symbol; two that differ and are named alike get a number after the name."""
        name = self.ids.get(id(symbol))
        if name is None:
            plain = name = self.prefix + (_NAME.sub("-", symbol.name) or "symbol")
            number = 1
            while name in self.symbols and self.symbols[name] != symbol:
                number += 1
                name = f"{plain}-{number}"
            self.ids[id(symbol)] = name
            self.symbols.setdefault(name, symbol)
        return name


def _faces() -> str:
    return ", ".join(f"'{face}'" if " " in face else face for face in SANS)


def _ink(ink: Ink | None, round_it: Ink) -> str:
    """What is different from the ink round it, as attributes."""
    if ink is None:
        return ""
    out = ""
    if ink.fill is not None and ink.fill != round_it.fill:
        out += f" fill={quoteattr(ink.fill)}"
    if ink.stroke is not None and ink.stroke != round_it.stroke:
        out += f" stroke={quoteattr(ink.stroke)}"
    if ink.width_mm is not None and ink.width_mm != round_it.width_mm:
        out += f' stroke-width="{_n(ink.width_mm)}"'
    if ink.dash_mm is not None and ink.dash_mm != round_it.dash_mm:
        out += f' stroke-dasharray="{" ".join(map(_n, ink.dash_mm)) or NONE}"'
    if ink.cap is not None and ink.cap != round_it.cap:
        out += f' stroke-linecap="{ink.cap}"'
    if ink.join is not None and ink.join != round_it.join:
        out += f' stroke-linejoin="{ink.join}"'
    if ink.opacity is not None and ink.opacity != round_it.opacity:
        out += f' opacity="{ink.opacity:.3g}"'
    return out
