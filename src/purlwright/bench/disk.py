"""Writing that either happened or did not: never half a file, whatever ends the program.

In: a place and bytes. Out: the file on the disk. A new file is written beside, pressed to the disk, and takes
the old one's name in one step. What is written is left to ``store`` and ``versions``.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

__all__ = ["create", "locked", "replace", "sweep"]

_PART = ".part"


def replace(place: Path, data: bytes, beside: Path) -> None:
    """Put these bytes in the file's place, all of them or none. ``beside``: a folder on the same disk."""
    part = _written(data, beside)
    try:
        with contextlib.suppress(OSError):  # a new file; or a disk that has no such rights
            part.chmod(place.stat().st_mode & 0o777)
        part.replace(place)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    _press(place.parent)


def create(place: Path, data: bytes, beside: Path) -> None:
    """The same for a file that must not be there yet. Raises FileExistsError."""
    part = _written(data, beside)
    try:
        try:
            os.link(part, place)  # fails if the name is taken, and is one step
        except FileExistsError:
            raise
        except OSError:  # a disk without links, as on a memory stick
            with place.open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
    finally:
        part.unlink(missing_ok=True)
    _press(place.parent)


def _written(data: bytes, beside: Path) -> Path:
    beside.mkdir(parents=True, exist_ok=True)
    part = beside / f"{os.getpid()}-{os.urandom(6).hex()}{_PART}"
    try:
        with part.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    return part


def _press(folder: Path) -> None:
    """Have the disk keep the new name as well; systems without a way to ask do it by themselves."""
    if os.name == "nt":
        return
    here = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(here)
    except OSError:
        pass  # some network disks refuse; the file itself is pressed
    finally:
        os.close(here)


def sweep(folder: Path) -> None:
    """Take away parts that an ended program left behind."""
    for part in folder.glob(f"*{_PART}"):
        if not _alive(part.name.partition("-")[0]):
            part.unlink(missing_ok=True)


def _alive(process: str) -> bool:
    if not process.isdecimal() or int(process) == os.getpid():
        return process.isdecimal()
    if os.name == "nt":
        return True  # asking there would end it; leave the part to the program that made it
    try:
        os.kill(int(process), 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


@contextlib.contextmanager
def locked(folder: Path) -> Iterator[None]:
    """While one bench looks and writes, another on the same folder waits."""
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / "lock").open("a+b") as file:
        if os.name == "nt":  # pragma: no cover - another system
            import msvcrt

            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)  # type: ignore[attr-defined]
            try:
                yield
            finally:
                file.seek(0)
                msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)  # type: ignore[attr-defined]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
            yield
