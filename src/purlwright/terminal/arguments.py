"""The call: the words after ``purlwright``, read into one value.

In: the list of words. Out: a :class:`Call`, or :class:`BadCall` with one sentence and what to do.
Read by hand and with nothing imported, so that ``--help`` opens at once and a slip is answered
in plain words. Files and patterns are not looked at here.
"""

from __future__ import annotations

from purlwright.terminal.fact_options import FACT_OPTIONS
from purlwright.terminal.plan_options import PIECES, PLAN_OPTIONS, QUESTIONS, options_of

__all__ = [
    "ANSWERING",
    "CHART_KINDS",
    "CLOTH_KINDS",
    "COMMANDS",
    "KINDS",
    "LESSON_KINDS",
    "OPTIONS",
    "REPORT_KINDS",
    "ROW_KINDS",
    "BadCall",
    "Call",
    "kinds_of",
    "read_call",
]

COMMANDS = (
    "ledger",
    "proof",
    "sheet",
    "chart",
    "clues",
    "lesson",
    "test-knit",
    "cloth",
    "suggest",
    "compare",
    "gauge",
    "plan",
    "regauge",
    "where",
    "rescue",
    "explain",
    "bench",
)
ANSWERING = tuple(command for command in COMMANDS if command != "bench")
"""The commands that print one answer and end."""
KINDS = ("pdf", "letter", "large", "html", "follow", "text", "spoken")
"""The forms of a sheet that ``--as`` takes."""
CHART_KINDS = ("svg", "png", "pdf")
"""The forms of a chart."""
CLOTH_KINDS = ("svg", "png", "glb")
"""The forms of a picture of the cloth."""
LESSON_KINDS = ("pdf", "letter", "html")
"""The forms of a lesson."""
ROW_KINDS = ("frames", "vtt")
"""The forms of one row of it, for a film."""
REPORT_KINDS = ("pdf", "letter", "large", "html")
"""The forms of an editor's report that it takes."""

