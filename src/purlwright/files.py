"""Patterns on the disk: which files are meant, and their text.

In: names as they were typed. Out: names of files, text and pictures; or :class:`Unusable` with one sentence.
Only what Purlwright itself makes is written, and never over a file that it did not make.
"""

from __future__ import annotations

import os
import struct
import sys
import zlib

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

    from purlwright.drawing import Drawing

__all__ = [
    "ENDING",
    "MADE",
    "MOST_BYTES",
    "MOST_PICTURE_BYTES",
    "PIXELS_PER_MM",
    "Unusable",
    "base_name",
    "decode",
    "folder_for",
    "house_style",
    "is_folder",
    "pattern_files",
    "picture_file",
    "read_file",
    "read_picture",
    "safe",
    "signed_png",
    "slug",
    "write_made",
]

MOST_BYTES = 1_000_000
ENDING = ".pattern.md"
MOST_PICTURE_BYTES = 20_000_000
PIXELS_PER_MM = 8
_MOST_PIXELS = 100_000_000
MADE = b"Purlwright"
"""Stands in every file that Purlwright writes, and tells it from hers."""
HOUSE_STYLE = "house-style.md"


class Unusable(Exception):  # noqa: N818 - the file cannot be used; nothing went wrong here
    """A file, a size, an option or a code cannot be used. The message is one sentence."""


class NotProved(Unusable):
    """The pattern has errors, which what is asked for would pass on; the answer is that of such an error."""


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
    return decode(raw, said)


def decode(raw: bytes, said: str, *, empty: bool = False) -> str:
    """UTF-8 text, with something in it unless it may be ``empty``. Raises Unusable, naming the bad byte."""
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
    if not text.strip() and not empty:
        raise Unusable(f"{said} is empty.")
    return text


# --- pictures ------------------------------------------------------------------------------------

_PICTURES = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")


def read_picture(pattern: str, name: str) -> bytes:
    """The bytes of a picture that a pattern names, a JPEG or PNG in the pattern's folder or below it.

    Raises Unusable: for another place, another sort of file, and one of more than 20 MB.
    """
    said = f'The picture "{safe(name)}"'
    home = os.path.realpath(os.path.dirname(pattern) if pattern != "-" else os.curdir)  # noqa: PTH120
    if "\0" in name or "\\" in name or os.path.isabs(name):  # noqa: PTH117
        raise Unusable(f"{said} must be named by where it stands beside the pattern.")
    file = os.path.realpath(os.path.join(home, name))  # noqa: PTH118
    if os.path.commonpath([home, file]) != home:
        raise Unusable(f"{said} is not in the folder of the pattern.")
    try:
        with open(file, "rb") as opened:  # noqa: PTH123
            data = opened.read(MOST_PICTURE_BYTES + 1)
    except FileNotFoundError:
        raise Unusable(f"{said} is not there; put it beside the pattern, or take its line out.") from None
    except (OSError, ValueError) as e:
        raise Unusable(f"{said} cannot be read: {getattr(e, 'strerror', None) or e}.") from None
    if len(data) > MOST_PICTURE_BYTES:
        raise Unusable(f"{said} is over 20 MB; save it smaller.")
    if not data.startswith(_PICTURES):
        raise Unusable(f"{said} is no JPEG and no PNG; save it as one of them.")
    return data


# --- what we write -------------------------------------------------------------------------------


def folder_for(name: str, out: str | None) -> str:
    """Where to write what is made of the file with this name: into ``out``, else beside it."""
    if out is not None:
        return out
    return os.curdir if name in {"", "-"} else os.path.dirname(name)  # noqa: PTH120


def base_name(name: str, title: str, parts: Iterable[str], otherwise: str) -> str:
    """The name that all that is made of one file shares: the file's, then the parts that are not empty.

    What was read from standard input is called by its title, and by ``otherwise`` without one.
    """
    base = os.path.basename(name)  # noqa: PTH119
    base = base.removesuffix(ENDING) if base.endswith(ENDING) else os.path.splitext(base)[0]  # noqa: PTH122
    if not base or base == "-":
        base = slug(title) or otherwise
    return ".".join(x for x in (base, *map(slug, parts)) if x)


def slug(words: str) -> str:
    """Words as a part of a file's name: small letters and numbers, hyphens between."""
    import re  # the help of the command line opens without it

    return re.sub(r"\W+", "-", words.casefold()).strip("-")[:60]


def write_made(folder: str, made: dict[str, bytes]) -> list[str]:
    """Write files that Purlwright made into a folder, which is made if need be; their paths, in order.

    Nothing is written if one of them would replace a file that Purlwright did not make, or that has been
    written into, unless it has the same bytes. Raises Unusable.
    """
    paths = [os.path.join(folder, name) for name in made]  # noqa: PTH118
    for path in paths:
        if os.path.lexists(path) and not _is_ours(path) and not _has(path, made[os.path.basename(path)]):  # noqa: PTH119
            raise Unusable(
                f'"{safe(path)}" is there already and is not a file that Purlwright wrote; rename it, '
                f"or choose another folder with --out."
            )
    try:
        os.makedirs(folder or os.curdir, exist_ok=True)  # noqa: PTH103
        for path, data in zip(paths, made.values(), strict=True):
            part = f"{path}.part"
            with open(part, "wb") as file:  # noqa: PTH123
                file.write(data)
            os.replace(part, path)  # noqa: PTH105
    except (OSError, ValueError) as e:
        raise Unusable(
            f'Nothing can be written to "{safe(folder)}": {getattr(e, "strerror", None) or e}.'
        ) from None
    return paths


def picture_file(drawing: Drawing, kind: str, title: str, told: str) -> bytes:
    """One drawing as the bytes of a file, ``svg`` or else ``png``, marked as ours.

    A picture in dots has 8 to a millimetre, or fewer where it would be too large for a small machine.
    """
    if kind == "svg":
        from purlwright.drawing import to_svg

        svg = to_svg(drawing, title, told)
        return svg.replace("</svg>", f"<!-- Made by {MADE.decode()}. --></svg>").encode()
    from purlwright.sheet.out.pictures import to_png

    sharp = min(PIXELS_PER_MM, (_MOST_PIXELS / (drawing.width_mm * drawing.height_mm)) ** 0.5)
    return signed_png(to_png(drawing, sharp))


def signed_png(png: bytes) -> bytes:
    """The same picture, with the word in it that tells whose work the file is."""
    word = b"tEXtSoftware\0" + MADE
    chunk = struct.pack(">I", len(word) - 4) + word + struct.pack(">I", zlib.crc32(word))
    head = 8 + 25  # the signature, and the first part, which says how large the picture is
    return png[:head] + chunk + png[head:]


def _has(path: str, data: bytes) -> bool:
    """Whether the file has these very bytes already, so that nothing is lost when it is written again."""
    try:
        if not os.path.isfile(path) or os.path.islink(path):  # noqa: PTH113, PTH114
            return False
        with open(path, "rb") as file:  # noqa: PTH123
            return file.read() == data
    except OSError:
        return False


def _is_ours(path: str) -> bool:
    try:
        if not os.path.isfile(path) or os.path.islink(path):  # noqa: PTH113, PTH114
            return False
        with open(path, "rb") as file:  # noqa: PTH123
            return MADE in file.read()
    except OSError:
        return False
