"""Sheets written by hand, for the tests of the outputs: every kind of block, and words that try to break out."""

from base64 import b64decode

from purlwright.drawing import Circle, Drawing, Group, Ink, Line, Rect, Text
from purlwright.sheet.document import (
    Caution,
    Cautions,
    Document,
    Fact,
    Facts,
    Figure,
    FollowAlong,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Photo,
    Row,
    Run,
    Stamp,
    Step,
    Table,
    Term,
)

PNG = b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg=="
)
NASTY = "#1 $5 <script>alert('x')</script> &amp; \"quoted\" {braces} שלום עולם 🧶 \x00\x1b ]]> --> </style>"


def words(text, **kind):
    return (Run(text, **kind),)


def squares(columns, rows):
    """A drawing with so many squares of 5 mm, every third one with a sign in it."""
    shapes = []
    for row in range(rows):
        for column in range(columns):
            shapes.append(Rect(x_mm=column * 5, y_mm=row * 5, width_mm=5, height_mm=5))
            if (row + column) % 3 == 0:
                shapes.append(Circle(x_mm=column * 5 + 2.5, y_mm=row * 5 + 2.5, radius_mm=1.2))
    return Drawing(
        width_mm=columns * 5 + 1,
        height_mm=rows * 5 + 1,
        shapes=(Group(shapes=tuple(shapes), x_mm=0.5, y_mm=0.5),),
    )


KEY = Drawing(
    width_mm=44,
    height_mm=16,
    shapes=(
        Rect(x_mm=1, y_mm=1, width_mm=5, height_mm=5),
        Text(x_mm=9, y_mm=5, words="knit", size_mm=4),
        Rect(x_mm=1, y_mm=9, width_mm=5, height_mm=5),
        Circle(x_mm=3.5, y_mm=11.5, radius_mm=1.2, ink=Ink(width_mm=0.4)),
        Text(x_mm=9, y_mm=13, words="yarn over", size_mm=4),
    ),
)
OUTLINE = Drawing(
    width_mm=70,
    height_mm=50,
    shapes=(
        Rect(x_mm=8, y_mm=4, width_mm=58, height_mm=36),
        Line(x1_mm=8, y1_mm=45, x2_mm=66, y2_mm=45),
        Text(x_mm=37, y_mm=49.5, words="21.5 cm", size_mm=4, anchor="middle"),
    ),
)


def steps(wedges=3, cast_on=36, section="Wedge"):
    """The rows of a few short-row wedges, as a hat knitted sideways has them."""
    out = [
        Step(
            section=section,
            piece="",
            kind="cast-on",
            label="Cast-on",
            side="",
            words=words(f"Cast on {cast_on} sts provisionally."),
            in_full=f"Cast on {cast_on} stitches provisionally.",
            before=0,
            after=cast_on,
        )
    ]
    for wedge in range(1, wedges + 1):
        for row in range(1, 5):
            even = row % 2 == 0
            out.append(
                Step(
                    section=section,
                    piece="",
                    kind="row",
                    label=f"Row {row}",
                    side="WS" if even else "RS",
                    words=words("Knit to last 4 sts, w&t." if row == 2 else "Knit."),
                    in_full="Knit to the last 4 stitches, wrap the next stitch and turn."
                    if row == 2
                    else "Knit.",
                    before=cast_on,
                    after=cast_on,
                    unworked=4 if row == 2 else 0,
                    look_for="a little step at the turn" if row == 3 else "",
                    note="In garter stitch a wrap hides under its own ridge." if row == 4 else "",
                    pass_=wedge,
                    passes=wedges,
                )
            )
    out.append(
        Step(
            section="Finishing",
            piece="",
            kind="bind-off",
            label="Bind-off",
            side="RS",
            words=words("Bind off."),
            in_full="Bind off.",
            before=cast_on,
            after=0,
        )
    )
    return tuple(out)


