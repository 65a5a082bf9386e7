"""Documents made by hand: every kind of block, and words that are hard on a page."""

from __future__ import annotations

from purlwright.drawing import Circle, Drawing, Ink, Line, Rect, Text
from purlwright.sheet.document import (
    Block,
    Caution,
    Cautions,
    Document,
    Fact,
    Facts,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Row,
    Run,
    Stamp,
    Table,
    Term,
    Words,
)

NASTY = (
    "# Not a heading = nor *this* _or_ $x^2$ `code` @ref <label> \\ // /* #let x = 1; #panic() ~ -- ...",
    "<script>alert('knit')</script> &amp; &lt; ]]>",
    "שלום, 12 stitches (ימין) and then مرحبا",
    "🧶 three balls ½ × 10 cm, 4″, k2tog↔ssk, e\u0301",
    "wool" * 2500,
)


def w(words: str, *, strong: bool = False, to: str = "") -> Words:
    return (Run(words, strong=strong, to=to),)


def chart(columns: int = 10, rows: int = 8, square_mm: float = 5) -> Drawing:
    """A grid with a ring here and there, and its row numbers."""
    shapes = []
    for x in range(columns + 1):
        at = 6 + x * square_mm
        shapes.append(Line(x1_mm=at, y1_mm=2, x2_mm=at, y2_mm=2 + rows * square_mm))
    for y in range(rows + 1):
        at = 2 + y * square_mm
        shapes.append(Line(x1_mm=6, y1_mm=at, x2_mm=6 + columns * square_mm, y2_mm=at))
        if y < rows:
            ring = ((3 * y) % columns + 0.5) * square_mm
            shapes.append(Circle(x_mm=6 + ring, y_mm=at + square_mm / 2, radius_mm=1.4))
            words = str(rows - y)
            shapes.append(Text(x_mm=1, y_mm=at + 3.6, words=words, size_mm=2.8))
    return Drawing(width_mm=8 + columns * square_mm, height_mm=4 + rows * square_mm, shapes=tuple(shapes))


def key() -> Drawing:
    square = Rect(x_mm=1, y_mm=1, width_mm=5, height_mm=5, ink=Ink(width_mm=0.2))
    words = Text(x_mm=9, y_mm=4.8, words="yarn over", size_mm=3.2)
    return Drawing(width_mm=32, height_mm=8, shapes=(square, words))


def rows(many: int, first: int = 1, words: str = "K2, *yo, k2tog; rep from * to end.", **also) -> list[Block]:
    return [
        Row(
            label=f"Row {n}",
            side="RS" if n % 2 else "WS",
            words=w(words if n % 2 else "Purl."),
            total=f"{20 + n} ({30 + n}, {40 + n}) sts",
            proved=n % 3 > 0,
            boxes=1,
            **also,
        )
        for n in range(first, first + many)
    ]


def every_block() -> Document:
    """One of each, in an order in which a sheet has them."""
    blocks: list[Block] = [
        Paragraph(words=w("A cowl of the Skerry Bay kind, worked from a cast-on to a graft.")),
        Heading(text="Materials", anchor="materials"),
        Facts(
            facts=(
                Fact(label="Yarn", words=w("wool, 200 m per 100 g; about 90 (115, 145) m")),
                Fact(label="Needles", words=w("4.5 mm, and a spare one for the graft")),
            )
        ),
        Heading(text="Sizes", anchor="sizes"),
        Table(
            caption="Measurements in cm",
            head=("", "child", "adult", "large"),
            rows=(("Round the head", "50", "54", "60"), ("Depth", "20", "23.5", "25.5")),
        ),
        Heading(text="What you will do"),
        Items(items=(w("knit in the round"), w("graft in garter stitch"))),
        Heading(text="Abbreviations"),
        Glossary(
            terms=(
                Term(term="k", meaning=w("knit"), anchor="term-k"),
                Term(term="k2tog", meaning=w("knit 2 together"), anchor="term-k2tog"),
                *(Term(term=f"m{n}", meaning=w(f"make {n}")) for n in range(1, 8)),
            )
        ),
        Heading(text="Body", anchor="body"),
        Row(label="", words=w("Cast on 36 (42, 46) sts."), total="36 (42, 46) sts", proved=True, boxes=1),
        Row(
            label="Row 1",
            side="RS",
            words=(Run("Knit to last 2 sts, "), Run("k2tog", to="term-k2tog"), Run(".")),
            total="35 (41, 45) sts",
            boxes=1,
            anchor="row-1",
        ),
        Row(label="Row 2", side="WS", words=w("Purl."), only="Size adult only", boxes=1, lifeline=True),
        Note(words=w("The edge rolls; it is meant to.")),
        Row(label="Rows 3-8", words=w("Rep rows 1 and 2 three times."), total="32 (38, 42) sts", boxes=6),
        Passes(
            words=w("Work rows 1-8 until 4 repeats are done."),
            first=1,
            last=4,
            counts=("32", "28", "24", "20"),
        ),
        Passes(words=w("Knit the band 3 times."), first=2, last=3),
        Heading(text="Chart", level=2),
        Figure(
            drawing=chart(),
            alternative="Chart of 10 stitches and 8 rows.",
            caption=w("Read right-side rows from the right."),
            beside=key(),
            beside_alternative="Key: an empty square, yarn over.",
            said=(w("Row 1: K5, yo, k4."), w("Row 2: Purl.")),
            anchor="chart",
        ),
        Heading(text="Take care"),
        Cautions(cautions=(Caution(words=w("No long ties on a baby's hat."), source="A standard, 2007"),)),
        Paragraph(words=w("Every row was knitted in all three sizes."), hers=False),
    ]
    return Document(
        title="Slipway Cowl",
        stamp=Stamp(name="Slipway Cowl", version="1.2", date="2026-11-27"),
        blocks=tuple(blocks),
        language="en-GB",
    )


def of(*blocks: Block, title: str = "Slipway Cowl", **also) -> Document:
    return Document(title=title, stamp=Stamp(name=title), blocks=blocks, **also)
