"""The catalogue: every check that a technical editor makes, built or not yet.

In: nothing. Out: one :class:`Entry` a check: its number, its family, what holds when it holds, what it
is decided from, and what it counts. How a check is judged is left to the family modules.
Source: the questions that technical editors list and that published corrections show; our own wording.
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["CATALOGUE", "FAMILIES", "Entry"]

FAMILIES: dict[str, str] = {
    "A": "Stitch counts",
    "B": "Rows, rounds and sides",
    "C": "Turns and short rows",
    "D": "Repeats and brackets",
    "E": "Sizes",
    "F": "Gauge and measures",
    "G": "Fit and making up",
    "H": "Charts",
    "I": "Words and abbreviations",
    "J": "Order and completeness",
    "K": "Yarn and front matter",
    "L": "Access",
}


class Entry(NamedTuple):
    """One check: what it is called and what it needs."""

    check: str
    family: str
    needs: str
    """What it is decided from: "text", "gauge", "sizes" or "a person"."""
    noun: str
    """What it counts, for more than one."""
    title: str


# number, family, decided from, what is counted, what holds
_TABLE = """
C001 | A | text | rows | every row works exactly the stitches on the needle
C002 | A | text | totals | each printed total is the number on the needle
C003 | A | text | changes | each printed increase or decrease is the true change
C004 | A | text | places | a total stands wherever the count has just changed for good
C005 | A | text | totals | a total on a repeated row is true each time, or says when
C006 | A | text | places to stop | "to last 3 sts" and its like never ask for stitches that are not there
C007 | A | text | repeats | every repeat across comes out even each time the row is worked
C008 | A | text | repeated rows | a row that changes its own count still works when it is repeated
C009 | A | text | rows | increases and decreases "evenly" fit, and give the printed total
C010 | A | text | edges | bind-offs at an edge count the stitch left on the right needle one way throughout
C011 | A | text | bind-offs | bind-offs in steps, and the last one, take exactly the stitches that are left
C012 | A | text | divides | stitches held and stitches kept add up, and what is held is taken back once
C013 | A | text | joins | the parts and the new stitches add up to the total after a join
C014 | A | text | pick-ups | stitches picked up along an edge of stitches are as many as stand there
C015 | A | gauge | pick-ups | stitches picked up along row ends suit the number of rows
C016 | A | text | double overs | a double yarn over is worked as two, or one of its loops is let go
C017 | A | text | totals | slipped, dropped, wrapped and elongated stitches keep the count that is printed
C018 | A | text | special stitches | a special stitch takes and makes what its definition says
C019 | A | text | pieces | no loop is left live at the end
C020 | B | text | numbers | row numbers run on without a gap, a double or a step back
C021 | B | text | side labels | each RS or WS label is the side that faces when the row is reached
C022 | B | text | stops | "ending with a WS row" is where the count of rows ends
C023 | B | text | labels | flat work says row, work in the round says round
C024 | B | text | rounds | work in the round has no row on the wrong side
C025 | B | text | sections | each size reaches the next section on the same side
C026 | B | text | repeats | "times" and "times more" have one reading that the totals bear out
C027 | B | text | interruptions | a stitch pattern taken up again goes on with the right row
C028 | B | text | folds | folded brims, cuffs and collars show the public side
C029 | B | text | tubes | inside-out work says which face is public
C030 | B | text | rounds | the start of the round is moved wherever the pattern crosses it
C031 | C | text | turns | every turn leaves the stitches it says it leaves
C032 | C | text | turns | a series of turns steps evenly
C033 | C | text | turns | every turn is closed later, or the words say that it is left
C034 | C | text | gaps | a decrease that closes a gap takes one stitch from each side of it
C035 | C | text | turns | left and right short rows mirror each other
C036 | C | text | wedges | short rows end on the side where the next section begins
C037 | C | text | short rows | a short row never runs past a marker, an edge or an earlier turn unsaid
C038 | C | gauge | wedges | the height of a wedge is the drop on the drawing
C039 | D | text | brackets | every bracket and mark has its partner
C040 | D | text | stars | "rep from *" has one star to go back to
C041 | D | text | rows | commas and semicolons leave one way to read the row
C042 | D | text | repeats | no two yarn overs meet by accident where a repeat begins again
C043 | D | text | rhythms | "every 4th row" is counted the same way throughout
C044 | E | sizes | lists | every list of sizes has one entry for each size
C045 | E | sizes | lists | lists run from small to large
C046 | E | sizes | lists | no size steps out of line with its neighbours
C047 | E | sizes | numbers | no single number stands where sizes need different ones
C048 | E | sizes | limits | every size knows what to do where words are for some sizes only
C049 | E | sizes | sizes | every size can be worked to the end
C050 | E | sizes | sizes | finished sizes are told apart from body sizes, and ease is given
C051 | E | sizes | sizes | every size has its measurements, yarn and notions
C052 | E | sizes | pairs | the halves of a pair agree in every size
C053 | F | gauge | widths | stitches at the gauge give each stated width
C054 | F | gauge | lengths | rows at the gauge give each stated length
C055 | F | gauge | gauges | the gauge is possible with this yarn and needle
C056 | F | gauge | gauges | the gauge names its fabric and needle, flat or round, washed or not
C057 | F | gauge | lengths | "until piece measures" can be reached with the shaping still to come
C058 | F | gauge | shapings | shaping fits the rows there are
C059 | F | gauge | measures | inches and centimetres are paired by one ratio and rounded alike
C060 | F | gauge | measures | every measure can be read on a ruler
C061 | F | gauge | edges | edges that stretch say stretched or at rest
C062 | F | gauge | measures | text, table and drawing give the same numbers
C063 | F | gauge | depths | yoke, armhole and crown are as deep by rows as drawn
C064 | F | gauge | edges | slanted edges are as long as drawn
C065 | G | sizes | openings | the opening passes the head
C066 | G | sizes | pieces | the piece fits round the body at rest and stretched
C067 | G | sizes | sleeves | the upper sleeve fits the arm
C068 | G | sizes | sleeves | the sleeve cap is as long as its armhole
C069 | G | sizes | underarms | sleeve and body agree at the underarm
C070 | G | sizes | raglans | the two sides of a raglan line have the same rows
C071 | G | sizes | yokes | every decrease round of a yoke keeps the motif whole
C072 | G | sizes | seams | seams join edges of one length
C073 | G | sizes | shoulders | front and back meet at the shoulder
C074 | G | sizes | armholes | armholes deepen less than the chest widens
C075 | G | sizes | bands | button bands lie flat and buttonholes are spaced evenly
C076 | G | sizes | openings | pockets, slits, heel and thumb sit where the body is
C077 | G | sizes | socks | heel, gusset and toe come back to the foot
C078 | G | sizes | gloves | fingers add up to the hand
C079 | G | sizes | pairs | left and right differ where they must
C080 | H | text | chart rows | chart and words give the same stitches
C081 | H | text | chart rows | each chart row takes the stitches that the row below made
C082 | H | text | charts | the repeat outline tiles, first, middle and last
C083 | H | text | charts | an outline that moves keeps its stitches
C084 | H | text | symbols | every symbol is in the key, and every key entry drawn
C085 | H | text | chart rows | row numbers stand where the row starts
C086 | H | text | rows | rows that mirror about their centre do so throughout, leans and crossings too
C087 | H | text | rows | a row keeps the rule of its neighbours: holes in line, each with its decrease
C088 | H | text | crossings | crossings fill their squares and do not cross the outline
C089 | H | text | charts | colours are listed, and floats are short enough
C090 | H | text | charts | chart rows times repeats are the rows of the words
C091 | H | text | charts | each size starts and ends on the right column
C092 | H | a person | charts | the chart gives the fabric in the photograph
C093 | I | text | abbreviations | abbreviations used are explained, those explained are used, in one form
C094 | I | text | definitions | each definition says how to slip, where the yarn is, which leg, which lean
C095 | I | text | words | increase, decrease, slip and cast on say which kind where it matters
C096 | I | text | words | one English throughout
C097 | I | text | letters | letters for colours and markers mean one thing
C098 | I | text | references | "as established" has one thing to go back to
C099 | I | text | references | "reverse shaping" is written out
C100 | I | text | numbers | numbers beside numbers can be told apart
C101 | I | text | lines | one house style
C102 | I | text | lines | spelling, and no leftovers from another pattern
C103 | I | text | references | pages, charts and sections referred to are there
C104 | J | text | instructions | each instruction is given before it is needed
C105 | J | text | overlaps | what happens at the same time does not collide
C106 | J | text | notions | what is used is listed, what is listed is used
C107 | J | text | needles | needle changes are called for, and the stitches fit the needle
C108 | J | text | markers | markers are placed once, known by name, and not used before they are placed
C109 | J | text | yarns | breaking, joining and carrying yarn is said
C110 | J | text | divides | where the yarn hangs after a divide is said
C111 | J | text | pieces | as many pieces are made as are used
C112 | J | text | joins | seams, grafts and pick-ups can be done in this order
C113 | J | text | rows | a rule for the first stitch holds in every row
C114 | J | text | rows | edge stitches are counted, or not, throughout
C115 | J | text | pieces | finishing says what to weave in, block and sew
C116 | K | gauge | yarns | there is enough yarn for each size and colour
C117 | K | gauge | yarns | balls, lengths and weights agree
C118 | K | text | yarns | fibre, weight, length, amount and colour of each yarn are given
C119 | K | text | needles | needle sizes agree in all systems
C120 | K | text | skills | the level agrees with the techniques
C121 | K | text | marks | rights, contact, version and date stand on the sheet
C122 | K | a person | photographs | the photograph shows the stated size, whole
C123 | K | a person | pages | the words are clear and kind
C124 | K | a person | pieces | the piece is what the designer means
C125 | L | text | charts | charts are told in words that can be followed
C126 | L | text | symbols | no meaning hangs on colour alone
C127 | L | text | lines | the plain-text sheet gives the same knitting
C128 | L | text | pictures | pictures have words in their place
C129 | L | text | pages | page headers and footers hold no instructions
"""


def _read_table() -> dict[str, Entry]:
    entries = (Entry(*(cell.strip() for cell in row.split("|", 4))) for row in _TABLE.strip().splitlines())
    return {e.check: e for e in entries}


CATALOGUE: dict[str, Entry] = _read_table()