# option -> (commands that take it, the word for its value or "", what it does)
OPTIONS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "--size": (
        (
            "ledger",
            "proof",
            "sheet",
            "chart",
            "clues",
            "lesson",
            "test-knit",
            "cloth",
            "suggest",
            "compare",
            "where",
            "rescue",
        ),
        "NAME",
        "This size only; 'ledger --size all' lists every size.",
    ),
    "--option": (
        ("ledger", "proof", "sheet", "chart", "clues", "lesson", "test-knit", "cloth", "where", "rescue"),
        "NAME=VALUE",
        "Take this value of one of the pattern's own options.",
    ),
    "--as": (
        ("sheet", "chart", "lesson", "cloth", "proof"),
        "KINDS",
        "Write these forms only, with commas between; the command's own help lists them.",
    ),
    "--section": (
        ("chart", "clues", "lesson", "cloth"),
        "NAME",
        "This section only; for a chart also a stitch pattern or a typed chart.",
    ),
    "--rows": (
        ("chart", "cloth", "gauge", "plan"),
        "N-M",
        "Show the rows with these numbers only; for gauge, how long N rows are; for plan, over N rows.",
    ),
    "--seen-from": (("cloth",), "right|wrong", "Show the cloth, or the rows, from this side."),
    "--columns": (("cloth",), "N-M", "Of the rows show these stitches only, counted from the right edge."),
    "--outlines": (("cloth",), "", "Draw the outline of each piece to scale, with its measures, instead."),
    "--yarn-left": (
        ("cloth",),
        "AMOUNT",
        "What so much yarn is still enough for: '34 g'; of several yarns, 'B: 20 m'.",
    ),
    "--by-row": (("cloth",), "", "List every row with the yarn that is gone after it, and still needed."),
    "--width": (("gauge",), "LENGTH", "How many stitches are so wide: --width '45 cm'."),
    "--length": (
        ("gauge", "plan"),
        "LENGTH",
        "How many rows are so long; for plan, how long it is, one a size.",
    ),
    "--stitches": (("gauge", "plan"), "N", "How wide so many stitches are; for plan, over so many."),
    "--multiple": (("gauge",), "4n+2", "Count stitches in whole repeats."),
    "--seam": (("gauge",), "N", "So many stitches go into seams and add no width."),
    "--mine": (("gauge",), "GAUGE", "Your own gauge, set beside the pattern's."),
    "--swatch": (
        ("gauge",),
        "MEASURES",
        "Your swatch: '28 sts = 12.4 cm, 40 rows = 13.2 cm'; again for each place.",
    ),
    "--washed": (("gauge",), "MEASURES", "The same swatch after washing; it is what counts."),
    "--within": (("gauge",), "LENGTH", "How far your measuring may be off; 2 mm if not said."),
    "--counts": (("chart",), "", "Write the number of stitches after each row into the chart."),
    "--words": (("chart",), "", "Print the rows of each chart in words too."),
    "--left-handed": (("sheet", "chart"), "", "Mirror it, for one who knits left-handed."),
    "--out": (
        ("sheet", "chart", "lesson", "test-knit", "cloth", "proof"),
        "FOLDER",
        "Write into this folder; else beside the pattern.",
    ),
    "--terms": (("sheet", "chart"), "us|uk", "Say it in US or in UK terms."),
    "--units": (("sheet",), "NAME", "Give lengths as metric, imperial or both."),
    "--unproved": (("sheet",), "", "Write a sheet although the pattern has errors; it says so."),
    "--minutes": (("lesson",), "N", "So many minutes for one lesson; 60 if it is not said."),
    "--pace": (("lesson",), "N", "So many plain stitches a minute; 15 if it is not said."),
    "--learners": (("lesson",), "N", "So many learners in the class; 8 if it is not said."),
    "--play": (("lesson",), "ROW", "Write this row as frames and captions for a film: --play 'Row 7'."),
    "--answers": (("test-knit",), "FORM", "A form that came back; again for each further one."),
    "--brief": (("ledger",), "", "Write rows that repeat once, with how often they are worked."),
    "--all": (("proof", "clues"), "", "List every check, or every clue, not only those that matter most."),
    "--repairs": (("proof",), "", "Look for repairs in several patterns too; of one they are always sought."),
    "--report": (
        ("proof",),
        "",
        "Write an editor's report to send on; --as pdf,html writes it to files.",
    ),
    "--notice": (("compare",), "", "Write the corrections notice to send out, instead of the page."),
    "--jobs": (("proof",), "N", "Prove so many patterns side by side; else one for each core."),
    **FACT_OPTIONS,
    **PLAN_OPTIONS,
    "--port": (("bench",), "N", "Listen at this port of your own machine; else at a free one."),
    "--no-open": (("bench",), "", "Print the address only, and leave the browser alone."),
    "--launcher": (("bench",), "", "Write a file that opens the bench when it is double-clicked."),
    "--json": (
        ANSWERING,
        "",
        "Answer with one JSON object, for other programs.",
    ),
    "--strict": (("ledger", "proof"), "", "Let a warning count as an error: the answer is 1."),
    "--help": (COMMANDS, "", "Show how a command is called."),
    "--version": ((), "", "Say which Purlwright this is."),
}
MOST_JOBS = 256
_SHORT = {"-h": "--help", "-V": "--version"}


class BadCall(Exception):  # noqa: N818 - it is a call that cannot be followed, not a fault
    """The call cannot be followed. The message is one sentence for the person who typed it."""


class Call:
    """What was asked: a command, its files or codes, and the options given."""

    __slots__ = (
        "all", "answers", "brief", "by_row", "columns", "command", "counts", "facts", "facts_file", "help",
        "jobs", "json", "kinds", "launcher", "learners", "left_handed", "length", "letter", "mine", "minutes",
        "multiple", "names", "no_open", "notice", "options", "out", "outlines", "pace", "plan", "play",
        "port", "repairs", "report", "rows", "seam", "section", "seen_from", "size", "stitches", "strict",
        "swatch", "terms", "units", "unproved", "version", "washed", "width", "within", "words", "yarn_left",
    )  # fmt: skip

    def __init__(self) -> None:
        self.command = ""
        self.names: list[str] = []
        self.size: str | None = None
        self.options: list[tuple[str, str]] = []
        self.jobs: int | None = None
        self.json = self.strict = self.brief = self.all = self.help = self.version = False
        self.repairs = self.report = self.notice = self.unproved = False
        self.kinds: list[str] = []
        self.out: str | None = None
        self.section: str | None = None
        self.rows: tuple[int, int] | None = None
        self.columns: tuple[int, int] | None = None
        self.counts = self.words = self.left_handed = False
        self.terms = self.units = ""
        self.width = self.length = self.multiple = self.mine = self.within = ""
        self.swatch: list[str] = []
        self.washed: list[str] = []
        self.yarn_left: list[str] = []
        self.by_row = self.outlines = False
        self.seen_from = ""
        self.stitches: int | None = None
        self.seam = 0
        self.facts: list[tuple[str, str]] = []
        """What she says of her work: options as typed, in order."""
        self.facts_file: str | None = None
        self.plan: dict[str, list[str]] = {}
        """What a plan is asked: option as typed, and its words each time it was given; "" for one without a
        value.
        """
        self.letter = False
        self.minutes = self.pace = self.learners = 0
        self.play: str | None = None
        self.port: int | None = None
        self.no_open = self.launcher = False
        self.answers: list[str] = []


