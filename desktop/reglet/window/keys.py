"""The keys that a view answers to itself; the commands that work anywhere are in `commands`."""

from __future__ import annotations

from reglet.window.help_sheet import Section

OWN_KEYS: tuple[Section, ...] = (
    (
        "On a query",
        (
            ("T", "take what it proposes"),
            ("S", "stet: let the words stand"),
            ("D", "on what was marked while listening: done"),
            ("Shift+S", "stet throughout the book"),
            ("A", "where the book goes two ways: one way through all of it"),
            ("J  K", "the next one, the one before"),
            ("D", "after the last one: done with this scene"),
            ("N  Shift+N", "the next scene with queries, the one before"),
            ("Enter", "back to the text"),
        ),
    ),
    (
        "While the page follows the voice",
        (
            ("Space", "pause, go on"),
            ("B  Left", "back a sentence"),
            ("Shift+B  Up", "back a paragraph"),
            ("M", "mark what was said, without stopping"),
            ("Enter  Escape", "stop, with the cursor on the word; a click: where it falls"),
            ("+  -", "faster, slower"),
        ),
    ),
    (
        "In Heard",
        (
            ("Arrows", "another scene"),
            ("Enter", "go there"),
        ),
    ),
    (
        "Among voices and names said",
        (
            ("Space", "hear it"),
            ("Enter", "read with this voice; change how this name is said"),
            ("Delete", "take it off the list"),
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
        "In First read",
        (
            ("Space  Shift+Space", "turn the page, turn it back"),
            ("J  K", "the next passage, the one before"),
            ("Home  End", "the beginning of the book, its end"),
            ("N  1 … 9", "note on the passage: typed (“#cold” makes a kind), or of a kind"),
            ("Backspace", "take back the last note made"),
            ("P", "lines as on a phone, as on a page"),
        ),
    ),
    (
        "In the book, scene by scene",
        (
            ("Left  Right", "another scene; with Shift, choose it too"),
            ("Enter", "go there"),
            ("Alt+Left  Alt+Right", "move the scenes chosen"),
            ("M  X  A", "merge them, cut them to Offcuts, keep a copy as another version"),
            ("Ctrl+Z  Ctrl+Shift+Z", "undo, redo a change of the book’s order"),
        ),
    ),
    (
        "In the plan",
        (
            ("Alt+Up  Alt+Down", "the planned scene has become another one"),
            ("Enter", "confirm what it has become"),
            ("Delete  Backspace", "it is not written; propose again"),
        ),
    ),
    (
        "On the work list",
        (
            ("Enter", "go there"),
            ("D  E", "done; say what it takes"),
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
            ("Shift+Up  Shift+Down", "choose several scenes"),
            ("Alt+Up  Alt+Down", "move the scenes chosen, or the chapter"),
            ("Delete", "cut the scenes chosen to Offcuts"),
            ("Ctrl+M", "merge them; one alone with the next"),
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
