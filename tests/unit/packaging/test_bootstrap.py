"""What the first commands decide and say, on machines of every kind."""

import os
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import bootstrap
import pytest
from machine import Finished, Machine, Trouble, run
from system_libraries import SOUND, SPELLING, TO_RUN, TO_TEST, Need, missing, prepare
from virtual_environment import VirtualEnvironment, require_python

CHECKOUT = Path(__file__).resolve().parents[3]


@dataclass
class Workshop:
    """A machine of the test's own: what is on it, what was run, what was said."""

    installed: set[str] = field(default_factory=set)
    offered: set[str] = field(default_factory=set)
    programs: set[str] = field(default_factory=lambda: {"apt-get", "dpkg-query"})
    answers: dict[str, Finished] = field(default_factory=dict)
    """How a program ends whose command line holds the key; everything else ends well."""
    ran: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def machine(
        self,
        system: str = "Linux",
        root: bool = True,
        home: Path = Path("/home/writer"),
        **env: str,
    ) -> Machine:
        return Machine(
            system=system,
            is_root=root,
            home=home,
            environment=env,
            find=lambda name: f"/usr/bin/{name}" if name in self.programs else None,
            run=self._run,
            say=self.said.append,
        )

    def _run(
        self,
        command: Sequence[str],
        environment: Mapping[str, str] | None = None,
        heard: Callable[[str], None] | None = None,
    ) -> Finished:
        line = " ".join(command)
        self.ran.append(line)
        for key, answer in self.answers.items():
            if key in line:
                return answer
        if command[0] == "dpkg-query":
            known = [name for name in command[3:] if name in self.installed]
            return Finished(1, "".join(f"{name} installed\n" for name in known))
        if command[0] == "apt-cache":
            return Finished(0, f"Package: {command[-1]}\n" if command[-1] in self.offered else "")
        return Finished(0, "")


def every_package(needs: Sequence[Need]) -> set[str]:
    return {package.split("|")[0] for need in needs for package in need.packages}


def test_nothing_is_said_or_run_when_all_is_there() -> None:
    workshop = Workshop(installed=every_package(TO_TEST))
    prepare(workshop.machine(), TO_TEST)
    assert workshop.said == []
    assert len(workshop.ran) == 1 and workshop.ran[0].startswith("dpkg-query")


def test_a_package_removed_but_not_purged_is_missing() -> None:
    removed = Finished(0, "libpulse0 config-files\nlibasound2 installed\n")
    workshop = Workshop(answers={"dpkg-query": removed})
    assert missing(workshop.machine(), (SOUND,)) == [Need(SOUND.purpose, ("libpulse0",))]


def test_what_is_missing_is_said_before_it_is_installed() -> None:
    workshop = Workshop(installed=every_package(TO_RUN) - {"hunspell-en-gb", "libegl1"})
    prepare(workshop.machine(), TO_RUN)
    (said,) = workshop.said
    assert "to show its window: libegl1" in said
    assert "to check spelling: hunspell-en-gb" in said
    assert [line.split("apt-get ")[1] for line in workshop.ran if "apt-get" in line] == [
        "--quiet update",
        "--quiet install --yes --no-install-recommends libegl1 hunspell-en-gb",
    ]
    assert not any("sudo" in line for line in workshop.ran)


@pytest.mark.parametrize(
    ("offered", "installed", "chosen"),
    [
        ({"libasound2t64"}, set(), "libasound2t64 libpulse0"),
        ({"libasound2"}, set(), "libasound2 libpulse0"),
        ({"libasound2t64"}, {"libasound2t64"}, "libpulse0"),
    ],
)
def test_a_package_goes_by_the_name_of_its_release(
    offered: set[str], installed: set[str], chosen: str
) -> None:
    workshop = Workshop(installed=installed, offered=offered)
    prepare(workshop.machine(), (SOUND,))
    assert workshop.ran[-1].endswith(f"--no-install-recommends {chosen}")


def test_sudo_is_used_and_announced_when_not_root() -> None:
    workshop = Workshop(programs={"apt-get", "dpkg-query", "sudo"})
    prepare(workshop.machine(root=False), (SPELLING,))
    assert "sudo may ask for your password" in workshop.said[0]
    assert [line.startswith("sudo ") for line in workshop.ran if "apt-get" in line] == [True, True]


def test_without_root_and_sudo_the_command_for_the_administrator_is_said() -> None:
    workshop = Workshop()
    prepare(workshop.machine(root=False), (SPELLING,))
    assert "apt-get install libenchant-2-2 hunspell-en-us hunspell-en-gb" in workshop.said[0]
    assert not any("apt-get" in line for line in workshop.ran)


