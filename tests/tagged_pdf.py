"""Reads a tagged PDF as assistive technology does: by its tag tree, not by where the words stand on the page.

``opened(bytes)`` gives the whole; a :class:`Tag` has its role, what it says, its alternative and its children,
in reading order. Words come from the content that each tag points at (ISO 32000-1:2008, 14.7 and 14.8).
"""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field

from pypdf import PdfReader
from pypdf.generic import ArrayObject, ContentStream, DictionaryObject, IndirectObject

POINT = 25.4 / 72
ONE = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass
class Tag:
    role: str
    alternative: str = ""
    own: str = ""
    """What it says itself, or with all below it: see ``said``."""
    parts: list[Tag | str] = field(default_factory=list)

    @property
    def said(self) -> str:
        return "".join(p if isinstance(p, str) else p.said for p in self.parts)

    @property
    def children(self) -> list[Tag]:
        return [p for p in self.parts if isinstance(p, Tag)]

    def all(self, *roles: str) -> list[Tag]:
        """Every tag of these roles, itself among them, in reading order."""
        found = [self] if not roles or self.role in roles else []
        return found + [t for child in self.children for t in child.all(*roles)]


@dataclass
class Opened:
    reader: PdfReader
    document: Tag
    pages: list[str]
    """All that is written on each page, also what no tag points at."""
    places: list[list[tuple[float, float, float]]]
    """Where each stretch of tagged words begins on each page, mm from the left and the lower edge, and the size
    of its letters in points.
    """

    @property
    def language(self) -> str:
        return str(self.reader.trailer["/Root"]["/Lang"])

    @property
    def title(self) -> str:
        return str(self.reader.metadata.title)

    @property
    def demands_ua(self) -> bool:
        """Whether the file says of itself that it keeps to PDF/UA-1."""
        data = self.reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
        return re.search(r'pdfuaid:part[>="\s]+1', data) is not None


def opened(raw: bytes) -> Opened:
    reader = PdfReader(io.BytesIO(raw))
    root = reader.trailer["/Root"]
    written = {page.indirect_reference.idnum: _written(page, reader) for page in reader.pages}
    words = {page: by_number for page, (by_number, _, _) in written.items()}
    tree = root["/StructTreeRoot"].get_object()
    tags = [_tag(kid, words, None) for kid in _kids(tree)]
    assert len(tags) == 1
    return Opened(
        reader, tags[0], [page for _, page, _ in written.values()], [at for _, _, at in written.values()]
    )


def _kids(item: DictionaryObject) -> list:
    kids = item.get("/K", [])
    kids = kids.get_object() if isinstance(kids, IndirectObject) else kids
    return list(kids) if isinstance(kids, ArrayObject | list) else [kids]


def _tag(item, words, page) -> Tag | str:
    item = item.get_object() if isinstance(item, IndirectObject) else item
    if isinstance(item, int):
        return words[page].get(int(item), "")
    page = item.raw_get("/Pg").idnum if "/Pg" in item else page
    if "/MCID" in item:
        return words[page].get(int(item["/MCID"]), "")
    if "/S" not in item:
        return ""  # a link's own place on the page
    tag = Tag(role=str(item["/S"])[1:], alternative=str(item.get("/Alt", "")))
    tag.parts = [_tag(kid, words, page) for kid in _kids(item)]
    return tag


def _written(page, reader: PdfReader) -> tuple[dict[int, str], str, list[tuple[float, float, float]]]:
    """What is written under each number on a page, all that is written on it, and where."""
    fonts = {name: _letters(font.get_object()) for name, font in page["/Resources"].get("/Font", {}).items()}
    by_number: dict[int, str] = {}
    everything = ""
    marks: list[tuple[int | None, str | None]] = []
    letters: dict[str, str] = {}
    places: list[tuple[float, float, float]] = []
    size = 0.0
    saved: list[tuple[float, ...]] = []
    now, text = ONE, ONE
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator in {b"BDC", b"BMC"}:
            given = operands[1] if len(operands) > 1 and isinstance(operands[1], DictionaryObject) else {}
            number = int(given["/MCID"]) if "/MCID" in given else None
            instead = str(given["/ActualText"]) if "/ActualText" in given else None
            marks.append((number, instead))
            said = instead or ""
        elif operator == b"q":
            saved.append(now)
            continue
        elif operator == b"Q":
            now = saved.pop()
            continue
        elif operator == b"cm":
            now = _moved(tuple(map(float, operands)), now)
            continue
        elif operator == b"Tm":
            text = tuple(map(float, operands))
            continue
        elif operator == b"EMC":
            marks.pop()
            continue
        elif operator == b"Tf":
            letters, size = fonts[operands[0]], float(operands[1])
            continue
        elif operator in {b"Tj", b"TJ"}:
            if any(instead is not None for _, instead in marks):
                continue
            strings = operands[0] if operator == b"TJ" else [operands[0]]
            said = "".join(_decoded(s, letters) for s in strings if not isinstance(s, int | float))
        else:
            continue
        everything += said
        for number, _ in reversed(marks):
            if number is not None:
                by_number[number] = by_number.get(number, "") + said
                if operator in {b"Tj", b"TJ"} and said.strip():
                    at = _moved(text, now)
                    places.append((at[4] * POINT, at[5] * POINT, size * abs(at[3])))
                break
    return by_number, everything, places


def _moved(inner: tuple[float, ...], outer: tuple[float, ...]) -> tuple[float, ...]:
    """One matrix after another (ISO 32000-1:2008, 8.3.4)."""
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _decoded(string, letters: dict[str, str]) -> str:
    raw = string.original_bytes.hex() if hasattr(string, "original_bytes") else bytes(string).hex()
    return "".join(letters.get(raw[at : at + 4], "?") for at in range(0, len(raw), 4))


def _letters(font) -> dict[str, str]:
    """From the number of a shape, in hex, to the letters it stands for."""
    table = font["/ToUnicode"].get_object().get_data().decode("latin-1")
    found: dict[str, str] = {}
    for part in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for shape, letters in re.findall(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]*)>", part):
            found[shape.lower()] = bytes.fromhex(letters).decode("utf-16-be")
    for part in re.findall(r"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for first, last, letters in re.findall(
            r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", part
        ):
            start = bytes.fromhex(letters).decode("utf-16-be")
            for n in range(int(last, 16) - int(first, 16) + 1):
                found[f"{int(first, 16) + n:04x}"] = start[:-1] + chr(ord(start[-1]) + n)
    return found
