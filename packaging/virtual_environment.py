"""The folder `.venv` that Reglet is installed into, and whether it is up to date."""

from __future__ import annotations

import hashlib
import importlib.util
import re
import shutil
import sys
import tempfile
from pathlib import Path

from machine import Machine, Trouble
from system_libraries import Need, install_debian

OLDEST = (3, 11)
SPACE = {"": 700_000_000, "test": 1_400_000_000}
"""Bytes that must be free for each way to install: twice what it takes, for what pip unpacks."""


def require_python(machine: Machine, version: tuple[int, int]) -> None:
    """Raise Trouble when this Python is too old, naming a newer one that is on this machine."""
    if version >= OLDEST:
        return
    told = "Reglet needs Python 3.11 or newer; this is Python {}.{}.".format(*version)
    for minor in range(20, OLDEST[1] - 1, -1):
        name = f"python3.{minor}"
        if machine.find(name) and machine.run([name, "--version"]).status == 0:
            raise Trouble(
                f"{told} This machine has {name} as well: give the same command again with {name}"
                " in the place of python3."
            )
    advice = {
        "Darwin": "Install one with `brew install python` or from python.org",
        "Windows": "Install one from python.org or the Microsoft Store",
    }.get(
        machine.system,
        "Install one (on Debian 12 and Ubuntu 24.04 the package python3 is new enough; on Ubuntu"
        " 22.04 take python3.11 and python3.11-venv)",
    )
    raise Trouble(f"{told} {advice}, then give the command again.")