def hat(sizes=("child", "adult")):
    """Every kind of block once, in the order of a good sheet."""
    rows = [
        Row(
            label=f"Row {n}",
            side="RS" if n % 2 else "WS",
            words=(Run("Knit to last 4 sts, "), Run("w&t", to="term-wt"), Run("."))
            if n == 2
            else words("Knit to end."),
            total="36 (42, 46) sts" if n == 4 else "",
            boxes=1,
            lifeline=n == 4,
            anchor=f"wedge-{n}",
        )
        for n in range(1, 5)
    ]
    blocks = (
        Paragraph(
            words=words("A garter-stitch hat knitted sideways, from a provisional cast-on to a graft.")
        ),
        Photo(name="hat.png", data=PNG, alternative="The hat on a stone, seen from the side."),
        Heading(text="Materials", anchor="materials"),
        Facts(
            facts=(
                Fact(label="Yarn", words=words("MC, wool, 4 Medium, 200 m per 100 g; about 90 (115, 145) m")),
                Fact(label="Needles", words=words("4.5 mm, and a spare one for the graft")),
            )
        ),
        Heading(text="Sizes", level=2, anchor="sizes"),
        Table(
            caption="Sizes, in cm",
            head=("", "child", "adult", "large"),
            rows=(("To fit head", "50", "54", "60"), ("Round the brim", "46.5", "50", "56.5")),
        ),
        Heading(text="Skills", level=2, anchor="skills"),
        Items(items=(words("provisional cast-on"), words("short rows"), words("grafting in garter stitch"))),
        Heading(text="Abbreviations", anchor="abbreviations"),
        Glossary(
            terms=(
                Term(
                    term="w&t",
                    meaning=words("wrap and turn: bring the yarn to the front, slip the next stitch."),
                    anchor="term-wt",
                ),
                Term(term="RS, WS", meaning=words("right side, wrong side"), anchor="term-rs"),
            )
        ),
        Heading(text="Wedge", anchor="wedge"),
        Row(
            label="",
            words=words("Cast on 36 (42, 46) sts provisionally."),
            total="36 (42, 46) sts",
            proved=True,
            anchor="wedge-0",
        ),
        *rows[:3],
        Note(words=words("The wedge is widest at the brim: that edge gets every row.")),
        *rows[3:],
        Row(label="Rows 5-10", words=words("Rep rows 3 and 4 three times."), boxes=6, only="Size adult only"),
        Passes(
            words=words("Repeat rows 1-12 until 13 wedges are done."),
            first=2,
            last=13,
            counts=tuple(f"{36 + n} sts" for n in range(13)),
        ),
        Heading(text="Chart", anchor="chart"),
        Figure(
            drawing=squares(12, 8),
            alternative="Chart of 12 stitches and 8 rows.",
            caption=words("The lace of the brim."),
            beside=KEY,
            beside_alternative="Key: an empty square is knit, a ring is a yarn over.",
            said=(words("Row 1, right side: knit 3, yarn over."), words("Row 2, wrong side: purl.")),
            anchor="figure-lace",
        ),
        Figure(
            drawing=squares(40, 6),
            alternative="A wide chart of 40 stitches and 6 rows.",
            caption=words("The whole round."),
        ),
        Figure(drawing=OUTLINE, alternative="A rectangle 21.5 cm wide.", caption=words("Before the graft.")),
        Heading(text="Finishing", anchor="finishing"),
        Paragraph(
            words=(
                Run("Graft", strong=True),
                Run(" the live sts to the cast-on sts; see "),
                Run("the wedge", to="wedge"),
                Run("."),
            )
        ),
        Heading(text="Cautions", level=2, anchor="cautions"),
        Cautions(
            cautions=(
                Caution(
                    words=words("Cords at the neck of a child's garment can catch."), source="EN 14682:2014"
                ),
            )
        ),
        Paragraph(words=words("Knitted in 6 ways by Purlwright; every count above was proved."), hers=False),
    )
    follow = tuple(
        FollowAlong(size=size, options=(("turns", "wrapped"),), steps=steps(cast_on=36 + 6 * n))
        for n, size in enumerate(sizes)
    )
    return Document(
        title="Skerry Hat",
        stamp=Stamp(name="Ailsa of Skerry Bay", version="1.2", date="3 May 2026"),
        blocks=blocks,
        follow=follow,
    )


def nasty():
    """Words that are printed as they are written, wherever they stand, and one of 10,000 letters."""
    long = "w" * 10_000
    return Document(
        title=NASTY,
        stamp=Stamp(name=NASTY, version=NASTY, date=NASTY, size=NASTY),
        blocks=(
            Paragraph(words=words(NASTY)),
            Heading(text=NASTY, level=3, anchor='a "b" <c>'),
            Note(words=words(long)),
            Items(items=(words(NASTY),)),
            Facts(facts=(Fact(label=NASTY, words=words(NASTY)),)),
            Table(caption=NASTY, head=(NASTY, NASTY), rows=((NASTY, long),)),
            Glossary(terms=(Term(term=NASTY, meaning=words(NASTY), anchor=NASTY),)),
            Heading(text=NASTY),
            Row(
                label=NASTY,
                words=(Run(NASTY, to=NASTY), Run("nowhere", to="nowhere")),
                total=NASTY,
                only=NASTY,
                boxes=3,
                anchor="x y",
            ),
            Passes(words=words(NASTY), first=2, last=3, counts=(NASTY, NASTY)),
            Figure(drawing=KEY, alternative=NASTY, caption=words(NASTY), said=(words(NASTY),)),
            Photo(name=NASTY, data=PNG, alternative=NASTY),
            Cautions(cautions=(Caution(words=words(NASTY), source=NASTY),)),
        ),
        follow=(
            FollowAlong(
                size=NASTY,
                options=((NASTY, NASTY),),
                steps=(
                    Step(
                        section=NASTY,
                        piece=NASTY,
                        kind="row",
                        label=NASTY,
                        side="RS",
                        words=words(NASTY),
                        in_full=long,
                        before=1,
                        after=1,
                        look_for=NASTY,
                        note=NASTY,
                    ),
                    Step(
                        section=NASTY,
                        piece="",
                        kind="row",
                        label="",
                        side="",
                        words=words("Knit."),
                        in_full="Knit.",
                        before=1,
                        after=2,
                    ),
                ),
            ),
        ),
    )
