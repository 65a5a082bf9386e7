"""The command line: the only place that prints and gives an exit code.

In: the words after ``purlwright``. Out: text or JSON on standard output, one clear line on standard error
when the call or the file cannot be used, and 0, 1 or 2. What is said is made in the rooms below; they
load only when a command needs them, so that ``--help`` opens as fast as Python does.
"""

from __future__ import annotations

import os
import sys

from purlwright.files import NotProved, Unusable, safe
from purlwright.terminal.arguments import BadCall, Call, read_call

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from msgspec import Struct

    from purlwright.findings import Finding
    from purlwright.rescue.observe import Facts
    from purlwright.rescue.questions import Question
    from purlwright.several import Task
    from purlwright.terminal.look import Look
    from purlwright.wire import LedgerOut

__all__ = ["main"]

OK, PATTERN_ERROR, UNUSABLE = 0, 1, 2
SHOW_TRACEBACK = "PURLWRIGHT_TRACEBACK"


def main(argv: Sequence[str] | None = None) -> int:
    """Do what was asked; the exit code is 0, 1 (an error in the pattern) or 2 (call or file unusable)."""
    try:
        call = read_call(list(sys.argv[1:] if argv is None else argv))
        if call.version:
            return _say_version()
        if call.help:
            return _say_help(call)
        return _COMMANDS[call.command](call)
    except NotProved as e:
        _complain(str(e))
        return PATTERN_ERROR
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
    from purlwright.files import house_style, read_file
    from purlwright.several import options_asked, size_asked
    from purlwright.workup import work_up

    work = work_up(read_file(call.names[0]), call.names[0], house_style(call.names[0]))
    every = call.size is not None and call.size.casefold() == "all" and "all" not in work.sizes
    sizes = list(work.sizes) if every else [size_asked(work, call.size)]
    options = options_asked(work, call.options)
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
    from dataclasses import replace

    from purlwright.files import is_folder, pattern_files, read_file
    from purlwright.several import Task, prove_one

    several = len(call.names) > 1 or is_folder(call.names[0])
    if call.kinds:
        return _write_report(call)
    task = Task(
        name=call.names[0],
        size=call.size,
        options=tuple(call.options),
        look=_look(),
        several=several,
        json=call.json,
        report=call.report,
        everything=call.all,
        repairs=call.repairs or not several,
        strict=call.strict,
    )
    if not several:
        done = prove_one(task, catch=False)
        if done.complaint:
            raise Unusable(done.complaint)
        _print_bytes(done.page)
        return done.code
    tasks = [
        replace(task, name=name, text=read_file(name) if name == "-" else None)
        for name in pattern_files(call.names)
    ]
    return _prove_several(call, tasks)


def _write_report(call: Call) -> int:
    """The editor's report in files, instead of on the page."""
    from purlwright.files import house_style, is_folder, read_file
    from purlwright.sheets import report
    from purlwright.workup import work_up

    name = call.names[0]
    if is_folder(name):
        raise Unusable("--as writes the report of one pattern; name one file, not a folder.")
    done, findings = report(work_up(read_file(name), name, house_style(name)), call)
    from purlwright.terminal.print_sheets import show_sheets

    _tell(call, done, lambda: show_sheets(done, _look(), report=True))
    return _judge(findings, call)


def _prove_several(call: Call, tasks: list[Task]) -> int:
    """Prove patterns side by side; print each as soon as those before it are printed, then the summary."""
    from purlwright.crew import each, hands_for
    from purlwright.several import died, prove_one
    from purlwright.several import summary as sum_up
    from purlwright.terminal.progress import Progress

    bar = Progress(len(tasks), sys.stderr)
    done = []
    try:
        for outcome in each(tasks, prove_one, died, hands_for(len(tasks), call.jobs), bar.at):
            if outcome.complaint:
                bar.clear()
                _complain(outcome.complaint)
                if outcome.trace and os.environ.get(SHOW_TRACEBACK):
                    sys.stderr.write(outcome.trace)
            elif not call.json:
                bar.clear()
                _print_bytes(outcome.page + b"\n")
            done.append(outcome if call.json else outcome.without_page())
    finally:
        bar.clear()
    summary = sum_up(done)
    if call.json:
        from purlwright import wire

        pages = [outcome.page for outcome in done if not outcome.complaint]
        _print_bytes(wire.encode_several("reports" if call.report else "patterns", pages, summary))
    else:
        from purlwright.terminal.print_summary import show_summary

        _print("\n".join(show_summary(summary, _look())) + "\n")
    return max((outcome.code for outcome in done), default=OK)


