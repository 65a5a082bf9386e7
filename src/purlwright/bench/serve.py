"""Opening the bench: a free port on this machine only, the page in the browser, and an end when she says so.

In: a folder and what was asked for. Out: an exit code; the address is told through ``say``.
"""

from __future__ import annotations

import os
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path

import uvicorn

from purlwright.bench.app import create_app
from purlwright.bench.guard import new_key
from purlwright.bench.hands import Hands
from purlwright.bench.refusals import Refused

__all__ = ["listen", "serve"]

_USUAL = 8347
_TRIES = 20
_LOOPBACK = "127.0.0.1"


def serve(folder: Path, *, port: int | None, show: bool, say: Callable[[str], None]) -> int:
    """Serve a folder until it is ended. Raises Refused where it cannot be opened."""
    listening = listen(port)
    number = listening.getsockname()[1]
    key = new_key()
    link = f"http://{_LOOPBACK}:{number}/open?key={key}"
    app = create_app(folder, key=key, port=number, warm=True)
    server = _Server(
        app.state.bench.hands,
        uvicorn.Config(
            app,
            log_level="error",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            ws="none",
            http="h11",
            loop="asyncio",
            timeout_graceful_shutdown=1,
        ),
    )
    say(
        f"The bench is open for {folder.resolve()}:\n\n    {link}\n\n"
        "It can be reached from this machine only. Leave this window open while you work; Ctrl-C ends it.\n"
    )
    if show:  # in a thread: a browser that works in the terminal would hold up what it asks
        threading.Thread(target=webbrowser.open, args=(link,), daemon=True).start()
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass
    finally:
        listening.close()
    say("The bench is closed. What you wrote is kept in the folder.\n")
    return 0


class _Server(uvicorn.Server):
    """Ends without a word of its own: whoever still waits for an answer is told that the bench is closing."""

    def __init__(self, hands: Hands, config: uvicorn.Config) -> None:
        super().__init__(config)
        self._hands = hands

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Let go of everything, in order."""
        self._hands.refuse(Refused(503, "The bench is closing. Your words are safe."))
        await super().shutdown(sockets)


def listen(port: int | None) -> socket.socket:
    """A socket on this machine's own address: at the port asked for, else at the usual one or the next
    free.
    """
    tried = [port] if port is not None else [*range(_USUAL, _USUAL + _TRIES), 0]
    for number in tried:
        # named as TCP, so that answers are sent at once and do not wait 40 ms for the browser
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        if os.name != "nt":  # there it would mean that two may share a port; here, that it is free at once
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((_LOOPBACK, number))
            made.listen(128)
        except OSError:
            made.close()
            continue
        return made
    raise Refused(409, f"Port {port} is taken by another program; leave out --port, or name another one.")
