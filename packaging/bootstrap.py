"""Start Reglet, or test it, on a machine that has only Python.

    python3 packaging/bootstrap.py run          opens the demo book, in a copy you may spoil
    python3 packaging/bootstrap.py run FILE     opens a book, or brings in a draft
    python3 packaging/bootstrap.py test         runs every check and test

Both make the folder .venv and install Reglet and what it needs into it. On Debian and Ubuntu they
also install the system libraries that are missing, saying first which and why. Nothing but Python's
standard library is used here.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

from machine import Machine, Trouble
from system_libraries import TO_RUN, TO_TEST, prepare
from virtual_environment import VirtualEnvironment, require_python

CHECKOUT = Path(__file__).resolve().parent.parent


def main(arguments: list[str]) -> int:
    """Do what the command line asks; gives the exit status."""
    parser = argparse.ArgumentParser(
        prog="python3 packaging/bootstrap.py",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="run | test")
    run = commands.add_parser("run", help="open the window")
    run.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a book or a draft")
    commands.add_parser("test", help="run every check and test")
    asked = parser.parse_args(arguments)
    machine = Machine.here()
    try:
        require_python(machine, sys.version_info[:2])
        if asked.command == "test":
            return test(machine, CHECKOUT)
        return open_window(machine, CHECKOUT, asked.file)
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped. Give the command again to go on where it was.", file=sys.stderr)
        return 130


def open_window(machine: Machine, checkout: Path, file: Path | None) -> int:
    """Install what is missing, then become Reglet, with `file` or the demo book open.

    Raises Trouble when something is wrong that the person can put right.
    """
    if file is not None:
        file = file.absolute()
        if not file.exists():
            raise Trouble(f"There is no file {file}. Look at its name and place.")
    prepare(machine, TO_RUN)
    reglet = VirtualEnvironment(machine, checkout)
    reglet.install()
    require_screen(machine)
    book = file or demo_copy(machine, checkout, reglet)
    # -P: no file in the folder where the command is given may pass for one of Reglet's own.
    command = [str(reglet.python), "-P", "-m", "reglet", str(book)]
    if machine.system != "Windows":  # where exec would hand the terminal back before the end
        sys.stdout.flush()
        os.execv(command[0], command)
    return subprocess.call(command)


def require_screen(machine: Machine) -> None:
    """Raise Trouble when there is nothing to open a window on."""
    signs = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    if machine.system == "Linux" and not any(machine.environment.get(sign) for sign in signs):
        raise Trouble(
            "Reglet is installed, but there is no screen here to open its window on. Give the"
            " command again in a terminal of your desktop."
        )


def data_folder(machine: Machine) -> Path:
    """Where this system keeps what a program stores for its user."""
    told = machine.environment.get
    if machine.system == "Windows":
        return Path(told("LOCALAPPDATA") or machine.home / "AppData" / "Local") / "reglet"
    if machine.system == "Darwin":
        return machine.home / "Library" / "Application Support" / "reglet"
    # XDG Base Directory Specification 0.8
    return Path(told("XDG_DATA_HOME") or machine.home / ".local" / "share") / "reglet"


def demo_copy(machine: Machine, checkout: Path, reglet: VirtualEnvironment) -> Path:
    """The demo book as a book file of the user's own, made when it is not there yet.

    Raises Trouble when it could not be made.
    """
    book = data_folder(machine) / "demo book.reglet"
    if book.exists():
        return book
    draft = checkout / "demo_book" / "draft.docx"
    unfinished = book.with_name("unfinished demo book.reglet")
    try:
        book.parent.mkdir(parents=True, exist_ok=True)
        if unfinished.exists():
            unfinished.unlink()
        made = machine.run(
            [str(reglet.python), "-P", "-m", "reglet", "new", str(unfinished), "--from", str(draft)]
        )
        if made.status != 0:
            raise Trouble(f"The demo book could not be made from {draft}.\n{made.output.strip()}")
        unfinished.replace(book)
    except OSError as error:
        raise Trouble(
            f"The demo book could not be put into {book.parent}: {error.strerror}. Make room or"
            " leave to write there, then give the command again."
        ) from error
    return book


def test(machine: Machine, checkout: Path) -> int:
    """Install what is missing, then run every check, and the tests last; 0 when all pass.

    Raises Trouble when the installation fails.
    """
    prepare(machine, TO_TEST)
    reglet = VirtualEnvironment(machine, checkout)
    reglet.install("test")
    checks = {
        "code style": [str(reglet.program("ruff")), "check"],
        "layout of the code": [str(reglet.program("ruff")), "format", "--check", "--quiet"],
        "types": [str(reglet.program("mypy"))],
        "layers": [str(reglet.program("lint-imports"))],
    }
    failed = []
    for name, command in checks.items():
        print(f"\n== {name}: {' '.join([Path(command[0]).name, *command[1:]])}", flush=True)
        if subprocess.call(command, cwd=checkout) != 0:
            failed.append(name)
    print("\n== tests: pytest", flush=True)
    if failed:
        print(f"(Failed so far: {', '.join(failed)}. See above.)", flush=True)
    tests = subprocess.call([str(reglet.python), "-m", "pytest"], cwd=checkout)
    return 1 if failed or tests != 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
