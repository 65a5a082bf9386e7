"""Turns the tables that people edit into the one file that is read when Purlwright starts.

In: ``data/*.toml``. Out: the contents of ``data/compiled.json``, every entry checked.
Run ``python -m purlwright.stitches.build`` after an edit; a test holds the two against each other.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from importlib.resources import files
from pathlib import Path
from typing import Any

from purlwright.stitches.grounds import Ground
from purlwright.stitches.kinds import Face, Family, Lean, Loose, Motion, Stitch
from purlwright.stitches.regular import regular
from purlwright.stitches.spelling import in_figures, in_words, squeeze, word_form

__all__ = ["TableError", "compile_tables"]

FILES = (
    "plain",
    "slips",
    "overs",
    "increases",
    "decreases",
    "crossings",
    "brioche",
    "groups",
    "turns",
    "cast_ons",
    "bind_offs",
    "edges",
)
"""The tables of the stitches, in the order of the dictionary."""

STATUS = ("confirmed", "one source", "recalled", "common practice", "own")

NOT_COMPACT = frozenset(
    (
        "bead bind bobble butterfly cluster drop gather graft increase knit knot loop over plain popcorn "
        "purl raise seam slip smock star thrum turn twin twist welt wrap"
    ).split()
)
"""Ordinary words, which are no abbreviations even when they name a stitch."""

COMPACT_PIECES = frozenset("kwise pwise wyif wyib psso patt togtbl ssko skpo yfwd sltog togb".split())
"""Pieces of more than three letters that an abbreviation in several pieces may have."""

_ENUMS = {"family": Family, "motion": Motion, "lean": Lean, "loose": Loose}
_OWN_FIELDS = {"face", "words", "cased"}
_STITCH_FIELDS = {field.name for field in fields(Stitch)} | _OWN_FIELDS
_GROUND_FIELDS = {field.name for field in fields(Ground)}


class TableError(ValueError):
    """A table of the dictionary is wrong: our own fault, never the pattern's."""


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((files("purlwright.stitches") / "data" / f"{name}.toml").read_text(encoding="utf-8"))


def _entries(
    name: str, sources: Mapping[str, str], allowed: set[str]
) -> Iterator[tuple[str, dict[str, Any]]]:
    table = _read(name)
    defaults = table.pop("defaults", {})
    for key, own in table.items():
        entry = defaults | own
        where = f"{name}.toml, [{key}]"
        if unknown := sorted(set(entry) - allowed):
            raise TableError(
                f"{where}: no such field: {', '.join(unknown)}; good ones are {', '.join(sorted(allowed))}"
            )
        if entry.get("source") not in sources:
            raise TableError(f"{where}: source {entry.get('source')!r} is not in sources.toml")
        if entry.get("status") not in STATUS:
            raise TableError(f"{where}: status {entry.get('status')!r} is none of {', '.join(STATUS)}")
        entry["source"] = sources[entry["source"]]
        yield where, {"key": key, **entry}


def _check_stitch(where: str, row: dict[str, Any]) -> None:
    for field, enum in _ENUMS.items():
        good = [member.value for member in enum]
        if field in row and row[field] not in good:
            raise TableError(f"{where}: {field} {row[field]!r} is none of {', '.join(good)}")
    takes, makes, order = row["takes"], row["makes"], row.get("order", [])
    if takes < 0 or len(row["faces"]) != max(makes, 0):
        raise TableError(f"{where}: takes {takes}, makes {makes}, but has {len(row['faces'])} faces")
    if bad := set(row["faces"]) - {face.value for face in Face}:
        raise TableError(f"{where}: no such face: {', '.join(sorted(bad))}")
    if order and (sorted(order) != list(range(takes)) or not 0 < row.get("front", 0) < takes):
        raise TableError(f"{where}: order {order} with front {row.get('front')} does not fit {takes} loops")
    if row["family"] == "decrease" and not 0 <= row.get("top", -1) < takes:
        raise TableError(f"{where}: top must be a place from 0 to {takes - 1}")


