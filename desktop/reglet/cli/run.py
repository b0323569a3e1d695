"""The commands, what each is told, and what an error ends with."""

from __future__ import annotations

import os
import sys
import traceback
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import NoReturn

from reglet import __version__
from reglet.cli import (
    answering,
    around,
    arranging,
    asking,
    figures,
    history,
    listening,
    making,
    reading,
    returning,
    settling,
    structure,
)
from reglet.errors import RegletError, WriterError
from reglet.manuscript.stage import REVISING
from reglet.voice.coverage import AIM, AIMS

Work = Callable[[Namespace], int]
"""A command: what it was told, and the exit status it ends with."""

COMMANDS = (
    "new",
    "scenes",
    "text",
    "queries",
    "overlays",
    "figures",
    "outline",
    "cast",
    "views",
    "plan",
    "work",
    "add",
    "move",
    "split",
    "merge",
    "cut",
    "offcuts",
    "put-back",
    "rename",
    "replace",
    "copy",
    "notes",
    "note",
    "answer",
    "take",
    "stet",
    "rest",
    "cover",
    "matter",
    "snapshot",
    "history",
    "compare",
    "roll-back",
    "export",
    "take-back",
    "listen",
    "say",
    "voices",
    "said",
    "heard",
    "spot",
    "settle",
    "verify",
)


def run(arguments: Sequence[str]) -> int:
    """Do what the command line asks for; the exit status."""
    for stream in (sys.stdout, sys.stderr):
        # The same bytes on every system, so that positions in the text hold.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace", newline="\n")
    return guarded(lambda: _do(arguments))


def guarded(work: Callable[[], int]) -> int:
    """The exit status of `work`; what it raises becomes a sentence on standard error.

    With REGLET_TRACE set in the environment, a fault of ours is shown with where it arose.
    """
    try:
        return work()
    except WriterError as error:
        print(error, file=sys.stderr)
        return 2
    except BrokenPipeError:
        # Whoever read our answer has had enough. Nothing more can be written, not even at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        print("Stopped. What was saved before is safe.", file=sys.stderr)
        return 130
    except Exception as error:
        if os.environ.get("REGLET_TRACE"):
            traceback.print_exc()
        elif isinstance(error, RegletError):
            print(error, file=sys.stderr)
        else:
            print(
                f"Reglet made a mistake ({type(error).__name__}: {error}). What was saved before "
                "is safe; with REGLET_TRACE=1 in the environment the command shows where it was.",
                file=sys.stderr,
            )
        return 1


class _Parser(ArgumentParser):
    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{message[:1].upper()}{message[1:]}; see {self.prog} --help.\n")


def _do(arguments: Sequence[str]) -> int:
    asked = parser().parse_args(arguments)
    work: Work = asked.work
    status = work(asked)
    sys.stdout.flush()
    return status


