"""Requests read and answers written: JSON with known fields, and one plain sentence for whatever is refused.

In: a request, or an answer as a struct. Out: the fields asked for, or the response. Nothing that a request
holds comes back as anything but text in JSON.
"""

from __future__ import annotations

from typing import Any, TypeVar

import msgspec
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response

from purlwright.bench.refusals import Refused

__all__ = ["MOST_BODY", "body_of", "json", "query", "raw_json", "read", "sentence"]

MOST_BODY = 4_000_000
"""A pattern of 1 MB with every line end and mark written as JSON does, and room to spare."""

Asked = TypeVar("Asked")


def json(answer: Any, status: int = 200) -> Response:
    """An answer."""
    return raw_json(msgspec.json.encode(answer), status)


def raw_json(answer: bytes, status: int = 200) -> Response:
    """An answer that is JSON already."""
    return Response(answer, status, media_type="application/json")


def sentence(status: int, words: str, **more: Any) -> Response:
    """Why there is no answer."""
    clean = "".join(c if c.isprintable() or c == "\n" else "·" for c in words)
    return json({"message": clean, **more}, status)


async def body_of(request: Request) -> bytes:
    """All that a request brings. Raises Refused when it is too much."""
    told = request.headers.get("content-length", "")
    if told.isdecimal() and int(told) > MOST_BODY:
        raise Refused(413, "That is more than the bench takes at once: a pattern may have 1 MB.")
    got = bytearray()
    try:
        async for part in request.stream():
            got += part
            if len(got) > MOST_BODY:
                raise Refused(413, "That is more than the bench takes at once: a pattern may have 1 MB.")
    except ClientDisconnect:
        raise Refused(400, "The page went away before it had said everything.") from None
    return bytes(got)


def read(body: bytes, kind: type[Asked]) -> Asked:
    """The fields of a request. Raises Refused if it is not what was agreed."""
    try:
        return msgspec.json.decode(body, type=kind)
    except (msgspec.DecodeError, msgspec.ValidationError, RecursionError, UnicodeDecodeError) as e:
        raise Refused(400, f"The page asked in a way that the bench does not know: {e}.") from None


def query(request: Request, name: str) -> str:
    """A value of the address. Raises Refused if it is missing."""
    value = request.query_params.get(name)
    if value is None:
        raise Refused(400, f'The page did not say the "{name}".')
    return value
