"""What ``explain`` tells of a mistake at the needles, and of the words for what looks odd.

In: the number of a mistake, such as E16, or the word "odd". Out: paragraphs. The findings of a pattern have
their pages in ``proof``.
"""

from __future__ import annotations

from purlwright.rescue.mistakes import KINDS
from purlwright.rescue.observe import ODD_MEANS

__all__ = ["mistake_page"]


def mistake_page(word: str) -> tuple[str, tuple[str, ...]] | None:
    """A title and paragraphs; None if there is no such mistake."""
    asked = word.strip().upper()
    if asked == "ODD":
        lines = tuple(f"{name}: {means}." for name, means in ODD_MEANS.items())
        return "odd: what may look odd", ("These are the words that --odd takes.", *lines)
    if asked == "E03":
        asked = "E01"
    kinds = [k for k in KINDS if k.code == asked]
    if not kinds:
        return None
    first = kinds[0]
    did = f"{first.did[:1].upper()}{first.did[1:]}."
    more = tuple(f"Or {k.did}." for k in kinds[1:])
    reach = (
        "It sits in one column: a ladder can reach it while the rows above are plain."
        if first.column
        else "It is more than one column: it is put right by working back, or let be."
    )
    if asked == "E01":
        reach = "Nothing needs mending. purlwright where names the row."
    cure = "purlwright rescue says where it was made, and which cures are safe at that row of your pattern."
    return f"{first.code}: {first.name}", (did, *more, reach, cure)
