"""K27: the few things which together are so after one row only of those that are repeated."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import LOOK, few
from purlwright.lesson.facts import Fact, Value, read
from purlwright.lesson.rows import Part, Row, label_of
from purlwright.proof.said import and_list

KIND = "K27"
_FACTS = (Fact("side"), Fact("kinds"), Fact("yarns"), Fact("waiting"), Fact("first hole"), Fact("faces"))
_SAID = {
    "side": "the side that faces you",
    "kinds": "what the last row holds",
    "yarns": "the colour",
    "waiting": "the stitches beyond the turn",
    "first hole": "where the first hole stands",
    "faces": "how the stitches sit on those below",
}


def find(part: Part) -> Iterator[Clue]:
    """The smallest set of facts that tells all the rows of a repeat apart, each time it is worked."""
    labels = part.labels
    if not 3 <= len(labels) <= 24 or len(part.rows) < 2 * len(labels) or "" in labels:
        return
    for many in (1, 2, 3):
        for facts in combinations(_FACTS, many):
            if _tells(labels, facts):
                shown = next(iter(labels.values()))[0]
                names = and_list([_SAID[f.name] for f in facts])
                see = f"{names[0].upper()}{names[1:]}"
                together = " together tell" if many > 1 else " tells"
                yield Clue(
                    kind=KIND,
                    words=f"{see}{together} which {part.what} of the repeat you have just done "
                    f"({_first(part)} to {_last(part)}).",
                    claims=tuple(claim(f, part.rows) for f in facts),
                    rows=f"every {part.what} of this part",
                    seconds=LOOK * many + few(shown.seen.waiting),
                    tells_row=True,
                )
                return


def _tells(labels: dict[str, list[Row]], facts: tuple[Fact, ...]) -> bool:
    met: dict[tuple[Value, ...], str] = {}
    for label, rows in labels.items():
        for r in rows:
            key = tuple(read(f, r) for f in facts)
            if met.setdefault(key, label) != label:
                return False
    return True


def _first(part: Part) -> str:
    return label_of(part.rows[0])


def _last(part: Part) -> str:
    return list(part.labels)[-1]
