"""The machine Reglet is being installed on: what it is, and how programs are run on it."""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Callable, Mapping, Sequence


class Trouble(Exception):
    """Why the command cannot go on: a sentence for the person, and what to do about it."""


@dataclass(frozen=True)
class Finished:
    """How a program ended: its exit status, and its output and errors together."""

    status: int
    output: str


def run(
    command: Sequence[str],
    environment: Mapping[str, str] | None = None,
    heard: Callable[[str], None] | None = None,
) -> Finished:
    """Run a program to its end, handing each line it prints to `heard` as it comes.

    `environment` is added to the present one. The program reads nothing from the keyboard, except
    that sudo may ask for the password on the terminal itself.
    """
    lines: list[str] = []
    try:
        with subprocess.Popen(
            list(command),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            env={**os.environ, **(environment or {})},
            encoding="utf-8",
            errors="replace",
        ) as process:
            assert process.stdout is not None
            for line in process.stdout:
                lines.append(line)
                if heard is not None:
                    heard(line.rstrip())
    except OSError as error:
        return Finished(127, f"{command[0]}: {error}")
    return Finished(process.returncode, "".join(lines))


@dataclass(frozen=True)
class Machine:
    """What the decisions rest on, so that a test can make them on a machine of its own."""

    system: str
    """Linux, Darwin (macOS) or Windows, as `platform.system` names them."""
    is_root: bool
    home: Path
    environment: Mapping[str, str] = field(default_factory=dict)
    find: Callable[[str], str | None] = shutil.which
    """The place of a program, or None."""
    run: Callable[..., Finished] = run
    say: Callable[[str], None] = partial(print, flush=True)

    @staticmethod
    def here() -> Machine:
        """The machine this runs on."""
        environment: dict[str, str] = dict(os.environ)
        return Machine(
            system=platform.system(),
            is_root=hasattr(os, "geteuid") and os.geteuid() == 0,
            home=Path.home(),
            environment=environment,
        )

    @property
    def has_apt(self) -> bool:
        """Whether system packages can be asked after and installed as on Debian and Ubuntu."""
        return self.find("apt-get") is not None and self.find("dpkg-query") is not None