def _stitch_row(where: str, entry: dict[str, Any]) -> tuple[dict[str, Any], list[str], list[str]]:
    """One stitch as fields, its full-word names, and the spellings whose capitals matter."""
    row = dict(entry)
    face, words, cased = row.pop("face", None), row.pop("words", []), row.pop("cased", [])
    for needed in ("name_us", "takes", "makes", "family"):
        if needed not in row:
            raise TableError(f"{where}: {needed} is missing")
    row.setdefault("us", row["key"])
    row.setdefault("uk", row["us"])
    row.setdefault("name_uk", row["name_us"])
    row.setdefault("spoken", row["name_us"])
    row.setdefault("faces", [face] * max(row["makes"], 0) if face else [])
    row["chart"] = row.get("chart") or None
    phrases = [row["name_us"], row["name_uk"], *words]
    row["aliases"] = list(dict.fromkeys([*row.get("aliases", []), *words, *cased]))
    _check_stitch(where, row)
    return row, phrases, cased


class _Claims:
    """Which key each spelling means; several claims are settled by readings or refused."""

    def __init__(self, readings: Mapping[str, Iterable[str]]) -> None:
        self.readings = {key: set(value) for key, value in readings.items()}
        self.keys: dict[str, dict[str, None]] = {}

    def claim(self, name: str, key: str) -> None:
        self.keys.setdefault(name, {})[key] = None

    def settled(self) -> dict[str, str]:
        """Each name's key: its one claimant, or the one whose readings name all the others.

        Raises :class:`TableError`, naming every clash, if there is no such one.
        """
        names, clashes = {}, []
        for name, keys in self.keys.items():
            masters = [key for key in keys if keys.keys() - {key} <= self.readings[key]]
            if len(masters) == 1:
                names[name] = masters[0]
            else:
                clashes.append(f"{name!r} is claimed by {', '.join(keys)}")
        if clashes:
            raise TableError("readings are wanted: " + "; ".join(clashes))
        return names


def _spellings(phrases: Iterable[str]) -> dict[str, None]:
    plain = [word_form(phrase) for phrase in phrases]
    return dict.fromkeys(form for phrase in plain for form in (phrase, in_figures(phrase), in_words(phrase)))


def _compact_forms(spelling: str) -> Iterator[str]:
    """The unspaced forms of an abbreviation; none for ordinary words, alone or in a row."""
    pieces = re.split(r"[^a-z]+", spelling.lower())
    spaced = re.search(r"[\s,]", spelling) is not None
    whole_words = (
        spaced and len(pieces) > 1 and any(len(piece) > 3 and piece not in COMPACT_PIECES for piece in pieces)
    )
    if whole_words or "(" in spelling:
        return
    bare = re.sub(r"[\s.,]", "", spelling.lower())
    if bare not in NOT_COMPACT:
        yield bare
        yield bare.replace("-", "")
        if "," in spelling:
            yield re.sub(r"[\s.]", "", re.sub(r",\s*", "-", spelling.lower()))