def kinds_of(command: str) -> tuple[str, ...]:
    """The forms that ``--as`` takes after a command."""
    known = {
        "chart": CHART_KINDS,
        "cloth": CLOTH_KINDS,
        "proof": REPORT_KINDS,
        "lesson": (*LESSON_KINDS, *ROW_KINDS),
    }
    return known.get(command, KINDS)


def _near(word: str, known: tuple[str, ...]) -> str:
    """`; did you mean "proof"?` when one known word is near, else the list of them."""
    import difflib  # only when the call is wrong

    close = difflib.get_close_matches(word, known, n=2, cutoff=0.6)
    if len(close) == 1 or (len(close) == 2 and word.startswith(close[0][:3])):
        return f'; did you mean "{close[0]}"?'
    return f"; there are {', '.join(known[:-1])} and {known[-1]}."


def _options_of(command: str) -> tuple[str, ...]:
    return tuple(o for o, (commands, *_) in OPTIONS.items() if command in commands)


def _command_among(words: list[str]) -> str:
    """The command that a call names, if it names one."""
    return next((word for word in words if word in COMMANDS), "")


def _near_option(option: str, command: str) -> str:
    """The near option, of the command's own before all others; else those that the command takes."""
    import difflib  # only when the call is wrong

    own = _options_of(command)
    for known in (own, tuple(OPTIONS)):
        if difflib.get_close_matches(option, known, n=1, cutoff=0.6):
            return _near(option, known)
    return f"; {command} takes {' '.join(own)}." if own else _near(option, tuple(OPTIONS))


def _value_of_option(given: str) -> tuple[str, str]:
    name, equals, value = given.partition("=")
    if not equals or not name.strip() or not value.strip():
        raise BadCall(
            f'--option takes NAME=VALUE, for example --option "turns=double stitch"; "{given}" is not that.'
        )
    return name.strip(), value.strip()


def _take(call: Call, option: str, value: str) -> None:
    """Write one option into the call."""
    if option == "--size":
        if not value.strip():
            raise BadCall("--size takes the name of a size.")
        call.size = value.strip()
    elif option == "--jobs":
        if not (
            value.isascii() and value.isdecimal() and 1 <= int(value[:5]) <= MOST_JOBS and len(value) < 5
        ):
            raise BadCall(f'--jobs takes a whole number from 1 to {MOST_JOBS}; "{value}" is not that.')
        call.jobs = int(value)
    elif option in {"--minutes", "--pace", "--learners"}:
        setattr(call, option[2:], _whole(option, value))
    elif option == "--play":
        if not value.strip():
            raise BadCall("--play takes the name of a row, for example --play 'Row 7'.")
        call.play = value.strip()
    elif option == "--option":
        call.options.append(_value_of_option(value))
    elif option == "--as":
        call.kinds = [word.strip() for word in value.split(",")]
    elif option == "--section":
        if not value.strip():
            raise BadCall("--section takes the heading of a section, or the name of a chart.")
        call.section = value.strip()
    elif option == "--rows":
        call.rows = _rows(value)
    elif option == "--columns":
        call.columns = _rows(value, "--columns")
    elif option in {"--width", "--length", "--multiple", "--mine", "--within"}:
        if not value.strip():
            raise BadCall(f"{option} takes a value: {option} {OPTIONS[option][1]}.")
        setattr(call, option[2:], value.strip())
    elif option == "--seen-from":
        call.seen_from = _one_of(option, value, ("right", "wrong"))
    elif option in {"--swatch", "--washed", "--yarn-left"}:
        getattr(call, option[2:].replace("-", "_")).append(value)
    elif option == "--stitches":
        call.stitches = _number(option, value)
    elif option == "--seam":
        call.seam = _number(option, value)
    elif option == "--answers":
        if not value.strip():
            raise BadCall("--answers takes the name of a file.")
        call.answers.append(value)
    elif option == "--letter":
        call.letter = True
    elif option == "--facts":
        if not value.strip():
            raise BadCall("--facts takes the name of a file.")
        call.facts_file = value
    elif option in PLAN_OPTIONS:
        if OPTIONS[option][1] and not value.strip():
            raise BadCall(f"{option} takes a value: {option} {OPTIONS[option][1]}.")
        call.plan.setdefault(option, []).append(value.strip())
    elif option in FACT_OPTIONS:
        call.facts.append((option, value.strip()))
    elif option == "--port":
        call.port = _port(option, value)
    elif option == "--out":
        if not value.strip():
            raise BadCall("--out takes the name of a folder.")
        call.out = value
    elif option == "--terms":
        call.terms = _one_of(option, value, ("us", "uk"))
    elif option == "--units":
        call.units = _one_of(option, value, ("metric", "imperial", "both"))
    else:
        setattr(call, option[2:].replace("-", "_"), True)


