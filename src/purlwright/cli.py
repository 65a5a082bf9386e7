"""The command line: the only place that reads files, prints and gives an exit code.

In: the words after ``purlwright``. Out: text or JSON on standard output, one clear line on standard error
when the call or the file cannot be used, and 0, 1 or 2. What is said is made in the rooms below; they
load only when a command needs them, so that ``--help`` opens as fast as Python does.
"""

from __future__ import annotations

import os
import sys

from purlwright.terminal.arguments import BadCall, Call, read_call

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from purlwright.findings import Finding
    from purlwright.mend.search import Repair
    from purlwright.terminal.look import Look
    from purlwright.wire import LedgerOut, ProofOut
    from purlwright.workup import Proved, WorkUp

__all__ = ["main"]

OK, PATTERN_ERROR, UNUSABLE = 0, 1, 2
MOST_BYTES = 1_000_000
ENDING = ".pattern.md"
HOUSE_STYLE = "house-style.md"
SHOW_TRACEBACK = "PURLWRIGHT_TRACEBACK"


class Unusable(Exception):  # noqa: N818 - the file cannot be used; nothing went wrong here
    """A file, a size, an option or a code cannot be used. The message is one sentence."""


def main(argv: Sequence[str] | None = None) -> int:
    """Do what was asked; the exit code is 0, 1 (an error in the pattern) or 2 (call or file unusable)."""
    try:
        call = read_call(list(sys.argv[1:] if argv is None else argv))
        if call.version:
            return _say_version()
        if call.help:
            return _say_help(call)
        return {"ledger": _ledger, "proof": _proof, "explain": _explain}[call.command](call)
    except (BadCall, Unusable) as e:
        _complain(str(e))
        return UNUSABLE
    except KeyboardInterrupt:
        return 130
    except Exception as e:  # noqa: BLE001 - whatever it is, she is told that it is not her pattern
        _own_up(e)
        return UNUSABLE


# --- the commands --------------------------------------------------------------------------------


def _say_version() -> int:
    from purlwright import __version__

    _print(f"purlwright {__version__}\n")
    return OK


def _say_help(call: Call) -> int:
    from purlwright.terminal.usage import usage

    _print(usage(call.command))
    return OK


def _ledger(call: Call) -> int:
    work = _work_up(call.names[0])
    every = call.size is not None and call.size.casefold() == "all" and "all" not in work.sizes
    sizes = list(work.sizes) if every else [_size(work, call.size)]
    options = _options(work, call)
    found = [work.findings(size, options) for size in sizes]
    if call.json:
        from purlwright import wire

        answers: list[LedgerOut] = [
            wire.ledger_out(work.source, work.title, work.knitted(size, options).ledger, findings)
            for size, findings in zip(sizes, found, strict=True)
        ]
        _print_bytes(wire.encode(wire.LedgersOut(sizes=answers) if every else answers[0]))
    else:
        from purlwright.terminal.excerpt import show_findings
        from purlwright.terminal.print_ledger import show_ledger

        look = _look()
        lines: list[str] = []
        for size, findings in zip(sizes, found, strict=True):
            ledger = work.knitted(size, options).ledger
            lines += show_ledger(ledger, work.title, work.source, look, brief=call.brief)
            lines += ["", *show_findings(findings, work.source, look)]
        _print("\n".join(lines).rstrip("\n") + "\n")
    return _judge((f for findings in found for f in findings), call)


def _proof(call: Call) -> int:
    several = len(call.names) > 1 or os.path.isdir(call.names[0])  # noqa: PTH112 - pathlib loads more than help may
    answers: list[ProofOut] = []
    texts: list[str] = []
    code = OK
    for name in _pattern_files(call.names):
        try:
            work = _work_up(name)
            size = None if call.size is None or call.size.casefold() == "all" else _size(work, call.size)
            proved = work.proved(size, _options(work, call))
        except Unusable as e:
            if not several:
                raise
            _complain(str(e) if _safe(name) in str(e) else f'"{_safe(name)}": {e}')
            code = UNUSABLE
            continue
        repairs = work.repairs() if proved.errors and (call.repairs or not several) else ()
        if call.json:
            answers.append(_proof_answer(work, proved, repairs, name if several else None))
        else:
            from purlwright.terminal.print_proof import show_proof

            lines = show_proof(proved, work.title, work.source, _look(), everything=call.all, repairs=repairs)
            head = [f"── {_safe(name)} ──", ""] if several else []
            texts.append("\n".join([*head, *lines]) + "\n")
        code = max(code, _judge(proved.findings, call))
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(wire.ProofsOut(patterns=answers) if several else answers[0]))
    else:
        _print("\n".join(texts))
    return code


def _proof_answer(work: WorkUp, proved: Proved, repairs: Iterable[Repair], file: str | None) -> ProofOut:
    from msgspec import UNSET

    from purlwright import wire

    return wire.proof_out(
        work.source,
        work.title,
        proved.knitted[0].ledger,
        proved.findings,
        proved.verdicts,
        wire.KnittedOut(
            sizes=list(proved.sizes),
            options={name: list(values) for name, values in proved.options},
            ways=len(proved.knitted),
            every=proved.every,
        ),
        UNSET if file is None else file,
        repairs,
    )


