"""What goes on in a process of the bench: tasks one after another, and what is kept from text to text.

In: the name of a task and its words as JSON, from the line. Out: the answer as JSON, or why there is none.
What each task answers stands in ``tasks`` and its neighbours.
"""

from __future__ import annotations

import os
import signal
import traceback
from multiprocessing.connection import Connection

from purlwright.bench.hands import Done
from purlwright.bench.open_patterns import OpenPatterns
from purlwright.bench.refusals import Refused
from purlwright.bench.tasks import TASKS, About

__all__ = ["do", "serve"]


def serve(line: Connection, gently: int = 0) -> None:
    """Do tasks until no more come. ``gently``: how far it lets other processes go first."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if gently and hasattr(os, "nice"):
        os.nice(gently)
    known = OpenPatterns()
    while True:
        try:
            task, body, about = line.recv()
        except (EOFError, OSError):
            return
        done = do(task, body, known, About(*about))
        try:
            line.send(done)
        except OSError:
            return  # the bench has ended meanwhile


def do(task: str, body: bytes, known: OpenPatterns, about: About) -> Done:
    """One task. Whatever goes wrong is an answer too."""
    try:
        return Done("done", TASKS[task](body, known, about))
    except Refused as why:
        return Done("refused", refused=why)
    except Exception as e:  # noqa: BLE001 - she is told that it is not her pattern
        return Done("fault", kind=type(e).__name__, trace=traceback.format_exc())
