"""What the bench tells of one row, of one word, of the whole cloth and of the pages that can be made.

In: nothing; ``bench`` fills it. Out: msgspec structs whose field names are the contract with the page.
Places are UTF-16 units.
"""

from __future__ import annotations

from msgspec import Struct, field

from purlwright.wire.bench import BenchRowOut, MarkOut

__all__ = [
    "AtIn",
    "BenchClueOut",
    "BenchCluesOut",
    "BlockOut",
    "ClothArrayOut",
    "ClothHeadOut",
    "ClothIn",
    "ClothPartOut",
    "CompleteOut",
    "DrawingOut",
    "ExplainOut",
    "ExportIn",
    "ExtraIn",
    "FigureOut",
    "HereOut",
    "HoverOut",
    "LoopsOut",
    "NeedlesOut",
    "NoExportOut",
    "OfferOut",
    "PageIn",
    "PageMadeOut",
    "PasteIn",
    "PasteOut",
    "PutRightOut",
    "RowIn",
    "RowToldOut",
    "ShownBeatOut",
    "ShownRowOut",
    "SpanIn",
    "StitchesOut",
    "ViewOut",
]


# --- a place in the words ----------------------------------------------------------------------------


class AtIn(Struct, frozen=True, kw_only=True):
    """A place in a text."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    at: int


class OfferOut(Struct, frozen=True, kw_only=True):
    """Words that could stand here."""

    words: str
    told: str
    """What they mean, in a few words."""
    kind: str
    """"stitch", "own stitch", "marker", "section", "place", "repeat" or "header"."""
    takes: int | None
    """Loops it takes off the left needle, where that is fixed."""
    fits: bool | None
    """Whether so many stitches remain; null where that is not known."""


class HereOut(Struct, frozen=True, kw_only=True):
    """What the needles hold where the caret stands, the first time this row is worked."""

    row: str
    sts_remain: int
    worked: int
    side: str | None
    marker: str | None
    """The next marker, "" if it has no name; null where none is met any more in this row."""
    to_marker: int | None
    words: str
    """The same in one sentence."""


class CompleteOut(Struct, frozen=True, kw_only=True):
    """What could stand here: words to put in place of a stretch."""

    from_: int = field(name="from")
    to: int
    offers: list[OfferOut]
    here: HereOut | None


class HoverOut(Struct, frozen=True, kw_only=True):
    """What a word means."""

    from_: int = field(name="from")
    to: int
    name: str
    told: str
    takes: int | None
    gives: int | None
    also: list[str]
    """Other spellings of it."""
    source: str | None


class BlockOut(Struct, frozen=True, kw_only=True):
    """A paragraph, or a piece of a pattern to be shown as it is written."""

    kind: str
    """"text", "head" or "pattern"."""
    text: str


class ExplainOut(Struct, frozen=True, kw_only=True):
    """What a finding or a check means."""

    title: str
    code: str
    check: str | None
    blocks: list[BlockOut]


# --- a row ----------------------------------------------------------------------------------------------


class RowIn(Struct, frozen=True, kw_only=True):
    """A row of the ledger."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    order: int
    left_handed: bool = False


class LoopsOut(Struct, frozen=True, kw_only=True):
    """Loops of one look, side by side. ``look`` is "V", "bump", "over", or "" where it is not known."""

    count: int
    look: str


class NeedlesOut(Struct, frozen=True, kw_only=True):
    """The loops on the needles at one moment, each list from the tips outwards."""

    left: list[LoopsOut]
    right: list[LoopsOut]


class ShownBeatOut(Struct, frozen=True, kw_only=True):
    """One stitch, or the turn at the end: what leaves the left needle and what comes onto the right one."""

    words: str
    takes: int
    makes: list[str]
    yarn: str
    """Where the working yarn lies: "front", "back" or "over"."""
    does: str
    """"work", "slip", "cross", "close" or "turn"."""


class ShownRowOut(Struct, frozen=True, kw_only=True):
    """A row stitch by stitch. ``left`` are the looks of the loops on the left needle, the next first."""

    left: list[str]
    behind: int
    """How many lie on the right needle already, because the row begins at a turn."""
    beats: list[ShownBeatOut]
    after: int


class RowToldOut(Struct, frozen=True, kw_only=True):
    """All there is to know of one row. What is null could not be made; ``why`` says why."""

    version: int
    order: int
    words: str
    words_full: str
    look_for: str
    """One true thing to see when it is done; "" where there is none."""
    ledger: BenchRowOut
    markers: list[int]
    """Before how many stitches of the next row each marker hangs."""
    before: NeedlesOut | None
    after: NeedlesOut | None
    frames: ShownRowOut | None
    close_up: str | None
    chart_line: str | None
    why: list[str]


