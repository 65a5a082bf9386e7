"""The typefaces that travel with the package: where they are, and which letters they have.

In: words. Out: the same words, with a sign for each letter that none of the faces has. Nothing is looked for
on the machine, so that a sheet looks the same everywhere.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from importlib import resources
from pathlib import Path
from struct import unpack_from
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typst import Fonts

__all__ = ["MISSING", "TEXT_FACES", "clusters", "in_face", "legible", "missing", "spoken", "typst_fonts"]

TEXT_FACES = {
    "Atkinson Hyperlegible Next": "AtkinsonHyperlegibleNext-Regular.ttf",
    "DejaVu Sans": "DejaVuSans.ttf",
    "Noto Emoji": "NotoEmoji-Regular.ttf",
}
"""The faces that words are set in; each is asked for the letters that those before it have not."""

MISSING = "\u25a1"
"""Stands for a letter that no face has."""


def _folder() -> Path:
    return Path(str(resources.files("purlwright.sheet"))) / "fonts"


@cache
def typst_fonts() -> Fonts:
    """The faces as Typst takes them; none of the machine's own is among them."""
    import typst  # loads a compiler; only a print needs it

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(_folder())])


def spoken(tag: str) -> tuple[str, str | None]:
    """A language tag (BCP 47) as Typst takes it: the language, and the country if it names one."""
    language, *rest = tag.split("-")
    country = next((part for part in rest if re.fullmatch("[A-Za-z]{2}", part)), None)
    return (language.lower() if re.fullmatch("[A-Za-z]{2,3}", language) else "en"), country


def legible(words: str) -> str:
    """The words with :data:`MISSING` for each letter that no face has; what no page can show is taken out."""
    if words.isascii() and words.isprintable():
        return words
    return "".join(cluster if face else MISSING for cluster, face in _faced(_printable(words)))


def missing(words: str) -> tuple[str, ...]:
    """The letters that no face has, each once, in the order in which they are met."""
    if words.isascii():
        return ()
    return tuple(dict.fromkeys(c for c, face in _faced(_printable(words)) if not face))


def in_face(words: str) -> Iterator[tuple[str, str]]:
    """The words cut where the face changes, with the name of the face of each stretch."""
    held, name = "", ""
    for cluster, face in _faced(legible(words)):
        if held and face != name:
            yield held, name
            held = ""
        held, name = held + cluster, face
    if held:
        yield held, name


_BLANKS = "\n\r\t\v\f\x85\u2028\u2029"
_NOT_ON_PAPER = {"Cc", "Cs"}
_PREPENDED = {*range(0x600, 0x606), 0x6DD, 0x70F, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD}
"""Format characters that are seen. Source: Unicode 16.0, PropList.txt, Prepended_Concatenation_Mark."""


def _printable(words: str) -> str:
    """Line ends and tabs become blanks; other signs that stand for no letter become the replacement sign."""
    return "".join(map(_shown, words))


def _shown(c: str) -> str:
    if c in _BLANKS:
        return " "
    if c == "\ufeff":  # no page may hold it
        return ""
    return "\ufffd" if unicodedata.category(c) in _NOT_ON_PAPER else c


def _faced(words: str) -> Iterator[tuple[str, str]]:
    """Each letter with the marks on it, and the first face that has all of them; "" if none has.

    Marks that stand on a letter which no one face has together with them are given by themselves.
    """
    for cluster in clusters(words):
        face = _face(cluster)
        if face or len(cluster) == 1:
            yield cluster, face
        else:
            yield from ((c, _face(c) if not _joins(c) else "") for c in cluster)


def clusters(words: str) -> Iterator[str]:
    """The words letter by letter, each with the marks on it."""
    held = ""
    for c in words:
        if held and not (_joins(c) or held[-1] == "\u200d"):
            yield held
            held = ""
        held += c
    if held:
        yield held


def _joins(c: str) -> bool:
    """A mark on the letter before it, a joiner, or a sign that changes how that letter looks."""
    return unicodedata.category(c) in {"Mn", "Me", "Mc"} or c == "\u200d" or "\U0001f3fb" <= c <= "\U0001f3ff"


def _face(cluster: str) -> str:
    composed = unicodedata.normalize("NFC", cluster)
    for name, file in TEXT_FACES.items():
        has = _letters(file)
        if all(ord(c) in has or _unseen(c) for c in composed):
            return name
    return ""


def _unseen(c: str) -> bool:
    """A joiner, a direction mark, or a sign that chooses how the letter before it looks."""
    if "\ufe00" <= c <= "\ufe0f":
        return True
    return unicodedata.category(c) == "Cf" and ord(c) not in _PREPENDED


@cache
def _letters(file: str) -> frozenset[int]:
    """The code points that a face has a shape for.

    Source: the table "cmap", formats 4 and 12, of the OpenType specification 1.9.
    """
    font = (_folder() / file).read_bytes()
    heads = range(12, 12 + 16 * _u16(font, 4), 16)
    tables = {font[at : at + 4]: unpack_from(">II", font, at + 8) for at in heads}
    start = tables[b"cmap"][0]
    found: set[int] = set()
    for at in range(start + 4, start + 4 + 8 * _u16(font, start + 2), 8):
        part = start + int(unpack_from(">I", font, at + 4)[0])
        if _u16(font, part) == 4:
            found.update(_segments(font, part))
        elif _u16(font, part) == 12:
            groups = int(unpack_from(">I", font, part + 12)[0])
            for n in range(groups):
                first, last, _ = unpack_from(">III", font, part + 16 + 12 * n)
                found.update(range(first, last + 1))
    return frozenset(found)


def _u16(font: bytes, at: int) -> int:
    return int(unpack_from(">H", font, at)[0])


def _segments(font: bytes, part: int) -> Iterator[int]:
    """Format 4: stretches of code points; within one, a letter may still have no shape (number 0)."""
    many = _u16(font, part + 6) // 2
    ends, starts = part + 14, part + 16 + 2 * many
    deltas, offsets = starts + 2 * many, starts + 4 * many
    for n in range(many):
        last, first = _u16(font, ends + 2 * n), _u16(font, starts + 2 * n)
        delta, offset = _u16(font, deltas + 2 * n), _u16(font, offsets + 2 * n)
        for code in range(first, min(last, 0xFFFE) + 1):
            shape = _u16(font, offsets + 2 * n + offset + 2 * (code - first)) if offset else code
            if shape and (shape + delta) % 0x10000:
                yield code
