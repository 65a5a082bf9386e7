"""The addresses of the page itself: the opening link, the page, its files, and pages shown within it.

In: requests. Out: files from ``static/``, which is made from ``frontend/`` and is never written to.
"""

from __future__ import annotations

import re
from importlib.resources import files
from importlib.resources.abc import Traversable

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from purlwright.bench.bench import bench_of
from purlwright.bench.guard import cookie_name
from purlwright.bench.refusals import Refused

__all__ = ["face", "icon", "kept_page", "opened", "page", "static"]

_NONCE = b"__NONCE__"
_KINDS = {
    ".css": "text/css",
    ".html": "text/html",
    ".ico": "image/x-icon",
    ".js": "text/javascript",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".ttf": "font/ttf",
    ".txt": "text/plain",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}


def _home() -> Traversable:
    return files("purlwright.bench").joinpath("static")


async def opened(request: Request) -> Response:
    """The link of this run: from here on the browser brings the key by itself."""
    bench = bench_of(request)
    answer = RedirectResponse("/", 303)
    answer.set_cookie(cookie_name(bench.port), bench.key, httponly=True, samesite="strict", path="/")
    return answer


async def page(request: Request) -> Response:
    """The page."""
    try:
        words = _home().joinpath("index.html").read_bytes()
    except FileNotFoundError:
        raise Refused(503, "The page of the bench was not built: there is no index.html in static.") from None
    return Response(words.replace(_NONCE, request.scope["state"]["nonce"].encode()), media_type="text/html")


async def static(request: Request) -> Response:
    """A file of the page."""
    parts = request.path_params["name"].split("/")
    if not all(part and not part.startswith(".") and "\\" not in part and ":" not in part for part in parts):
        raise Refused(404, "There is no such file.")
    file = _home()
    for part in parts:
        file = file.joinpath(part)
    ending = f".{parts[-1].rpartition('.')[2]}"
    if ending not in _KINDS or not file.is_file():
        raise Refused(404, "There is no such file.")
    kind = _KINDS[ending]
    return Response(file.read_bytes(), media_type=kind, headers={"Cache-Control": "no-cache"})


async def face(request: Request) -> Response:
    """A typeface of the sheets, which the page is set in too."""
    name = request.path_params["name"]
    file = files("purlwright.sheet").joinpath("fonts").joinpath(name)
    if not re.fullmatch(r"[A-Za-z]+(?:-[A-Za-z]+)?\.ttf", name) or not file.is_file():
        raise Refused(404, "There is no such typeface.")
    return Response(file.read_bytes(), media_type=_KINDS[".ttf"], headers={"Cache-Control": "max-age=86400"})


async def icon(_request: Request) -> Response:
    """The small picture that a browser asks for by itself."""
    file = _home().joinpath("icon.svg")
    if not file.is_file():
        return Response(status_code=204)
    return Response(file.read_bytes(), media_type="image/svg+xml")


async def kept_page(request: Request) -> Response:
    """A sheet, lesson or report that was made to be looked at, with what it may load: nothing else."""
    made = bench_of(request).kept(request.path_params["name"])
    if made is None:
        raise Refused(404, "This page is no longer kept; ask for it again.")
    return Response(
        made.data,
        media_type="text/html",
        headers={"Content-Security-Policy": made.policy, "X-Frame-Options": "SAMEORIGIN"},
    )