def parser() -> ArgumentParser:
    """The parser of the whole command line, for help and for the commands."""
    top = _Parser(
        prog="reglet",
        description="Revise a novel in stages, with every earlier state kept. “reglet BOOK” opens "
        "a book in the window, or brings in a draft; a command does one job without a window.",
    )
    top.add_argument("--version", action="version", version=f"Reglet {__version__}")
    commands = top.add_subparsers(metavar="COMMAND", required=True)

    def command(name: str, work: Work, told: str, json: bool = False) -> ArgumentParser:
        each = commands.add_parser(name, help=told, description=told)
        each.set_defaults(work=work)
        each.add_argument("book", type=Path, metavar="BOOK", help="a book file (.reglet)")
        if json:
            each.add_argument("--json", action="store_true", help="answer in JSON")
        return each

    new = command("new", making.new, "Make a book file.")
    new.add_argument(
        "--from",
        dest="source",
        type=Path,
        metavar="FILE",
        help="a draft (.docx, .odt, .txt, .md), or a book file, damaged or not, to take the "
        "text of",
    )
    new.add_argument("--title", help="the book's title, if not the one in the draft")
    new.add_argument("--author", help="the author's name, if not the one in the draft")

    command("scenes", reading.scenes, "List the scenes in order.", json=True)

    text = command("text", reading.text, "Print the text, a paragraph a line.", json=True)
    _scene(text, "print only this scene")

    queries = command("queries", asking.queries, "List the queries of a stage.", json=True)
    queries.add_argument("--stage", required=True, choices=[stage.value for stage in REVISING])
    queries.add_argument("--overlay", metavar="NAME", help="only those of this overlay")
    _scene(queries, "only those in this scene")

    told = "List the overlays, with the reason and the source of each."
    checks = commands.add_parser("overlays", help=told, description=told)
    checks.set_defaults(work=asking.overlays)
    checks.add_argument("--stage", choices=[stage.value for stage in REVISING], help="only its own")
    checks.add_argument("--json", action="store_true", help="answer in JSON")

    measured = command("figures", figures.figures, "Print what the scenes measure.", json=True)
    _scene(measured, "only those of this scene")

    command("outline", structure.outline, "Print the reverse outline.", json=True)
    command("cast", structure.cast, "List the people named in the book.", json=True)
    drawn = command("views", structure.views, "Draw the whole-book views as SVG.")
    drawn.add_argument("out", type=Path, metavar="OUT", help="a file to make (.svg)")
    drawn.add_argument("--overwrite", action="store_true", help="replace OUT")
    planned = command("plan", structure.plan, "Set the plan the writer began from.")
    planned.add_argument("plan", type=Path, metavar="PLAN", help="an outline (.md, .txt)")
    command("work", structure.work, "List what is left to do.", json=True)

    arranging.add_commands(command)
    answering.add_commands(command)
    around.add_commands(command)

    snapshot = command(
        "snapshot", history.snapshot, "Keep the book, or a scene, as it is.", json=True
    )
    snapshot.add_argument("--label", required=True, metavar="TEXT", help="what to call it")
    _scene(snapshot, "keep only this scene")

    past = command("history", history.history, "List the snapshots.", json=True)
    _scene(past, "only those that hold this scene")

    compare = command(
        "compare", history.compare, "Show what changed between two states.", json=True
    )
    compare.add_argument("earlier", metavar="FROM", help="a snapshot's id, or “now”")
    compare.add_argument("later", metavar="TO", help="a snapshot's id, or “now”")
    _scene(compare, "compare only this scene")

    roll_back = command("roll-back", history.roll_back, "Put a scene back as it was.")
    _scene(roll_back, "the scene to put back", required=True)
    roll_back.add_argument("--to", required=True, metavar="SNAPSHOT", help="a snapshot's id")
    roll_back.add_argument(
        "--passage",
        type=int,
        metavar="N",
        help="only the Nth changed passage, as “compare SNAPSHOT now --scene ID” counts them",
    )

    export = command(
        "export", making.export, "Write the book as a manuscript, an e-book, or pages to print."
    )
    export.add_argument(
        "out", type=Path, metavar="OUT", help="a file to make (.docx, .epub, .pdf, .md)"
    )
    export.add_argument(
        "--overwrite", action="store_true", help="replace OUT, keeping what it was as OUT.bak"
    )

    back = command(
        "take-back",
        returning.take_back,
        "Make notes of what an editor or a reader wrote into a copy of the manuscript.",
    )
    back.add_argument("copy", type=Path, metavar="COPY", help="the copy (.docx, .odt, .md, .txt)")

    listen = command("listen", listening.listen, "Write the book as sound files, one a chapter.")
    listen.add_argument("--to", type=Path, required=True, metavar="FOLDER", help="where to")
    listen.add_argument(
        "--chapter",
        type=int,
        action="append",
        metavar="N",
        help="only the Nth chapter of the book; may be given more than once",
    )
    listening.add_voice_options(listen)

    told = "Write a text as a sound file, to try a voice or a name."
    say = commands.add_parser("say", help=told, description=told)
    say.set_defaults(work=listening.say)
    say.add_argument("text", metavar="TEXT", help="what to say")
    say.add_argument("--to", type=Path, required=True, metavar="FILE", help=".opus, .mp3 or .wav")
    say.add_argument("--book", type=Path, metavar="BOOK", help="say its names as it has them said")
    listening.add_voice_options(say)

    told = "Tell the voices that sound files can be written with."
    voices = commands.add_parser("voices", help=told, description=told)
    voices.set_defaults(work=listening.voices)
    voices.add_argument("--language", default="en-US", metavar="TAG", help="such as en-GB")

    said = command("said", listening.said, "Tell or set how the book's names are said.")
    said.add_argument("word", nargs="?", metavar="WORD", help="one word of a name")
    said.add_argument("as_", nargs="?", metavar="AS", help="spelt as it sounds, or as IPA in [[ ]]")
    said.add_argument("--forget", action="store_true", help="let the voice say it its own way")

    heard = command("heard", listening.heard, "Tell what has been listened to.", json=True)
    heard.add_argument(
        "--aim", type=int, choices=AIMS, default=AIM, help="how often it is to be heard; 3"
    )

    spot = command("spot", listening.spot, "Find a spot of the sound files.", json=True)
    spot.add_argument("spot", metavar="SPOT", help="such as “ch. 7, 12:40”")
    spot.add_argument(
        "--in",
        dest="folder",
        type=Path,
        required=True,
        metavar="FOLDER",
        help="where the sound files and their cues.json are",
    )

    settle = command("settle", settling.settle, "Put one way through the whole book.")
    settle.add_argument("overlay", metavar="OVERLAY", help="such as “variety” or “compound”")
    settle.add_argument("--words", metavar="TEXT", help="only what is asked about these words")
    settle.add_argument("--to", metavar="WAY", help="this way in place of the commoner one")
    settle.add_argument("--list", action="store_true", help="only tell what could be settled")

    command("verify", making.verify, "Check everything a book file promises.", json=True)
    return top


def _scene(each: ArgumentParser, told: str, required: bool = False) -> None:
    each.add_argument("--scene", metavar="ID", required=required, help=told)