class VirtualEnvironment:
    """The `.venv` of one checkout, with Reglet installed so that the checkout's own code runs."""

    def __init__(self, machine: Machine, checkout: Path) -> None:
        self._machine = machine
        self._checkout = checkout
        self._folder = checkout / ".venv"
        windows = machine.system == "Windows"
        self._programs = self._folder / ("Scripts" if windows else "bin")
        self.python = self._programs / ("python.exe" if windows else "python")

    def program(self, name: str) -> Path:
        """The place of a program that was installed with Reglet."""
        return self._programs / (name + self.python.suffix)

    def install(self, extra: str = "") -> None:
        """Make sure Reglet and what it needs is installed; `extra` is `test` or nothing.

        Does nothing when that was done before and neither `pyproject.toml` nor this Python has
        changed since. Raises Trouble with a sentence otherwise than by success.
        """
        if self.python.exists() and self._is_installed(extra):
            return
        if not self._works():
            if shutil.disk_usage(self._checkout).free < SPACE[extra]:
                raise Trouble(self._disk_is_full(extra))
            self._make(extra)
        marker = self._marker(extra)
        try:
            if marker.exists():  # an installation that is broken off must not look whole
                marker.unlink()
            self._pip_install(extra)
            marker.write_text(self._stamp(), "utf-8")
        except OSError as error:
            raise Trouble(self._why_pip_failed(str(error), extra)) from error

    def _marker(self, extra: str) -> Path:
        return self._folder / f"installed-{extra or 'reglet'}.txt"

    def _is_installed(self, extra: str) -> bool:
        markers = {self._marker(extra), self._marker("test")}  # the tests need all, and more
        wanted = self._stamp()
        return any(each.exists() and each.read_text("utf-8") == wanted for each in markers)

    def _stamp(self) -> str:
        project = (self._checkout / "pyproject.toml").read_bytes()
        # The place counts too: a checkout that was moved has to be installed again.
        return "\n".join(
            (hashlib.sha256(project).hexdigest(), str(self._checkout), sys.base_prefix, sys.version)
        )

    def _works(self) -> bool:
        """Whether `.venv` is there with a Python that starts, is new enough, and has pip."""
        if not self.python.exists():
            return False
        asked = f"import sys, pip; sys.exit(sys.version_info < {OLDEST})"
        return self._machine.run([str(self.python), "-c", asked]).status == 0

    def _make(self, extra: str) -> None:
        if importlib.util.find_spec("ensurepip") is None:
            self._get_ensurepip()
        self._machine.say(f"Making {self._folder}, the folder that Reglet is installed into.")
        made = self._machine.run([sys.executable, "-m", "venv", "--clear", str(self._folder)])
        if made.status == 0:
            return
        if _tells_of_full_disk(made.output):
            raise Trouble(self._disk_is_full(extra))
        if "Permission denied" in made.output or "Read-only" in made.output:
            raise Trouble(
                f"Reglet may not write in {self._checkout}. Move its folder to a place of your own,"
                " such as your home folder, then give the command there."
            )
        raise Trouble(
            f"Python could not make the folder {self._folder}: {_last_line(made.output)} Delete"
            " that folder if it is there, then give the command again."
        )

    def _get_ensurepip(self) -> None:
        # Debian and Ubuntu keep this part of the standard library in a package of its own.
        name = "python{}.{}-venv".format(*sys.version_info[:2])
        of_the_system = sys.base_prefix == "/usr" and self._machine.has_apt
        if of_the_system:
            purpose = "to be installed apart from the system's own Python"
            install_debian(self._machine, [Need(purpose, (name,))])
            importlib.invalidate_caches()
        if importlib.util.find_spec("ensurepip") is None:
            raise Trouble(
                "This Python comes without ensurepip, which is needed to install anything. "
                + (
                    f"Ask an administrator for the package {name}, then give the command again."
                    if of_the_system
                    else "Give the command again with a complete Python from python.org or your"
                    " system's packages."
                )
            )

    def _pip_install(self, extra: str) -> None:
        what = f"{self._checkout}[{extra}]" if extra else str(self._checkout)
        self._machine.say("Installing Reglet and what it needs. The first time takes some minutes.")
        told = self._machine.run(
            [
                *(str(self.python), "-m", "pip", "install", "--no-input"),
                *("--disable-pip-version-check", "--progress-bar=off", "--editable", what),
            ],
            environment={"PYTHONUTF8": "1"},
            heard=self._say_downloads,
        )
        if told.status != 0:
            raise Trouble(self._why_pip_failed(told.output, extra) + self._keep(told.output))

    def _keep(self, output: str) -> str:
        """Keep all that pip said beside what it installed; gives the sentence that tells where."""
        log = self._folder / "installation.log"
        try:
            log.write_text(output, "utf-8")
        except OSError:  # the disk is full, say, and that is the trouble already told
            return ""
        return f" What pip said is in {log}."

    def _say_downloads(self, line: str) -> None:
        words = line.split()
        # "Downloading NAME-VERSION-TAGS.whl (78.5 MB)"; the metadata files are not worth a line
        if words[:1] == ["Downloading"] and len(words) > 2 and ".metadata" not in words[1]:
            name = words[1].rsplit("/", 1)[-1].split("-")[0]
            self._machine.say(f"  fetching {name} {' '.join(words[2:])}")

    def _why_pip_failed(self, output: str, extra: str) -> str:
        if _tells_of_full_disk(output):
            return self._disk_is_full(extra)
        unreached = (
            "NewConnectionError",
            "Failed to establish a new connection",
            "ConnectTimeoutError",
            "ReadTimeoutError",
            "Temporary failure in name resolution",
            "ProxyError",
            "Connection refused",
            "connection broken",
        )
        if any(sign in output for sign in unreached):
            return (
                "The Python Package Index, from which Reglet gets what it needs, was not reached."
                " Check the network connection (or the proxy), then give the command again; what"
                " was fetched already is kept."
            )
        if "SSLError" in output or "CERTIFICATE_VERIFY_FAILED" in output:
            return (
                "The Python Package Index could not prove who it is. Check this machine's date and"
                " whether its network puts a certificate of its own in between, then give the"
                " command again."
            )
        unfit = re.search(
            r"No matching distribution found for (\S+)|Failed to build .*\((.+)\)", output
        )
        if unfit:
            name = unfit[1] or unfit[2]
            return (
                f"There is no {name} ready made for this machine and Python {sys.version_info[0]}."
                f"{sys.version_info[1]}. Try the command with another Python from 3.11 on."
            )
        return (
            f"pip could not install Reglet: {_last_line(output)} Put that right, then give the"
            " command again."
        )

    def _disk_is_full(self, extra: str) -> str:
        places: set[Path] = {self._checkout, Path(tempfile.gettempdir()), self._machine.home}
        fullest = min(places, key=lambda place: shutil.disk_usage(place).free)
        free = shutil.disk_usage(fullest).free // 1_000_000
        wanted = SPACE[extra] // 1_000_000
        return (
            f"The disk that holds {fullest} is too full: {free:,} MB are free, and Reglet needs"
            f" about {wanted:,} MB to install itself. Free some space, then give the command again."
        )


def _tells_of_full_disk(output: str) -> bool:
    return "No space left on device" in output or "[Errno 28]" in output


def _last_line(output: str) -> str:
    """The line that says most: the last that calls itself an error, or else the last of all."""
    lines = [line.strip(" │") for line in output.splitlines() if line.strip(" │")]
    errors = [
        line
        for line in lines
        if line.lower().startswith("error:") and "subprocess-exited" not in line
    ]
    return (errors or lines or ["it gave no reason"])[-1].rstrip(".") + "."