@pytest.mark.parametrize(
    ("output", "sentence"),
    [
        ("E: Write error - write (28: No space left on device)", "the disk is full"),
        ("E: You don't have enough free space in /var/cache/apt/archives/.", "the disk is full"),
        ("E: Could not get lock /var/lib/dpkg/lock-frontend.", "another installation is running"),
        ("E: Failed to fetch http://x  Temporary failure resolving 'x'", "the network connection"),
        ("sudo: a terminal is required to read the password", "sudo did not give leave"),
        ("E: Something else broke.", "'Something else broke.'"),
        ("", "gave no reason"),
    ],
)
def test_an_installation_that_fails_ends_in_a_sentence(output: str, sentence: str) -> None:
    workshop = Workshop(answers={"apt-get --quiet install": Finished(100, output)})
    with pytest.raises(Trouble, match=sentence) as trouble:
        prepare(workshop.machine(), (SPELLING,))
    assert str(trouble.value).startswith("The system packages could not be installed: ")
    assert str(trouble.value).endswith(".")


def test_a_package_unknown_for_want_of_network_is_the_networks_fault() -> None:
    workshop = Workshop(
        answers={
            "apt-get --quiet update": Finished(0, "W: Failed to fetch http://x"),
            "apt-get --quiet install": Finished(100, "E: Unable to locate package libpulse0"),
        }
    )
    with pytest.raises(Trouble, match="Check the network connection"):
        prepare(workshop.machine(), (SOUND,))


@pytest.mark.parametrize(
    ("system", "programs", "environment", "said"),
    [
        ("Linux", set(), {}, "your own package manager"),
        ("Darwin", set(), {}, "brew install enchant"),
        ("Darwin", set(), {"PYENCHANT_LIBRARY_PATH": "/opt/x.dylib"}, None),
        ("Windows", set(), {}, None),
    ],
)
def test_elsewhere_the_steps_are_said_and_nothing_is_run(
    system: str, programs: set[str], environment: dict[str, str], said: str | None
) -> None:
    workshop = Workshop(programs=programs)
    prepare(workshop.machine(system, **environment), TO_RUN)
    assert workshop.ran == []
    if said is None:
        assert workshop.said == []
    else:
        assert said in workshop.said[0]


@pytest.mark.parametrize(
    ("version", "system", "programs", "sentence"),
    [
        ((3, 10), "Linux", {"python3.12"}, "give the same command again with python3.12"),
        ((3, 8), "Linux", {"python3.9"}, "Python 3.11 or newer; this is Python 3.8. Install one"),
        ((3, 9), "Darwin", set(), "brew install python"),
        ((3, 9), "Windows", set(), "python.org"),
    ],
)
def test_an_old_python_is_told_so(
    version: tuple[int, int], system: str, programs: set[str], sentence: str
) -> None:
    with pytest.raises(Trouble, match=sentence):
        require_python(Workshop(programs=programs).machine(system), version)


