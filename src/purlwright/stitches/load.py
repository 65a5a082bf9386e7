"""The stitch dictionary and the grounds, read once when first asked for.

In: the packaged ``data/compiled.json`` (made and checked by ``build``). Out: :class:`Dictionary` and
:class:`~purlwright.stitches.grounds.Grounds`. Reading patterns is left to the pattern room.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pkgutil import get_data
from types import MappingProxyType
from typing import Any

from purlwright.stitches.grounds import Ground, Grounds
from purlwright.stitches.kinds import Face, Family, Lean, Loose, Motion, Stitch
from purlwright.stitches.regular import LARGEST, regular
from purlwright.stitches.spelling import distance, squeeze

__all__ = ["Dictionary", "Stitches", "dictionary", "grounds"]

_COUNTED = r"([a-z&]+)[\s.-]*(\d{1,4})(.*)"
_TUPLES = ("order", "aliases", "old", "readings")


class Stitches(Mapping[str, Stitch]):
    """Every stitch by its key: those of the tables, in order, and by rule any crossing or number together.

    Going through it gives the tables' stitches; ``stitches["5/5 lpc"]`` is there all the same.
    """

    __slots__ = ("_listed",)

    def __init__(self, listed: Mapping[str, Stitch]) -> None:
        self._listed = listed

    def __getitem__(self, key: str) -> Stitch:
        stitch = self._listed.get(key)
        if stitch is None:
            stitch = regular(key)
            if stitch is None or stitch.key != key:
                raise KeyError(key)
        return stitch

    def __iter__(self) -> Iterator[str]:
        return iter(self._listed)

    def __len__(self) -> int:
        return len(self._listed)


class Dictionary:
    """Terms to stitches.

    ``stitches``   key -> stitch.
    ``compact``    abbreviation in lower case without spaces or stops -> key, with and without its hyphens
                   ("k2tog", "sl1-k2tog-psso", "w&t", "2/2rc"); no counted forms ("k4"), no ordinary words.
    ``words``      phrase in lower case, single-spaced, without commas and hyphens -> key ("slip slip knit").
    ``old_words``  the same for forms from before about 1930 ("narrow", "over", "make 1").
    """

    __slots__ = ("_names", "compact", "old_words", "stitches", "words")

    def __init__(
        self,
        stitches: Mapping[str, Stitch],
        names: Mapping[str, str],
        compact: Mapping[str, str],
        words: Mapping[str, str],
        old_words: Mapping[str, str],
    ) -> None:
        self.stitches = stitches
        self._names = names
        self.compact = compact
        self.words = words
        self.old_words = old_words

    def find(self, text: str) -> Stitch | None:
        """The stitch that a term names, or None.

        US, UK, spelled-out and old forms; capitals, spaces, stops and hyphens do not matter ("K. 2 tog.",
        "SL 1, K1, PSSO"), but for ``incL`` (an increase; "incl" is the word including).
        An ambiguous term gives the entry that carries its ``readings``.
        """
        key = self._names.get(text) or self._names.get(squeeze(text))
        return self.stitches[key] if key is not None else regular(text)

    def counted(self, text: str) -> tuple[Stitch, int] | None:
        """A stitch and how often: "k4", "K. 4", "sl 3 wyif", "p2 tbl", "k2tog" (once); or None."""
        match = re.fullmatch(_COUNTED, text.casefold().strip(" .,"))
        if match:
            stitch = self.find(f"{match[1]} {match[3]}")
            if stitch is not None and stitch.counted:
                return stitch, int(match[2])
        stitch = self.find(text)
        return None if stitch is None else (stitch, 1)

    def nearest(self, word: str) -> str | None:
        """The one abbreviation that a misspelled word is nearest to, as it is usually written, or None.

        A term that is known comes back in its usual form. Else letters may be changed, added, dropped or
        swapped, up to a third of the word's length. Of equally near ones a mere change of order wins; if two
        stitches are still as near, None.
        """
        known = self.find(word)
        if known is not None:
            return known.us
        wanted = squeeze(word)
        best = len(wanted) // 3
        nearest: dict[str, list[str]] = {}
        for form, key in self.compact.items():
            apart = distance(wanted, form, best)
            if apart > best:
                continue
            if apart < best:
                best, nearest = apart, {}
            nearest.setdefault(key, []).append(form)
        if len(nearest) > 1:
            letters = sorted(wanted)
            moved = {
                key: [form for form in forms if sorted(form) == letters] for key, forms in nearest.items()
            }
            nearest = {key: forms for key, forms in moved.items() if forms}
        if len(nearest) != 1:
            return None
        key, forms = nearest.popitem()
        return next((alias for alias in _written(self.stitches[key]) if squeeze(alias) in forms), forms[0])


def _written(stitch: Stitch) -> tuple[str, ...]:
    return (stitch.us, stitch.uk, *stitch.aliases)


def _crossing_forms() -> Iterator[tuple[str, str]]:
    """The compact forms of the crossings that follow a rule, with their keys."""
    sides = (("rc", "c", "b"), ("lc", "c", "f"), ("rpc", "t", "b"), ("lpc", "t", "f"))
    for ending, _, _ in sides:
        for front in range(1, LARGEST + 1):
            for back in range(1, LARGEST + 1):
                yield f"{front}/{back}{ending}", f"{front}/{back} {ending}"
    for ending, kind, side in sides:
        for total in range(2, 2 * LARGEST + 1):
            half = total // 2
            key = f"{kind}{total}{side}" if total % 2 else f"{half}/{half} {ending}"
            yield f"{kind}{total}{side}", key
            other = f"{kind}{total}{'r' if side == 'b' else 'l'}"
            if total > 2 or kind == "c":
                yield other, other if total % 2 else key
    for total in range(2, 2 * LARGEST + 1):
        for side in "bflr":
            yield f"cr{total}{side}", f"cr{total}{side}"
            if total > 2:
                yield f"tw{total}{side}", f"tw{total}{side}"
    for total in range(4, LARGEST + 1, 2):  # C2 and C3 are colours more often
        yield f"c{total}", f"c{total}"


@cache
def _tables() -> dict[str, Any]:
    # Not importlib.resources, whose import alone takes longer than all the rest.
    return json.loads(get_data("purlwright.stitches", "data/compiled.json") or b"")  # type: ignore[no-any-return]


@cache
def dictionary() -> Dictionary:
    """The stitch dictionary, read at the first call and the same object ever after."""
    table = _tables()["stitch"]
    faces = {face.value: face for face in Face}
    kinds: tuple[tuple[str, dict[str, Any]], ...] = tuple(
        (field, {member.value: member for member in enum})
        for field, enum in (("family", Family), ("motion", Motion), ("lean", Lean), ("loose", Loose))
    )
    stitches: dict[str, Stitch] = {}
    for row in table["stitches"]:
        for field, members in kinds:
            if field in row:
                row[field] = members[row[field]]
        for field in _TUPLES:
            if field in row:
                row[field] = tuple(row[field])
        row["faces"] = tuple([faces[face] for face in row.get("faces", ())])
        stitches[row["key"]] = Stitch(**row)
    compact = dict(_crossing_forms()) | table["compact"]
    return Dictionary(
        stitches=Stitches(MappingProxyType(stitches)),
        names=MappingProxyType(table["names"]),
        compact=MappingProxyType(compact),
        words=MappingProxyType(table["words"]),
        old_words=MappingProxyType(table["old_words"]),
    )


@cache
def grounds() -> Grounds:
    """The grounds, read at the first call and the same object ever after."""
    table = _tables()["ground"]
    made: dict[str, Ground] = {}
    for row in table["grounds"]:
        for part in ("setup", "flat", "setup_round", "round"):
            row[part] = tuple(tuple(line) for line in row.get(part, ()))
        for field in ("aliases", "old", "readings"):
            row[field] = tuple(row.get(field, ()))
        made[row["key"]] = Ground(**row)
    return Grounds(MappingProxyType(made), MappingProxyType(table["names"]))
