"""Which file of the chosen folder a name means; nothing outside it, and nothing but text.

In: the folder, and a name as the page sends it: a path with ``/`` between, below the folder. Out: the file's
place on the disk, or :class:`~purlwright.bench.refusals.Refused`. No file is opened here.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from purlwright.bench.refusals import Refused

__all__ = ["ENDINGS", "HIDDEN", "PATTERN", "file_name", "free_name", "inside", "place", "shown"]

PATTERN = ".pattern.md"
ENDINGS = (PATTERN, ".md", ".txt")
HIDDEN = ".purlwright"
"""The folder in the chosen one where drafts and versions are kept."""

_LONGEST = 240
_DEEPEST = 6
_MOST = 500
_NOT_IN_NAMES = re.compile(r'[\x00-\x1f\x7f<>:"/\\|?*]+')
# Names that Windows keeps for itself, whatever their ending. Source: "Naming Files, Paths, and Namespaces",
# Microsoft Learn.
_DEVICES = frozenset({"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10)})


def shown(name: str) -> str:
    """A name as it may stand in a sentence: nothing that is not printed, and not endless."""
    kept = "".join(c if c.isprintable() else "·" for c in name)
    return kept if len(kept) <= 80 else f"{kept[:77]}..."


def place(folder: Path, name: str) -> Path:
    """The file that is meant. Raises Refused for anything but a text below the folder, links included."""
    parts = name.split("/")
    if not name or len(name) > _LONGEST or len(parts) > _DEEPEST or not all(map(_plain, parts)):
        raise Refused(403, f'"{shown(name)}" is not the name of a file in this folder.')
    if not name.lower().endswith(ENDINGS):
        raise Refused(403, f'"{shown(name)}" is not a pattern: its name must end in {PATTERN}, .md or .txt.')
    at = folder
    for part in parts:
        at /= part
        if at.is_symlink():
            raise Refused(
                403, f'"{shown(name)}" leads to another place on the disk; open the file itself there.'
            )
    if at.is_dir():
        raise Refused(403, f'"{shown(name)}" is a folder.')
    return at


def _plain(part: str) -> bool:
    """Whether one part of a path is a name and nothing else. Hidden names are ours or the system's."""
    return (
        bool(part)
        and not part.startswith((".", " "))
        and not part.endswith((".", " "))
        and not _NOT_IN_NAMES.search(part)
        and part.partition(".")[0].casefold() not in _DEVICES
    )


def inside(folder: Path) -> Iterator[str]:
    """Every text below the folder that could be opened, the patterns first, then by name."""
    found: list[str] = []
    for here, folders, files in os.walk(folder):
        below = Path(here).relative_to(folder).parts
        folders[:] = [] if len(below) + 2 > _DEEPEST else sorted(f for f in folders if _plain(f))
        for file in files:
            name = "/".join((*below, file))
            if file.lower().endswith(ENDINGS) and _plain(file) and not (Path(here) / file).is_symlink():
                found.append(name)
        if len(found) > 4 * _MOST:
            break
    found.sort(key=lambda name: (not name.lower().endswith(PATTERN), name.casefold(), name))
    yield from found[:_MOST]


def file_name(words: str) -> str:
    """A name for a file from the words she gave it, her own letters kept. Raises Refused."""
    name = _NOT_IN_NAMES.sub(" ", words)
    name = " ".join(name.split()).strip(". ")
    for ending in ENDINGS:
        if name.lower().endswith(ending):
            name = name[: -len(ending)].rstrip(". ")
            break
    name = name[:80].rstrip(". ")
    if not name or not _plain(name):
        raise Refused(422, "Give the pattern a name with letters or numbers in it.")
    return f"{name}{PATTERN}"


def free_name(folder: Path, name: str) -> str:
    """A name like this one that no file has yet."""
    stem = name.removesuffix(PATTERN)
    number = 2
    while (folder / f"{stem} {number}{PATTERN}").exists():
        number += 1
    return f"{stem} {number}{PATTERN}"