@pytest.mark.parametrize("version", [(3, 11), (3, 14), (4, 0)])
def test_a_new_python_will_do(version: tuple[int, int]) -> None:
    require_python(Workshop().machine(), version)


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A checkout whose .venv has a Python already, so that only pip is left to run."""
    programs = tmp_path / ".venv" / "bin"
    programs.mkdir(parents=True)
    (programs / "python").touch()
    (tmp_path / "pyproject.toml").write_text("[project]\n", "utf-8")
    return tmp_path


def test_installed_once_and_again_only_when_the_project_changed(checkout: Path) -> None:
    workshop = Workshop()
    reglet = VirtualEnvironment(workshop.machine(), checkout)

    def installations() -> int:
        before = len(workshop.ran)
        reglet.install()
        return sum("pip install" in line for line in workshop.ran[before:])

    assert installations() == 1
    before = len(workshop.ran)
    assert installations() == 0
    assert len(workshop.ran) == before, "the second start must not run any program"
    (checkout / "pyproject.toml").write_text("[project]\nversion = '2'\n", "utf-8")
    assert installations() == 1
    reglet.install("test")
    assert workshop.ran[-1].endswith(f"--editable {checkout}[test]")


def test_what_the_tests_need_is_enough_to_run(checkout: Path) -> None:
    workshop = Workshop()
    reglet = VirtualEnvironment(workshop.machine(), checkout)
    reglet.install("test")
    before = len(workshop.ran)
    reglet.install()
    assert len(workshop.ran) == before


def test_an_installation_that_failed_is_tried_again(checkout: Path) -> None:
    workshop = Workshop(answers={"pip install": Finished(1, "Connection refused")})
    reglet = VirtualEnvironment(workshop.machine(), checkout)
    for _ in range(2):
        with pytest.raises(Trouble):
            reglet.install()


@pytest.mark.parametrize(
    ("output", "sentence"),
    [
        ("WARNING: Retrying ... NewConnectionError(...)", "was not reached. Check the network"),
        ("ERROR: [Errno 28] No space left on device", "is too full"),
        ("SSLError(SSLCertVerificationError(1, ...))", "this machine's date"),
        ("ERROR: No matching distribution found for uharfbuzz>=0.39", "no uharfbuzz>=0.39 ready"),
        ("ERROR: Failed to build installable wheels for some projects (lxml)", "no lxml ready"),
        ("ERROR: a surprise\n", "ERROR: a surprise"),
    ],
)
def test_a_pip_that_fails_ends_in_a_sentence(checkout: Path, output: str, sentence: str) -> None:
    workshop = Workshop(answers={"pip install": Finished(1, output)})
    with pytest.raises(Trouble, match=sentence):
        VirtualEnvironment(workshop.machine(home=checkout), checkout).install()


def test_a_folder_that_may_not_be_written_ends_in_a_sentence(checkout: Path) -> None:
    workshop = Workshop(
        answers={
            "-c import sys": Finished(1, ""),
            "-m venv": Finished(1, "Error: [Errno 13] Permission denied: '.venv'"),
        }
    )
    with pytest.raises(Trouble, match="to a place of your own"):
        VirtualEnvironment(workshop.machine(home=checkout), checkout).install()


@pytest.mark.parametrize(
    ("system", "environment", "fits"),
    [
        ("Linux", {}, False),
        ("Linux", {"DISPLAY": ""}, False),
        ("Linux", {"DISPLAY": ":0"}, True),
        ("Linux", {"WAYLAND_DISPLAY": "wayland-0"}, True),
        ("Linux", {"QT_QPA_PLATFORM": "offscreen"}, True),
        ("Darwin", {}, True),
        ("Windows", {}, True),
    ],
)
def test_a_window_needs_a_screen(system: str, environment: dict[str, str], fits: bool) -> None:
    machine = Workshop().machine(system, **environment)
    if fits:
        bootstrap.require_screen(machine)
    else:
        with pytest.raises(Trouble, match="no screen here"):
            bootstrap.require_screen(machine)


def test_a_file_that_is_not_there_is_said_before_anything_is_done(tmp_path: Path) -> None:
    workshop = Workshop()
    with pytest.raises(Trouble, match="There is no file"):
        bootstrap.open_window(workshop.machine(), tmp_path, tmp_path / "novel.docx")
    assert workshop.ran == []


def test_the_demo_copy_is_made_once_and_then_left_alone(checkout: Path) -> None:
    made: list[str] = []

    def make(command: Sequence[str]) -> Finished:
        made.append(" ".join(command))
        Path(command[command.index("new") + 1]).write_text("a book", "utf-8")
        return Finished(0, "")

    machine = Machine("Linux", True, checkout, {}, run=make)
    reglet = VirtualEnvironment(machine, checkout)
    book = bootstrap.demo_copy(machine, checkout, reglet)
    assert book.is_relative_to(checkout / ".local" / "share")
    assert made[0].endswith(f"--from {checkout / 'demo_book' / 'draft.docx'}")
    book.write_text("a book, spoilt", "utf-8")
    assert bootstrap.demo_copy(machine, checkout, reglet) == book
    assert len(made) == 1 and book.read_text("utf-8") == "a book, spoilt"


def test_a_demo_copy_that_failed_leaves_nothing_that_looks_whole(checkout: Path) -> None:
    def fail(command: Sequence[str]) -> Finished:
        Path(command[command.index("new") + 1]).write_text("half a", "utf-8")
        return Finished(1, "The draft could not be read.")

    machine = Machine("Linux", True, checkout, {}, run=fail)
    with pytest.raises(Trouble, match="The draft could not be read"):
        bootstrap.demo_copy(machine, checkout, VirtualEnvironment(machine, checkout))
    assert not (bootstrap.data_folder(machine) / "demo book.reglet").exists()


def test_a_program_that_is_not_there_ends_like_one_that_failed() -> None:
    assert run(["no-such-program-anywhere"]).status == 127


def test_each_line_is_heard_and_kept() -> None:
    heard: list[str] = []
    told = run([sys.executable, "-c", "print('a'); print('b'); exit(3)"], heard=heard.append)
    assert (told.status, heard) == (3, ["a", "b"])


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (["--help"], 0, "opens the demo book"),
        (["run", "no such draft.docx"], 1, "There is no file"),
        ([], 2, "usage"),
    ],
)
def test_the_script_itself(arguments: list[str], status: int, words: str) -> None:
    command = [sys.executable, str(CHECKOUT / "packaging" / "bootstrap.py"), *arguments]
    told = subprocess.run(command, capture_output=True, text=True, env=dict(os.environ))
    assert told.returncode == status
    assert words in told.stdout + told.stderr
    assert "Traceback" not in told.stderr
