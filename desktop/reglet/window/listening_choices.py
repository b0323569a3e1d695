"""How the writer listens: voice, pace, ruler. Kept for the machine that has the voice."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields

from reglet.voice.coverage import AIM, AIMS
from reglet.voice.speaking import FASTEST, SLOWEST

STEP = 0.1
"""What one key adds to the pace, or takes off it."""


@dataclass(frozen=True, slots=True)
class ListeningChoices:
    """`voice` is the id of a voice, empty for the best there is; `files` are the writer's own Piper
    voices; `pace` is a part of the voice's own; `aim` is how often the book is to be heard; `ruler`
    says whether a reading ruler lies under the line that is read, `follow` whether the page keeps
    to the voice.
    """

    voice: str = ""
    files: tuple[str, ...] = ()
    pace: float = 1.0
    aim: int = AIM
    ruler: bool = False
    follow: bool = True


def to_json(choices: ListeningChoices) -> str:
    """The choices as they are remembered."""
    return json.dumps(asdict(choices))


def from_json(kept: str) -> ListeningChoices:
    """Choices that were remembered; as usual where they cannot be read."""
    try:
        said = json.loads(kept)
        known = {each.name for each in fields(ListeningChoices)}
        given = {name: value for name, value in said.items() if name in known}
        aim = int(given.get("aim", AIM))
        return ListeningChoices(
            voice=str(given.get("voice", "")),
            files=tuple(str(each) for each in given.get("files", ())),
            pace=min(max(float(given.get("pace", 1.0)), SLOWEST), FASTEST),
            aim=aim if aim in AIMS else AIM,
            ruler=bool(given.get("ruler", False)),
            follow=bool(given.get("follow", True)),
        )
    except (ValueError, TypeError, AttributeError):
        return ListeningChoices()
