"""Patterns on the disk: which files are meant, and their text.

In: names as they were typed. Out: names of files, and text; or :class:`Unusable` with one sentence. Nothing
is ever written.
"""

from __future__ import annotations

import os
import sys

__all__ = [
    "ENDING",
    "MOST_BYTES",
    "Unusable",
    "house_style",
    "is_folder",
    "pattern_files",
    "read_file",
    "safe",
]

MOST_BYTES = 1_000_000
ENDING = ".pattern.md"
HOUSE_STYLE = "house-style.md"


class Unusable(Exception):  # noqa: N818 - the file cannot be used; nothing went wrong here
    """A file, a size, an option or a code cannot be used. The message is one sentence."""


def safe(words: str) -> str:
    """Words from outside with nothing in them that a terminal would obey."""
    return "".join(c if c.isprintable() else "·" for c in words)


def is_folder(name: str) -> bool:
    """Whether a name is that of a folder."""
    return os.path.isdir(name)  # noqa: PTH112 - pathlib loads more than help may


def house_style(name: str) -> str:
    """The words of the house style beside a pattern, or in the nearest folder above, up to where she works.

    Standard input takes the one of the folder she works in. None at all is the usual thing.
    """
    here = os.path.abspath(os.curdir)  # noqa: PTH100
    folder = here if name == "-" else os.path.dirname(os.path.abspath(name))  # noqa: PTH100, PTH120
    while True:
        file = os.path.join(folder, HOUSE_STYLE)  # noqa: PTH118
        if os.path.isfile(file):  # noqa: PTH113
            return read_file(file)
        above = os.path.dirname(folder)  # noqa: PTH120
        if folder in {here, above} or not folder.startswith(here.rstrip(os.sep) + os.sep):
            return ""
        folder = above


def pattern_files(names: list[str]) -> list[str]:
    """The files meant: each name, and for a folder every pattern in it, in order of name."""
    files: list[str] = []
    for name in names:
        if name == "-" or not os.path.isdir(name):  # noqa: PTH112
            files.append(name)
            continue
        found = sorted(
            os.path.join(folder, file)  # noqa: PTH118
            for folder, _, inside in os.walk(name)
            for file in inside
            if file.endswith(ENDING)
        )
        if not found:
            raise Unusable(f'There is no pattern (*{ENDING}) in the folder "{safe(name)}".')
        files += found
    return list(dict.fromkeys(files))


def read_file(name: str) -> str:
    """The text of a file, or of standard input for ``-``. Raises Unusable."""
    said = "Standard input" if name == "-" else f'"{safe(name)}"'
    try:
        if name == "-":
            raw = sys.stdin.buffer.read(MOST_BYTES + 1)
        elif os.path.isdir(name):  # noqa: PTH112
            raise Unusable(f"{said} is a folder; name a file in it.")
        else:
            with open(name, "rb") as file:  # noqa: PTH123
                raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise Unusable(f"There is no file {said}.") from None
    except (OSError, ValueError) as e:
        raise Unusable(f"{said} cannot be read: {getattr(e, 'strerror', None) or e}.") from None
    if len(raw) > MOST_BYTES:
        raise Unusable(f"{said} is over 1 MB; a pattern may have {MOST_BYTES:,} bytes.")
    return _decode(raw, said)


def _decode(raw: bytes, said: str) -> str:
    """UTF-8 text with something in it. Raises Unusable, naming the byte that cannot be read."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise Unusable(f"{said} is saved as UTF-16; save it as UTF-8.")
    nul = raw.find(b"\0")
    if nul >= 0:
        raise Unusable(f"{said} is not a text file: byte {nul + 1:,} is zero.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as e:
        line = raw.count(b"\n", 0, e.start) + 1
        raise Unusable(
            f"{said} is not UTF-8: byte {e.start + 1:,} (0x{raw[e.start]:02X}, in line {line:,}) is no "
            f"letter there. Save it as UTF-8."
        ) from None
    if not text.strip():
        raise Unusable(f"{said} is empty.")
    return text