def _number(option: str, value: str) -> int:
    given = value.strip()
    if not (given.isascii() and given.isdecimal() and len(given) < 6 and int(given)):
        raise BadCall(f'{option} takes a whole number from 1 to 99999; "{value}" is not that.')
    return int(given)


def _whole(option: str, value: str) -> int:
    """A whole number of a lesson, from 1 to 999."""
    word = value.strip()
    if not (word.isascii() and word.isdecimal() and len(word) <= 3 and int(word) > 0):
        raise BadCall(f'{option} takes a whole number from 1 to 999; "{word}" is not that.')
    return int(word)


def _port(option: str, value: str) -> int:
    """A port that a person may choose: those below 1024 belong to the system."""
    given = value.strip()
    if not (given.isascii() and given.isdecimal() and len(given) < 6 and 1024 <= int(given) <= 65535):
        raise BadCall(f'{option} takes a whole number from 1024 to 65535; "{value}" is not that.')
    return int(given)


def _rows(value: str, option: str = "--rows") -> tuple[int, int]:
    first, dash, last = (part.strip() for part in value.partition("-"))
    given = (first, last if dash else first)
    if not all(n.isascii() and n.isdecimal() and len(n) < 6 for n in given):
        raise BadCall(f'{option} takes one number or two, for example {option} 1-24; "{value}" is not that.')
    if int(given[0]) > int(given[1]):
        raise BadCall(f"{option} begins with the lower number: {option} {given[1]}-{given[0]}.")
    return int(given[0]), int(given[1])


def _one_of(option: str, value: str, known: tuple[str, ...]) -> str:
    word = value.strip().lower()
    if word not in known:
        raise BadCall(
            f'{option} takes {", ".join(known[:-1])} or {known[-1]}; "{value.strip()}" is not that.'
        )
    return word


def read_call(words: list[str]) -> Call:
    """Read the words after ``purlwright``.

    ``purlwright COMMAND NAME... [OPTION...]``, options anywhere; ``--size=M`` and ``--size M`` both;
    ``--`` ends the options; ``-`` is a name (standard input). Raises BadCall.
    """
    call, given = Call(), []
    rest = list(words)
    only_names = False
    while rest:
        word = rest.pop(0)
        if only_names or word == "-" or not word.startswith("-"):
            if not call.command and not only_names:
                call.command = word
            else:
                call.names.append(word)
            continue
        if word == "--":
            only_names = True
            continue
        option, equals, value = word.partition("=")
        option = _SHORT.get(option, option)
        if option not in OPTIONS:
            raise BadCall(f'There is no option "{option}"{_near_option(option, _command_among(words))}')
        if OPTIONS[option][1]:
            if not equals:
                if not rest:
                    raise BadCall(f"{option} takes a value: {option} {OPTIONS[option][1]}.")
                value = rest.pop(0)
        elif equals:
            raise BadCall(f"{option} takes no value.")
        given.append(option)
        _take(call, option, value)
    _judge(call, given)
    return call


