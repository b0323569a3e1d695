"""The keys that a view answers to itself; the commands that work anywhere are in `commands`."""

from __future__ import annotations

from reglet.window.help_sheet import Section

OWN_KEYS: tuple[Section, ...] = (
    (
        "On a query",
        (
            ("T", "take what it proposes"),
            ("S", "stet: let the words stand"),
            ("Shift+S", "stet throughout the book"),
            ("J  K", "the next one, the one before"),
            ("D", "after the last one: done with this scene"),
            ("N  Shift+N", "the next scene with queries, the one before"),
            ("Enter", "back to the text"),
        ),
    ),
    (
        "On a note",
        (
            ("Enter", "go to its words"),
            ("D  S", "answer it: done, stet"),
            ("O", "open it again"),
            ("E", "edit what it says"),
            ("Delete", "throw it away"),
        ),
    ),
    (
        "On an overlay",
        (
            ("Space", "show it or hide it"),
            ("Left  Right", "have it ask less, or more"),
        ),
    ),
    (
        "In White space",
        (
            ("Arrows  J  K", "another page"),
            ("Enter", "go there"),
        ),
    ),
    (
        "In Contents",
        (
            ("Alt+Up  Alt+Down", "move the scene or chapter"),
            ("F2", "rename it"),
            ("Ctrl+Z  Ctrl+Shift+Z", "undo, redo a change of the book’s order"),
        ),
    ),
    (
        "In a history",
        (
            ("Left  Right", "compare from another snapshot"),
            ("Shift+Left  Shift+Right", "compare to another"),
            ("J  K", "the next changed place, the one before"),
            ("Escape", "back"),
        ),
    ),
)
