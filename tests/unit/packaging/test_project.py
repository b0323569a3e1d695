"""What `pyproject.toml` says of the project is true of the checkout."""

import tomllib
from pathlib import Path

import reglet

CHECKOUT = Path(__file__).resolve().parents[3]
PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text("utf-8"))


def test_every_package_is_listed_for_the_wheel() -> None:
    source = CHECKOUT / "desktop"
    there = {
        ".".join(file.parent.relative_to(source).parts) for file in source.rglob("__init__.py")
    }
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == there | {"reglet_resources"}


def test_the_version_is_one() -> None:
    assert PROJECT["project"]["version"] == reglet.__version__


def test_the_licence_is_the_one_named() -> None:
    assert PROJECT["project"]["license"] == "GPL-3.0-or-later"
    licence = (CHECKOUT / "LICENSE").read_text("utf-8")
    assert "GNU GENERAL PUBLIC LICENSE" in licence and "Version 3, 29 June 2007" in licence
