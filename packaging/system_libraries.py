"""The libraries Reglet needs from the system, which ones are missing, and how to get them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Callable

from machine import Finished, Machine, Trouble


@dataclass(frozen=True)
class Need:
    """One purpose, and the Debian packages it takes.

    A package may have been renamed between releases, or another may do as well: such names stand in
    one string with a bar between them, the one to choose first where several are offered.
    """

    purpose: str
    packages: tuple[str, ...]


WINDOW = Need(
    # The shared libraries that Qt's own wheels link to and do not carry (found with ldd).
    "to show its window",
    (
        "libdbus-1-3",
        "libegl1",
        "libfontconfig1",
        "libfreetype6",
        "libgl1",
        "libglib2.0-0|libglib2.0-0t64",
        "libwayland-client0",
        "libwayland-cursor0",
        "libwayland-egl1",
        "libx11-6",
        "libx11-xcb1",
        "libxcb-cursor0",
        "libxcb-icccm4",
        "libxcb-image0",
        "libxcb-keysyms1",
        "libxcb-randr0",
        "libxcb-render-util0",
        "libxcb-render0",
        "libxcb-shape0",
        "libxcb-shm0",
        "libxcb-sync1",
        "libxcb-util1|libxcb-util0",
        "libxcb-xfixes0",
        "libxcb-xkb1",
        "libxcb1",
        "libxkbcommon-x11-0",
        "libxkbcommon0",
    ),
)
SPELLING = Need(
    "to check spelling",
    ("libenchant-2-2", "hunspell-en-us", "hunspell-en-gb"),
)
SOUND = Need(
    "to read aloud",
    ("libasound2|libasound2t64", "libpulse0"),
)
TESTS = Need(
    "to test itself (a screen in memory, and other programs that read what it exports)",
    (
        "default-jre-headless",
        "libreoffice-writer-nogui|libreoffice-writer",
        "poppler-utils",
        "xvfb",
    ),
)

TO_RUN = (WINDOW, SPELLING, SOUND)
TO_TEST = (*TO_RUN, TESTS)

OTHER_LINUX = (
    "Reglet installs system libraries by itself on Debian and Ubuntu only. Here, install Enchant 2,"
    " Hunspell's English dictionaries, libxcb-cursor, libxkbcommon-x11, EGL and PulseAudio's client"
    " library with your own package manager, if they are not there yet."
)
MACOS = (
    "To check spelling Reglet needs the Enchant library, which is not here. Install it with:\n"
    "    brew install enchant\n"
    "(Homebrew itself: https://brew.sh.) Everything else works without it."
)


def prepare(machine: Machine, needs: tuple[Need, ...]) -> None:
    """Install what is missing of `needs`, or say what the person must install.

    First says what will be installed and why. Raises Trouble when an installation was tried and
    failed; when it cannot even be tried, says so and goes on, since Reglet may well start without.
    """
    if machine.system == "Linux" and machine.has_apt:
        _prepare_debian(machine, needs)
    elif machine.system == "Linux":
        machine.say(OTHER_LINUX)
    elif machine.system == "Darwin" and not _has_enchant_on_macos(machine):
        machine.say(MACOS)
    # On Windows the wheels of Qt and pyenchant carry all they need.


def missing(machine: Machine, needs: tuple[Need, ...]) -> list[Need]:
    """The needs that are not met on this Debian or Ubuntu, each with its missing packages only."""
    names = [name for need in needs for package in need.packages for name in package.split("|")]
    there = _installed(machine, names)
    lacking = (
        Need(
            need.purpose,
            tuple(p for p in need.packages if there.isdisjoint(p.split("|"))),
        )
        for need in needs
    )
    return [need for need in lacking if need.packages]


def install_debian(machine: Machine, needs: list[Need]) -> None:
    """Install the packages with apt-get, through sudo when not root, saying so first.

    Raises Trouble with a sentence when apt-get fails.
    """
    lines = ["Reglet needs these packages of the system, which are not installed yet:"]
    lines += [f"  {need.purpose}: {_readable(need)}" for need in needs]
    if machine.is_root:
        before: list[str] = []
        lines.append("Installing them now with apt-get.")
    elif machine.find("sudo"):
        before = ["sudo"]
        lines.append("Installing them now with sudo apt-get; sudo may ask for your password.")
    else:
        lines.append(
            "Only an administrator can install them, and sudo is not here. Going on without; if"
            " something does not work, ask the administrator for:\n"
            f"    apt-get install {' '.join(_offered(machine, needs))}"
        )
        machine.say("\n".join(lines))
        return
    machine.say("\n".join(lines))

    # One repository that does not answer need not matter; if it does, the installation fails.
    updated = _apt_get(machine, before, ["update"])
    install = ["install", "--yes", "--no-install-recommends", *_offered(machine, needs)]
    installed = _apt_get(machine, before, install, _setting_up)
    if installed.status != 0:
        raise Trouble(
            "The system packages could not be installed: "
            + _why_apt_failed(installed.output, updated.output)
        )


def _setting_up(machine: Machine, line: str) -> None:
    if line.startswith("Setting up "):
        machine.say("  " + line.split("(")[0].strip())


def _prepare_debian(machine: Machine, needs: tuple[Need, ...]) -> None:
    lacking = missing(machine, needs)
    if lacking:
        install_debian(machine, lacking)


def _readable(need: Need) -> str:
    return ", ".join(package.split("|")[0] for package in need.packages)


def _installed(machine: Machine, names: list[str]) -> set[str]:
    # dpkg-query ends with 1 when it does not know one of the names, and still tells of the others.
    form = "--showformat=${Package} ${db:Status-Status}\\n"
    told = machine.run(["dpkg-query", "--show", form, *names])
    pairs = (line.split() for line in told.output.splitlines())
    return {pair[0] for pair in pairs if len(pair) == 2 and pair[1] == "installed"}


def _offered(machine: Machine, needs: list[Need]) -> list[str]:
    """The packages, each by the first of its names that this release really has."""

    def is_real(name: str) -> bool:  # and no mere name that another package provides
        told = machine.run(["apt-cache", "show", "--no-all-versions", name])
        return f"Package: {name}\n" in told.output

    packages = [package.split("|") for need in needs for package in need.packages]
    return [next(filter(is_real, names), names[0]) if names[1:] else names[0] for names in packages]


def _apt_get(
    machine: Machine,
    before: list[str],
    arguments: list[str],
    heard: Callable[[Machine, str], None] | None = None,
) -> Finished:
    plainly = ["env", "DEBIAN_FRONTEND=noninteractive", "LC_ALL=C"]
    return machine.run(
        [*before, *plainly, "apt-get", "--quiet", *arguments],
        heard=(lambda line: heard(machine, line)) if heard else None,
    )


def _why_apt_failed(output: str, update: str) -> str:
    if "No space left on device" in output or "have enough free space" in output:
        return "the disk is full. Free some space, then give the command again."
    if "Could not get lock" in output or "is held by process" in output:
        return "another installation is running. Wait for it to end, then give the command again."
    if "sudo:" in output or "not in the sudoers" in output:
        return (
            "sudo did not give leave. Give the command again in a terminal where sudo can ask for"
            " your password, or ask an administrator."
        )
    if "Failed to fetch" in output + update or "Temporary failure resolving" in output + update:
        return (
            "the package server was not reached. Check the network connection, then give the"
            " command again."
        )
    errors = [line[2:].strip() for line in output.splitlines() if line.startswith("E:")]
    said = f"apt-get says {errors[-1]!r}." if errors else "apt-get gave no reason."
    return f"{said} Put that right, then give the command again."


def _has_enchant_on_macos(machine: Machine) -> bool:
    if "PYENCHANT_LIBRARY_PATH" in machine.environment:
        return True
    places = (Path("/opt/homebrew/lib"), Path("/usr/local/lib"), Path("/opt/local/lib"))
    return any((place / "libenchant-2.dylib").exists() for place in places)