def _explain(call: Call) -> int:
    from purlwright.proof.catalogue import CATALOGUE
    from purlwright.proof.pages import near, pages
    from purlwright.proof.registry import JUDGES
    from purlwright.terminal.print_pages import show_all_pages, show_check, show_page

    every, look = pages(), _look()
    blocks: list[list[str]] = []
    chosen = []
    for word in call.names:
        code = word.strip().strip("()`")
        check = CATALOGUE.get(code.upper())
        found = [p for p in every if p.code == code.lower() or (check and p.check == check.check)]
        if check is not None:
            blocks.append(show_check(check, found, look, built=check.check in JUDGES))
        elif found:
            blocks += [show_page(p, look) for p in found]
        else:
            close = near(code.lower(), [p.code for p in every])
            more = f'; did you mean "{close}"?' if close else "; explain alone lists them all."
            raise Unusable(f'There is no finding or check "{_safe(word)}"{more}')
        chosen += found
    if call.json:
        from purlwright import wire

        asked = dict.fromkeys(name.strip().upper() for name in call.names)
        checks = [CATALOGUE[name] for name in asked if name in CATALOGUE]
        _print_bytes(wire.encode(wire.pages_out(chosen if call.names else every, checks)))
    elif call.names:
        _print("\n\n".join("\n".join(block) for block in blocks) + "\n")
    else:
        _print("\n".join(show_all_pages(every, look)) + "\n")
    return OK


def _judge(findings: Iterable[Finding], call: Call) -> int:
    grave = {"error", "warning"} if call.strict else {"error"}
    return PATTERN_ERROR if any(f.severity.value in grave for f in findings) else OK


# --- sizes and options -----------------------------------------------------------------------------


def _size(work: WorkUp, name: str | None) -> str:
    from purlwright.workup import NoSuchSize

    try:
        return work.size_named(name)
    except NoSuchSize as e:
        raise Unusable(_safe(str(e))) from None


def _options(work: WorkUp, call: Call) -> dict[str, str]:
    from purlwright.workup import NoSuchOption

    try:
        return dict(work.option_values(dict(call.options)))
    except NoSuchOption as e:
        raise Unusable(_safe(str(e))) from None


# --- files -----------------------------------------------------------------------------------------


def _work_up(name: str) -> WorkUp:
    """The work on the pattern in a file. Raises Unusable, with one sentence about the file."""
    from purlwright.workup import work_up

    return work_up(_read_file(name), name, _house_style(name))


def _house_style(name: str) -> str:
    """The words of the house style beside a pattern, or in the nearest folder above, up to where she works.

    Standard input takes the one of the folder she works in. None at all is the usual thing.
    """
    here = os.path.abspath(os.curdir)  # noqa: PTH100
    folder = here if name == "-" else os.path.dirname(os.path.abspath(name))  # noqa: PTH100, PTH120
    while True:
        file = os.path.join(folder, HOUSE_STYLE)  # noqa: PTH118
        if os.path.isfile(file):  # noqa: PTH113
            return _read_file(file)
        above = os.path.dirname(folder)  # noqa: PTH120
        if folder in {here, above} or not folder.startswith(here.rstrip(os.sep) + os.sep):
            return ""
        folder = above


def _pattern_files(names: list[str]) -> list[str]:
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
            raise Unusable(f'There is no pattern (*{ENDING}) in the folder "{_safe(name)}".')
        files += found
    return list(dict.fromkeys(files))


def _read_file(name: str) -> str:
    """The text of a file, or of standard input for ``-``. Raises Unusable."""
    said = "Standard input" if name == "-" else f'"{_safe(name)}"'
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


# --- printing --------------------------------------------------------------------------------------


def _look() -> Look:
    """The page to write on: colour only for a terminal that wants it."""
    from purlwright.terminal.look import Look

    seen = sys.stdout.isatty()
    colour = seen and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Look(width=max(40, min(_columns(seen=seen), 160)), colour=colour)


def _columns(*, seen: bool) -> int:
    """How many columns there are: COLUMNS if it is set, else what the terminal says, else 80."""
    said = os.environ.get("COLUMNS", "")
    if said.isdecimal() and int(said) > 0:
        return int(said)
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns if seen else 80
    except (OSError, ValueError):
        return 80


def _safe(words: str) -> str:
    """Words from outside with nothing in them that a terminal would obey."""
    return "".join(c if c.isprintable() else "·" for c in words)


def _print(text: str) -> None:
    _print_bytes(text.encode("utf-8", "replace"))


def _print_bytes(raw: bytes) -> None:
    """Write UTF-8, whatever the console says it is; a reader that has gone away is no fault."""
    try:
        out = getattr(sys.stdout, "buffer", None)
        if out is None:
            sys.stdout.write(raw.decode("utf-8"))
        else:
            sys.stdout.flush()
            out.write(raw)
        sys.stdout.flush()
    except BrokenPipeError:
        # Python flushes once more when it ends: give it somewhere to flush to.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(sentence: str) -> None:
    raw = f"purlwright: {sentence}\n"
    try:
        sys.stderr.write(raw)
    except UnicodeEncodeError:
        sys.stderr.write(raw.encode("ascii", "backslashreplace").decode("ascii"))


def _own_up(error: Exception) -> None:
    """Our own fault, said as such."""
    _complain(
        f"purlwright-fault: a fault in Purlwright, not in your pattern ({type(error).__name__}). "
        f"Set {SHOW_TRACEBACK}=1 to see where."
    )
    if os.environ.get(SHOW_TRACEBACK):
        import traceback

        traceback.print_exception(error)
