"""A file that opens the bench when it is double-clicked, made for the system that it is made on.

In: a folder, the Python that runs this, the system. Out: the file's name and words; and, written, its
place. Which systems it was tried on is said with it.
"""

from __future__ import annotations

import shlex
import sys
from dataclasses import dataclass
from pathlib import Path

from purlwright.bench import disk
from purlwright.bench.paths import HIDDEN
from purlwright.bench.refusals import Refused

__all__ = ["Launcher", "launcher_for", "write_launcher"]

_MADE = "Made by Purlwright"
_NAME = "Open the bench"


@dataclass(frozen=True, slots=True, kw_only=True)
class Launcher:
    """What is written, and what is to be said of it."""

    name: str
    words: str
    runs: bool
    """Whether the system asks for the right to run it."""
    said: str


def launcher_for(folder: Path, python: str, system: str) -> Launcher:
    """The file for a folder. ``system`` as Python names it: "linux", "darwin", "win32"."""
    here = str(folder)
    if any(ord(c) < 32 for c in here + python):
        raise Refused(422, "The folder's name has a line end or another hidden sign in it; rename it first.")
    if system == "win32":
        return Launcher(
            name=f"{_NAME}.cmd",
            words=f"@rem {_MADE}.\r\n@chcp 65001 >nul\r\n"
            f'@"{python.replace("%", "%%")}" -m purlwright bench "{here.replace("%", "%%")}"\r\n@pause\r\n',
            runs=False,
            said="Double-click it to open the bench. It has not been tried on Windows yet; if nothing opens, "
            "type in a terminal: purlwright bench",
        )
    if system == "darwin":
        return Launcher(
            name=f"{_NAME}.command",
            words=f"#!/bin/sh\n# {_MADE}.\n"
            f"exec {shlex.quote(python)} -m purlwright bench {shlex.quote(here)}\n",
            runs=True,
            said="Double-click it to open the bench. It has not been tried on macOS yet; if nothing opens, "
            "type in a terminal: purlwright bench",
        )
    return Launcher(
        name=f"{_NAME}.desktop",
        words=f"[Desktop Entry]\n# {_MADE}.\nType=Application\nName={_NAME}\n"
        "Comment=Write knitting patterns and see them knitted\n"
        f"Exec={_quoted(python)} -m purlwright bench {_quoted(here)}\nTerminal=true\nCategories=Office;\n",
        runs=True,
        said="Double-click it to open the bench. Some desktops first ask you to allow it: right-click it and "
        'choose "Allow Launching", or its like. What it calls was tried on Linux; a double-click, on no '
        "desktop yet.",
    )


def _quoted(word: str) -> str:
    """A word in the line that a desktop runs.

    Source: Desktop Entry Specification 1.5, "The Exec key": quoted with ``\\`` before ``"``, backtick,
    ``$`` and ``\\``; then every ``\\`` doubled again as in any value; ``%`` doubled.
    """
    inner = "".join(f"\\{c}" if c in '"`$\\' else c for c in word)
    return '"' + inner.replace("\\", "\\\\").replace("%", "%%") + '"'


def write_launcher(folder: Path) -> tuple[Path, str]:
    """Write the file into the folder; its place, and what is to be said of it. Raises Refused."""
    made = launcher_for(folder.resolve(), sys.executable, sys.platform)
    place = folder / made.name
    if place.is_symlink() or (place.exists() and _MADE.encode() not in place.read_bytes()):
        raise Refused(409, f'"{place}" is there already and is not one that Purlwright wrote; rename it.')
    disk.replace(place, made.words.encode(), folder / HIDDEN / "parts")
    if made.runs:
        place.chmod(0o755)
    return place, made.said