def _stitches(sources: Mapping[str, str]) -> dict[str, Any]:
    entries = [
        (where, *_stitch_row(where, entry))
        for name in FILES
        for where, entry in _entries(name, sources, _STITCH_FIELDS)
    ]
    rows = {row["key"]: row for _, row, _, _ in entries}
    if len(rows) != len(entries):
        raise TableError("a key stands in two tables")
    for where, row, _, _ in entries:
        for field in ("readings", "behind"):
            for other in [row.get(field)] if field == "behind" else row.get(field, []):
                if other and other not in rows and regular(other) is None:
                    raise TableError(f"{where}: {field} names {other!r}, which is no stitch")
    claims = _Claims({key: row.get("readings", ()) for key, row in rows.items()})
    compact, words, old_words = (_Claims(claims.readings) for _ in range(3))
    for _, row, phrases, cased in entries:
        key = row["key"]
        short = [
            key,
            row["us"],
            row["uk"],
            *(alias for alias in row["aliases"] if alias not in {*phrases, *cased}),
        ]
        for spelling in short:
            claims.claim(squeeze(spelling), key)
            for form in _compact_forms(spelling):
                compact.claim(form, key)
        for spelling in cased:
            claims.claim(spelling, key)
        for phrase in _spellings(phrases):
            claims.claim(squeeze(phrase), key)
            words.claim(phrase, key)
    for _, row, _, _ in entries:
        for phrase in _spellings(row.get("old", ())):
            old_words.claim(phrase, row["key"])
            claims.claim(squeeze(phrase), row["key"])
    names, short_names = claims.settled(), compact.settled()
    for form in list(short_names):
        letters = re.fullmatch(r"([a-z]+)\d+", form)
        key = names.get(letters[1]) if letters else None
        if key is not None and key == short_names[form] and rows[key].get("counted"):
            del short_names[form]
    return {
        "stitches": [_lean_row(row) for row in rows.values()],
        "names": names,
        "compact": short_names,
        "words": words.settled(),
        "old_words": old_words.settled(),
    }


_USUAL = {field.name: field.default for field in fields(Stitch)}


def _lean_row(row: dict[str, Any]) -> dict[str, Any]:
    """The row without what is usual anyway."""
    return {
        key: value
        for key, value in row.items()
        if (tuple(value) if isinstance(value, list) else value) != _USUAL.get(key, ...)
    }


def _grounds(sources: Mapping[str, str], stitches: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    rows: dict[str, dict[str, Any]] = {}
    for where, entry in _entries("grounds", sources, _GROUND_FIELDS):
        row = {"uk": entry["us"], **entry}
        for part in ("setup", "flat", "setup_round", "round"):
            row[part] = [[key.strip() for key in line.split(",")] for line in entry.get(part, ())]
            for key in (key for line in row[part] for key in line):
                if key not in stitches or (stitches[key]["takes"], stitches[key]["makes"]) != (1, 1):
                    raise TableError(f"{where}: {key!r} is no stitch that takes one loop and makes one")
        if (
            not row["flat"]
            or len({len(line) for part in ("setup", "flat", "setup_round", "round") for line in row[part]})
            != 1
        ):
            raise TableError(f"{where}: the rows are not all of one width")
        rows[row["key"]] = row
    claims = _Claims({key: row.get("readings", ()) for key, row in rows.items()})
    for key, row in rows.items():
        for spelling in (key, row["us"], row["uk"], *row.get("aliases", ()), *row.get("old", ())):
            claims.claim(squeeze(spelling), key)
    return {"grounds": list(rows.values()), "names": claims.settled()}


def compile_tables() -> dict[str, Any]:
    """All tables as one JSON-ready object; raises :class:`TableError` at the first fault found."""
    sources = _read("sources")
    stitches = _stitches(sources)
    by_key = {row["key"]: row for row in stitches["stitches"]}
    return {"stitch": stitches, "ground": _grounds(sources, by_key)}


def as_text(tables: Mapping[str, Any]) -> str:
    """The compiled file's text: one entry a line, so that changes can be read."""

    def line(value: Any) -> str:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

    parts = []
    for name, part in tables.items():
        inner = []
        for key, value in part.items():
            if isinstance(value, list):
                inner.append(f"{line(key)}:[\n" + ",\n".join(line(item) for item in value) + "\n]")
            else:
                inner.append(
                    f"{line(key)}:{{\n" + ",\n".join(f"{line(k)}:{line(v)}" for k, v in value.items()) + "\n}"
                )
        parts.append(f"{line(name)}:{{\n" + ",\n".join(inner) + "\n}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    Path(str(files("purlwright.stitches") / "data" / "compiled.json")).write_text(
        as_text(compile_tables()), encoding="utf-8", newline="\n"
    )