def _judge(call: Call, given: list[str]) -> None:
    """Refuse what does not go together."""
    if call.version or (call.help and not call.command):
        return
    if not call.command:
        if given or call.names:
            raise BadCall(f"Say first what to do: {', '.join(COMMANDS[:-1])} or {COMMANDS[-1]}.")
        call.help = True
        return
    if call.command not in COMMANDS:
        raise BadCall(f'There is no command "{call.command}"{_near(call.command, COMMANDS)}')
    if call.help:
        return
    for option in given:
        if call.command not in OPTIONS[option][0]:
            takes = " ".join(_options_of(call.command))
            raise BadCall(f"{option} means nothing to {call.command}; it takes {takes}.")
    if call.command not in {"proof", "compare", "gauge", "plan", "bench", "explain"} and len(call.names) != 1:
        raise BadCall(f"{call.command} takes one file; write - to read from standard input.")
    if "--as" in given:
        known = kinds_of(call.command)
        if call.command == "lesson":
            known = LESSON_KINDS if call.play is None else ROW_KINDS
        call.kinds = [_one_of("--as", word, known) for word in call.kinds if word]
        if not call.kinds:
            raise BadCall(f"--as takes one or more of {', '.join(known)}, with commas between.")
    if call.command == "bench" and len(call.names) > 1:
        raise BadCall("bench takes one folder, or none for the one you work in.")
    if call.command == "gauge":
        _judge_gauge(call)
    if call.command == "plan":
        _judge_plan(call, given)
    if call.command == "regauge" and "--gauge" not in given:
        raise BadCall('Say the new gauge: regauge FILE --gauge "20 sts and 40 rows to 10 cm".')
    if call.command == "regauge" and (len(call.names) != 1 or "--gauge" not in given):
        raise BadCall(
            'regauge takes one file and a gauge: regauge FILE --gauge "20 sts and 40 rows to 10 cm".'
        )
    if call.command == "lesson" and call.section is not None and call.play is None:
        raise BadCall(
            "--section of a lesson says where the row of --play stands; a lesson is of the whole pattern."
        )
    if call.command == "cloth" and call.seen_from and call.kinds == ["glb"]:
        raise BadCall("A solid is turned about in its viewer; leave out --seen-from, or ask for svg or png.")
    if call.command == "cloth" and call.outlines:
        if call.rows is not None or call.section is not None or call.seen_from:
            raise BadCall("--outlines are of whole pieces from the right side; leave out the rest.")
        if call.kinds == ["glb"]:
            raise BadCall("An outline is flat: it is written as svg or png.")
    if call.command == "cloth" and call.columns and call.rows is None and call.section is None:
        raise BadCall("--columns is for a close-up; say which rows with --rows or --section.")
    if call.command == "compare" and len(call.names) != 2:
        raise BadCall("compare takes two files: the older version, then the newer one.")
    if call.command == "compare" and call.notice and call.json:
        raise BadCall("--json has the notice in it; leave out --notice.")
    if call.command == "proof" and not call.names:
        raise BadCall("proof takes one or more files or folders; write - to read from standard input.")
    if call.command == "proof" and (call.kinds or call.out is not None):
        _judge_written_report(call)
    if call.report and call.all:
        raise BadCall("--report lists every check as it is; leave out --all.")
    if call.letter and call.json:
        raise BadCall("--letter writes a text; leave out --json.")
    if call.answers and call.out is not None:
        raise BadCall("--answers writes no files; leave out --out.")
    if [call.facts_file, *call.answers, *call.names].count("-") > 1:
        raise BadCall("Standard input can be read once only.")
    names = [name for name, _ in call.options]
    for name in names:
        if names.count(name) > 1:
            raise BadCall(f'--option gives "{name}" twice.')


def _judge_gauge(call: Call) -> None:
    """One gauge, and one way to say one's own."""
    if len(call.names) > 1:
        raise BadCall('gauge takes one gauge in quotes: gauge "22 sts and 30 rows to 10 cm".')
    if call.rows is not None and (call.rows[0] != call.rows[1] or not call.rows[0]):
        raise BadCall("For gauge, --rows takes one number above 0: --rows 64.")
    if call.mine and (call.swatch or call.washed):
        raise BadCall("Give your own gauge as --mine, or your swatch as --swatch and --washed; not both.")


def _judge_plan(call: Call, given: list[str]) -> None:
    """One plan, and only what goes with it."""
    plans = (*PIECES, *QUESTIONS)
    if not call.names:
        if call.plan:
            raise BadCall("Say first what to plan, for example plan hat; plan alone lists what there is.")
        return
    if len(call.names) > 1:
        raise BadCall("plan takes one thing to plan; put the words of an option in quotes.")
    if call.names[0] not in plans:
        raise BadCall(f'There is no plan for "{call.names[0]}"{_near(call.names[0], plans)}')
    for option in given:
        if option != "--json" and option not in options_of(call.names[0]):
            known = " ".join(options_of(call.names[0]))
            raise BadCall(f"{option} means nothing to plan {call.names[0]}; it takes {known}.")
    for option, words in call.plan.items():
        if len(words) > 1 and option not in {"--want", "--rule"}:
            raise BadCall(f"{option} is given twice.")
    if call.rows is not None and (call.rows[0] != call.rows[1] or not call.rows[0]):
        raise BadCall("For plan, --rows takes one number above 0: --rows 64.")


def _judge_written_report(call: Call) -> None:
    """``--as`` and ``--out`` of a proof are for the report of one pattern."""
    if not call.report or not call.kinds:
        raise BadCall("Of a proof, the report alone is written to files: --report --as pdf.")
    if len(call.names) != 1:
        raise BadCall("--as writes the report of one pattern; name one file.")
