"""What stands first on the web page: a picture beside the words; and tables whose heads are long."""

from markup import read
from purlwright.drawing import Drawing, Rect
from purlwright.sheet.document import Figure, Heading, Paragraph, Table
from purlwright.sheet.out.html import to_html
from sheets import of, w

PICTURE = Figure(
    drawing=Drawing(width_mm=40, height_mm=30, shapes=(Rect(x_mm=0, y_mm=0, width_mm=40, height_mm=30),)),
    alternative="A hat, seen a little from above.",
)
SKILLS = Heading(text="Skills")


def test_a_picture_stands_beside_what_the_piece_is():
    page = read(to_html(of(Paragraph(words=w("A hat for the ferry.")), PICTURE, SKILLS)))
    (front,) = page.all("div", class_="front")
    assert "A hat for the ferry." in front.text
    assert len(list(front.all("svg"))) == 1
    assert len(list(page.all("svg"))) == 1


def test_without_one_the_words_stand_alone():
    page = read(to_html(of(Paragraph(words=w("A hat for the ferry.")), SKILLS, PICTURE)))
    assert not list(page.all("div", class_="front"))
    assert len(list(page.all("svg"))) == 1


def test_a_table_with_long_heads_is_turned():
    long = ("Size", "Finished size: round the brim, unstretched", "Finished size: from brim to crown")
    table = Table(
        caption="Size by size", head=long, rows=(("child", "46 cm", "20 cm"), ("adult", "50 cm", "23 cm"))
    )
    page = read(to_html(of(SKILLS, table)))
    heads = [cell.text for cell in page.all("th", scope="col")]
    assert heads == ["Size", "child", "adult"]
    assert [cell.text for cell in page.all("th", scope="row")] == list(long[1:])
    short = Table(
        caption="Size by size", head=("Size", "Round"), rows=(("child", "46 cm"), ("adult", "50 cm"))
    )
    page = read(to_html(of(SKILLS, short)))
    assert [cell.text for cell in page.all("th", scope="col")] == ["Size", "Round"]