def _sheet(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.sheets import sheets
    from purlwright.workup import work_up

    name = call.names[0]
    done = sheets(work_up(read_file(name), name), call)
    from purlwright.terminal.print_sheets import show_sheets

    _tell(call, done, lambda: show_sheets(done, _look()))
    return PATTERN_ERROR if done.errors else OK


def _chart(call: Call) -> int:
    from purlwright.charts import charts
    from purlwright.files import read_file
    from purlwright.workup import work_up

    name = call.names[0]
    done = charts(work_up(read_file(name), name), call)
    from purlwright.terminal.print_charts import show_charts

    _tell(call, done, lambda: show_charts(done, _look(), words=call.words))
    return PATTERN_ERROR if done.errors else OK


def _clues(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.findings import Severity
    from purlwright.lessons import clues
    from purlwright.several import options_asked, size_asked
    from purlwright.workup import work_up

    work = work_up(read_file(call.names[0]), call.names[0])
    size, asked = size_asked(work, call.size), options_asked(work, call.options)
    options = {name: asked.get(name, values[0]) for name, values in work.options}
    parts = clues(work, size, options, section=call.section)
    errors = sum(f.severity is Severity.ERROR for f in work.findings(size, options))
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(wire.clues_out(work.title, size, options, parts, errors, every=call.all)))
    else:
        from purlwright.terminal.print_clues import show_clues

        page = show_clues(parts, work.title, size, options, _look(), every=call.all)
        if errors:
            page += ["", "The pattern has errors; clues of its rows may be as wrong as they are."]
        _print("\n".join(page) + "\n")
    return PATTERN_ERROR if errors else OK


def _lesson(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.lessons import lesson
    from purlwright.workup import work_up

    name = call.names[0]
    done = lesson(work_up(read_file(name), name), call)
    from purlwright.terminal.print_sheets import show_sheets

    _tell(call, done, lambda: show_sheets(done, _look()))
    return OK


def _test_knit(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.testers import answers, pack
    from purlwright.workup import work_up

    name = call.names[0]
    work = work_up(read_file(name), name)
    if call.answers:
        from purlwright.terminal.print_testknit import show_test_knit

        told = answers(work, call)
        _tell(call, told, lambda: show_test_knit(told, _look()))
        return OK
    done = pack(work, call)
    from purlwright.terminal.print_sheets import show_sheets

    _tell(call, done, lambda: show_sheets(done, _look()))
    return OK


def _suggest(call: Call) -> int:
    from purlwright.files import house_style, read_file
    from purlwright.several import size_asked
    from purlwright.workup import work_up

    work = work_up(read_file(call.names[0]), call.names[0], house_style(call.names[0]))
    size = None if call.size is None else size_asked(work, call.size)
    wrong = sum(f.severity.value == "error" for f in work.proved().findings)
    if wrong:
        errors = "an error" if wrong == 1 else f"{wrong} errors"
        raise Unusable(f"The pattern has {errors}; correct what proof finds before looking for other words.")
    found = work.suggestions() if size is None else (work.for_one_size(size),)
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(wire.suggestions_out(work.title, found)))
    elif size is None:
        from purlwright.terminal.print_suggestions import show_suggestions

        _print("\n".join(show_suggestions(found, work.title, _look())) + "\n")
    elif found[0].refused:
        raise Unusable(f"It cannot be written for size {safe(size)} alone: {safe(found[0].refused)}.")
    else:
        _print("\n".join(found[0].after))
    return OK


def _compare(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.revision.compare import compare
    from purlwright.revision.notice import notice
    from purlwright.several import size_asked
    from purlwright.workup import work_up

    old, new = (work_up(read_file(name), name) for name in call.names)
    sizes = None if call.size is None else size_asked(new, call.size)
    if sizes is not None:
        size_asked(old, sizes)
    found = compare(old.version(sizes), new.version(sizes))
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(wire.comparison_out(found)))
    elif call.notice:
        if not found.must_be_told:
            raise Unusable("Nothing that changes the knitting was changed, so there is nothing to correct.")
        from purlwright.terminal.look import plain

        _print("\n".join(plain(line) for line in notice(found)) + "\n")
    else:
        from purlwright.terminal.print_compare import show_comparison

        _print("\n".join(show_comparison(found, _look())) + "\n")
    return PATTERN_ERROR if found.new.errors else OK


def _gauge(call: Call) -> int:
    from purlwright.gauges import NotRead, gauges

    try:
        done = gauges(call)
    except NotRead as e:
        raise Unusable(safe(str(e))) from e
    from purlwright.terminal.print_gauge import show_gauge

    _tell(call, done, lambda: show_gauge(done, _look()))
    return OK


def _plan(call: Call) -> int:
    from purlwright.cloth.swatch_words import NotRead
    from purlwright.files import read_file
    from purlwright.plans import plans
    from purlwright.sizing.unknowns import NoPlan

    own = call.plan.get("--bodies")
    try:
        done = plans(call, None if own is None else read_file(own[-1]))
    except (NoPlan, NotRead) as e:
        raise Unusable(safe(str(e))) from e
    if "--pattern" in call.plan and done.pattern is not None and not call.json:
        _print(done.pattern)
    else:
        from purlwright.terminal.print_plan import show_plan

        _tell(call, done, lambda: show_plan(done, _look()))
    bad = done.give_up or (done.proof is not None and done.proof.errors)
    return PATTERN_ERROR if bad else OK


def _regauge(call: Call) -> int:
    from purlwright.cloth.swatch_words import NotRead
    from purlwright.files import read_file
    from purlwright.regauges import regauge
    from purlwright.sizing.unknowns import NoPlan
    from purlwright.workup import work_up

    name = call.names[0]
    try:
        done = regauge(work_up(read_file(name), name), call)
    except (NoPlan, NotRead) as e:
        raise Unusable(safe(str(e))) from e
    if "--pattern" in call.plan and done.pattern is not None and not call.json:
        _print(done.pattern)
    else:
        from purlwright.terminal.print_regauge import show_regauge

        _tell(call, done, lambda: show_regauge(done, _look()))
    return OK if done.refused is None else PATTERN_ERROR


def _where(call: Call) -> int:
    from purlwright.files import read_file
    from purlwright.rescues import where
    from purlwright.workup import work_up

    name = call.names[0]
    done = where(work_up(read_file(name), name), call)
    from purlwright.terminal.print_where import show_where

    _tell(call, done, lambda: show_where(done, _look()))
    return PATTERN_ERROR if done.errors else OK


def _rescue(call: Call) -> int:
    from dataclasses import replace

    from purlwright.files import read_file
    from purlwright.rescue.questions import QUESTIONS
    from purlwright.rescues import answer_of, facts_of, letter, rescue, take_choice
    from purlwright.terminal.print_rescue import show_rescue
    from purlwright.workup import work_up

    name = call.names[0]
    work = work_up(read_file(name), name)
    letter_told = None if call.facts_file is None else read_file(call.facts_file)
    if letter_told is not None:
        take_choice(work, call, letter_told)
    facts = facts_of(work, call, letter_told)
    asked: tuple[str, ...] = ()
    if not call.json and not call.letter and name != "-" and sys.stdin.isatty() and sys.stdout.isatty():
        from purlwright.terminal.ask import ask_piece, interview

        def following(known: Facts, so_far: tuple[str, ...]) -> Question | None:
            ask = rescue(work, call, known, so_far).next
            return None if ask is None else replace(QUESTIONS[ask.fact], asks=ask.asks, how=ask.how)

        facts = ask_piece(work.desk(call.size, dict(call.options)).pieces, facts, _look(), _print, input)
        facts, asked = interview(following, answer_of, facts, _look(), _print, input)
    if call.letter:
        _print(letter(work, call, facts))
        return OK
    done = rescue(work, call, facts, asked)
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(done))
    else:
        _print("\n".join(show_rescue(done, _look())) + "\n")
    return PATTERN_ERROR if done.errors else OK


def _explain(call: Call) -> int:
    from purlwright.proof.catalogue import CATALOGUE
    from purlwright.proof.pages import near, pages
    from purlwright.proof.registry import ABOVE, JUDGES
    from purlwright.proof.two_examples import examples
    from purlwright.rescue.pages import mistake_page
    from purlwright.terminal.print_pages import show_all_pages, show_check, show_mistake, show_page

    every, look = pages(), _look()
    blocks: list[list[str]] = []
    chosen = []
    mistakes: list[tuple[str, tuple[str, ...]]] = []
    for word in call.names:
        code = word.strip().strip("()`")
        check = CATALOGUE.get(code.upper())
        found = [p for p in every if p.code == code.lower() or (check and p.check == check.check)]
        if check is not None:
            both = examples().get(check.check)
            blocks.append(
                show_check(check, found, look, built=check.check in JUDGES or check.check in ABOVE, both=both)
            )
        elif found:
            blocks += [show_page(p, look) for p in found]
        elif (mistake := mistake_page(code)) is not None:
            mistakes.append(mistake)
            blocks.append(show_mistake(*mistake, look))
        else:
            close = near(code.lower(), [p.code for p in every])
            more = f'; did you mean "{close}"?' if close else "; explain alone lists them all."
            raise Unusable(f'There is no finding or check "{safe(word)}"{more}')
        chosen += found
    if call.json:
        from purlwright import wire

        asked = dict.fromkeys(name.strip().upper() for name in call.names)
        checks = [CATALOGUE[name] for name in asked if name in CATALOGUE]
        _print_bytes(wire.encode(wire.pages_out(chosen if call.names else every, checks, mistakes)))
    elif call.names:
        _print("\n\n".join("\n".join(block) for block in blocks) + "\n")
    else:
        _print("\n".join(show_all_pages(every, look)) + "\n")
    return OK


def _cloth(call: Call) -> int:
    from purlwright.cloths import cloths
    from purlwright.files import read_file
    from purlwright.workup import work_up

    name = call.names[0]
    done = cloths(work_up(read_file(name), name), call)
    from purlwright.terminal.print_cloth import show_cloth

    _tell(call, done, lambda: show_cloth(done, _look(), by_row=call.by_row))
    return PATTERN_ERROR if done.errors else OK


def _bench(call: Call) -> int:
    from pathlib import Path

    from purlwright.bench.refusals import Refused

    folder = Path(call.names[0] if call.names else os.curdir)
    if not folder.is_dir():
        raise Unusable(f'There is no folder "{safe(str(folder))}"; make it first, or name another.')
    try:
        if call.launcher:
            from purlwright.bench.launcher import write_launcher

            written, said = write_launcher(folder)
            _print(f"Written: {written}\n{said}\n")
            return OK
        from purlwright.bench.serve import serve

        return serve(folder, port=call.port, show=not call.no_open, say=_print)
    except Refused as why:
        raise Unusable(why.sentence) from None


_COMMANDS: dict[str, Callable[[Call], int]] = {
    "ledger": _ledger,
    "proof": _proof,
    "sheet": _sheet,
    "chart": _chart,
    "clues": _clues,
    "lesson": _lesson,
    "test-knit": _test_knit,
    "cloth": _cloth,
    "suggest": _suggest,
    "compare": _compare,
    "gauge": _gauge,
    "plan": _plan,
    "regauge": _regauge,
    "where": _where,
    "rescue": _rescue,
    "explain": _explain,
    "bench": _bench,
}


def _tell(call: Call, done: Struct, page: Callable[[], list[str]]) -> None:
    """The answer of a command: as JSON if that was asked for, else as a page for a person."""
    if call.json:
        from purlwright import wire

        _print_bytes(wire.encode(done))
    else:
        _print("\n".join(page()) + "\n")


def _judge(findings: Iterable[Finding], call: Call) -> int:
    grave = {"error", "warning"} if call.strict else {"error"}
    return PATTERN_ERROR if any(f.severity.value in grave for f in findings) else OK


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
