"""What every node of a pattern's tree has, and how a tree is gone through.

In: a node, or a tuple of nodes. Out: its nodes in the order of the words, or the same tree with other spans.
Which nodes there are is told in ``tree``.
"""

from __future__ import annotations

from functools import cache
from inspect import get_annotations
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Node", "bare", "moved", "walk"]


class Node(Struct, frozen=True, kw_only=True, gc=False):
    """Anything that stands in the tree. ``span`` is the stretch of text it was read from.

    A tree has no way back to its root, so no collector need look for one (``gc``).
    """

    span: Span = NOWHERE


def bare(node: Any) -> Any:
    """The same tree with every span set to ``NOWHERE``, so that two trees can be compared by meaning."""
    if isinstance(node, Span):
        return NOWHERE
    if isinstance(node, tuple):
        return tuple(bare(x) for x in node)
    if isinstance(node, Struct):
        return replace(node, **{f: bare(getattr(node, f)) for f in node.__struct_fields__})
    return node


def moved(node: Any, by: int) -> Any:
    """The same tree with every span moved ``by`` places, for words that are worked from another line."""
    if isinstance(node, Span):
        return node if node.end < 0 else Span(node.start + by, node.end + by)
    if isinstance(node, tuple):
        return tuple(moved(x, by) for x in node)
    if isinstance(node, Struct):
        return replace(node, **{f: moved(getattr(node, f), by) for f in node.__struct_fields__})
    return node


def walk(node: Any) -> Iterator[Node]:
    """Every node of a tree, parents before children, in the order of the words."""
    waiting = [node]
    while waiting:
        x = waiting.pop()
        kind: type = type(x)
        if kind is tuple:
            waiting.extend(reversed(x))
            continue
        inner = _inner(kind)
        if inner is None:
            continue
        yield x
        for name in inner:
            value = getattr(x, name)
            if value is not None:
                waiting.append(value)


@cache
def _inner(kind: type) -> tuple[str, ...] | None:
    """The fields of a kind of node that can hold nodes, last first; None if it is no node."""
    if not issubclass(kind, Node):
        return None
    return tuple(f for f in reversed(kind.__struct_fields__) if _holds_nodes(_annotation(kind, f)))


_PLAIN = ("Span", "bool", "int", "str", "None", "Fraction", "Side", "Unit", "Said", "TurnHow", "PlaceKind")


def _annotation(kind: type, name: str) -> str:
    """The annotation of a field, where it was first written."""
    for base in kind.__mro__:
        found = get_annotations(base).get(name)
        if found is not None:
            return str(found)
    return ""


def _holds_nodes(annotation: str) -> bool:
    """Whether a field with this annotation can hold nodes."""
    if "Literal" in annotation:
        return False
    words = [
        w
        for w in annotation.replace("[", " ").replace("]", " ").replace(",", " ").split()
        if w.isidentifier()
    ]
    return any(w not in _PLAIN and w != "tuple" for w in words)