class BenchClueOut(Struct, frozen=True, kw_only=True):
    """One true thing that keeps a knitter on the path."""

    words: str
    rows: str
    stops: str | None
    orders: list[int]
    touch: bool
    tells_row: bool


class BenchCluesOut(Struct, frozen=True, kw_only=True):
    """What to see, count or feel in the section of a row, those that hold for the row itself first."""

    version: int
    order: int
    here: list[BenchClueOut]
    section: list[BenchClueOut]


# --- the cloth --------------------------------------------------------------------------------------------


class ClothIn(Struct, frozen=True, kw_only=True):
    """Which cloth, lying how, and how far it is to settle."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    lies: str = "free"
    """"free", "blocked" or "pressed"."""
    level: str = "settled"
    """"quick": nearly in its shape, for a first look; "settled": in the shape that it takes."""


class FigureOut(Struct, frozen=True, kw_only=True):
    """A length and how far it may be off."""

    of: str
    mm: float
    least: float
    most: float


class ClothPartOut(Struct, frozen=True, kw_only=True):
    """One piece: how it lies and what it measures."""

    name: str
    lies: str
    told: list[str]
    figures: list[FigureOut]


class ClothArrayOut(Struct, frozen=True, kw_only=True):
    """An array that follows the header: little-endian, from ``offset`` bytes after its end."""

    name: str
    dtype: str
    shape: list[int]
    offset: int


class ViewOut(Struct, frozen=True, kw_only=True):
    """How the thing is looked at, as it stands or is worn: the ways to the eye and up, each of length 1."""

    front: list[float]
    up: list[float]


class ClothHeadOut(Struct, frozen=True, kw_only=True):
    """The header of a cloth: what the arrays after it are, and what is told beside the picture."""

    version: int
    n: int
    level: str
    lies: str
    size: str
    options: dict[str, str]
    colours: list[str]
    yarns: list[str]
    stitch_mm: float
    row_mm: float
    box_mm: list[list[float]]
    """The least and the greatest of x, y and z."""
    view: ViewOut | None
    """Null for what is flat, which is looked at from its right side."""
    told: list[ClothPartOut]
    said: list[str]
    """What of the size is stated, assumed or taken by a rule of thumb."""
    arrays: list[ClothArrayOut]


class SpanIn(Struct, frozen=True, kw_only=True):
    """A stretch of the words, whose stitches are asked for."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    from_: int = field(name="from")
    to: int


class StitchesOut(Struct, frozen=True, kw_only=True):
    """Stitches by their number, as runs from the first to the last, both in it."""

    version: int
    stitches: list[tuple[int, int]]
    many: int


# --- pages, exports, pasted text --------------------------------------------------------------------------


class ExtraIn(Struct, frozen=True, kw_only=True):
    """How a sheet or lesson is wanted."""

    terms: str = ""
    units: str = ""
    left_handed: bool = False
    unproved: bool = False
    counts: bool = False
    section: str = ""
    minutes: int = 0
    learners: int = 0


class PageIn(Struct, frozen=True, kw_only=True):
    """A page to be looked at."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    page: str
    """"sheet", "follow", "chart", "lesson" or "report"."""
    extra: ExtraIn = ExtraIn()


class DrawingOut(Struct, frozen=True, kw_only=True):
    """A chart as a drawing whose squares name their words, and its rows in words."""

    title: str
    svg: str
    words: list[str]


class PageMadeOut(Struct, frozen=True, kw_only=True):
    """Where the page is fetched, for a frame of its own; or drawings, where the page shows them itself."""

    version: int
    url: str | None
    title: str
    said: list[str]
    drawings: list[DrawingOut]


class ExportIn(Struct, frozen=True, kw_only=True):
    """A file to be taken away."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    what: str
    as_: str = field(name="as")
    extra: ExtraIn = ExtraIn()


class NoExportOut(Struct, frozen=True, kw_only=True):
    """Why there is no file, and the findings that stand in its way."""

    message: str
    findings: list[MarkOut]


class PasteIn(Struct, frozen=True, kw_only=True):
    """Text from a word processor, a web page or a PDF."""

    text: str


class PutRightOut(Struct, frozen=True, kw_only=True):
    """One thing that was put right: where it now stands in the new text, and what stood there."""

    from_: int = field(name="from")
    to: int
    before: str
    after: str
    why: str


class PasteOut(Struct, frozen=True, kw_only=True):
    """The text put right."""

    text: str
    changes: list[PutRightOut]
    told: list[str]
    """How often each sort of thing was put right, in a sentence each."""
