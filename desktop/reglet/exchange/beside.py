"""What a word processor's file holds beside its text: its title, running heads, macros."""

from __future__ import annotations

from dataclasses import dataclass

from reglet.exchange.draft import Finding


@dataclass(frozen=True, slots=True)
class Beside:
    """`running` has each running line ("header" or "footer") with its words; `signed` says that
    the file has the styles that Reglet gives a manuscript. `language` is that of the text.
    """

    title: str = ""
    author: str = ""
    language: str = ""
    running: tuple[tuple[str, str], ...] = ()
    macros: bool = False
    signed: bool = False

    def findings(self) -> list[Finding]:
        """What is not brought in, each thing named."""
        found = []
        for kind, text in self.running if not self.signed else ():
            found.append(
                Finding(
                    f"The {kind} “{text}” is left out: a manuscript from Reglet carries a running "
                    "head of its own."
                )
            )
        if self.macros:
            found.append(Finding("The draft holds macros. None was run, and none is kept."))
        return found
