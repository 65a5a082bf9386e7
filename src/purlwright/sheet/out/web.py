"""What the web pages share: words made safe, a policy that lets nothing in, and the look of paper.

In: words and the pieces of a page. Out: text. A page holds all it needs and asks nothing of any network. What
stands on it is left to ``html`` and ``follow``.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Collection
from functools import cache
from hashlib import sha256
from html import escape
from pkgutil import get_data
from urllib.parse import quote

from purlwright.sheet.document import Document, Words

__all__ = [
    "asset",
    "attribute",
    "fragment",
    "ident",
    "isolated",
    "page",
    "said",
    "side",
    "stamp_line",
    "words",
]

_NOT_IN_HTML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
_SPACE = re.compile(r"\s+")
_FACES = (
    ("Atkinson Hyperlegible Next", 400, "AtkinsonHyperlegibleNext-Regular"),
    ("Atkinson Hyperlegible Next", 700, "AtkinsonHyperlegibleNext-Bold"),
    ("Fraunces", 600, "Fraunces-SemiBold"),
)
SIDES = {"RS": "right side", "WS": "wrong side"}


def said(text: str) -> str:
    """Words as HTML: what was a mark stays a letter, and what no page can hold is shown as missing."""
    return escape(_NOT_IN_HTML.sub("\ufffd", text), quote=False)


def attribute(text: str) -> str:
    """Words as the value of an attribute, with its quotation marks."""
    return f'"{escape(_NOT_IN_HTML.sub(chr(0xFFFD), text))}"'


def isolated(text: str) -> str:
    """Words of hers within a line of ours: whichever way they run, the rest keeps its order."""
    return f"<bdi>{said(text)}</bdi>"


def hers(tag: str, inner: str, kind: str = "") -> str:
    """An element with words of hers, which run whichever way they begin."""
    named = f' class="{kind}"' if kind else ""
    return f'<{tag}{named} dir="auto">{inner}</{tag}>'


def ident(anchor: str) -> str:
    """An anchor as an id, which may hold no blank. Ids of our own begin with ``_``."""
    return _SPACE.sub("-", anchor)


def fragment(anchor: str) -> str:
    """The address of an anchor within its page, as the value of an attribute."""
    return attribute("#" + quote(_NOT_IN_HTML.sub("\ufffd", ident(anchor))))


def words(runs: Words, anchors: Collection[str] = ()) -> str:
    """Runs of words, with a link where one leads to an anchor of this page."""
    out = []
    for run in runs:
        text = said(run.text)
        text = f"<strong>{text}</strong>" if run.strong else text
        out.append(f"<a href={fragment(run.to)}>{text}</a>" if run.to and run.to in anchors else text)
    return "".join(out)


def side(side: str) -> str:
    """The side of a row, short to see and in full to hear; nothing for a row without one."""
    if not side:
        return ""
    return (
        f'<span class="side {side.lower()}"><span aria-hidden="true">{side}</span>'
        f'<span class="unseen">{SIDES[side]}</span></span>'
    )


def stamp_line(document: Document) -> str:
    """Whose and which sheet this is, in one line of HTML; the title is not said again."""
    stamp = document.stamp
    parts = [stamp.name if stamp.name != document.title else ""]
    parts += [f"Version {stamp.version}" if stamp.version else "", stamp.date]
    parts += [f"Size {stamp.size}" if stamp.size else ""]
    parts += ["For left-handed knitting" if document.left_handed else ""]
    return '<span aria-hidden="true"> · </span>'.join(isolated(part) for part in parts if part)


@cache
def asset(name: str) -> str:
    """A file of text that ships beside this one."""
    return (get_data(__package__, name) or b"").decode("utf-8")


@cache
def _faces() -> str:
    rules = []
    for family, weight, file in _FACES:
        data = b64encode(get_data("purlwright.sheet", f"fonts/{file}.ttf") or b"").decode("ascii")
        rules.append(
            f'@font-face{{font-family:"{family}";font-weight:{weight};font-display:swap;'
            f'src:url(data:font/ttf;base64,{data}) format("truetype")}}\n'
        )
    return "".join(rules)


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode('utf-8')).digest()).decode('ascii')}'"


def page(document: Document, *, title: str, style: str, body: str, script: str = "") -> str:
    """A whole page in one file. Its policy knows its style and its script by their sums, and no other."""
    style = f"{_faces()}{asset('paper.css')}{style}"
    rules = {
        "default-src": "'none'",
        "style-src": _hash(style),
        "script-src": _hash(script) if script else "'none'",
        "font-src": "data:",
        "img-src": "data:",
        "base-uri": "'none'",
        "form-action": "'none'",
        "require-trusted-types-for": "'script'",
    }
    policy = "; ".join(f"{what} {whence}" for what, whence in rules.items())
    parts = (
        f"<!doctype html>\n<html lang={attribute(document.language)}>\n<head>\n",
        '<meta charset="utf-8">\n',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n',
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
        '<meta name="color-scheme" content="light dark">\n<meta name="referrer" content="no-referrer">\n',
        f'<meta name="generator" content="Purlwright">\n<title>{said(title)}</title>\n',
        "<!-- Typefaces: Atkinson Hyperlegible Next and Fraunces, SIL Open Font License. -->\n",
        f"<style>{style}</style>\n</head>\n<body>\n{body}",
        f"<script>{script}</script>\n" if script else "",
        "</body>\n</html>\n",
    )
    return "".join(parts)
