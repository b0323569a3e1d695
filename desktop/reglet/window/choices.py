"""What the writer chose for the work on one book: sheets, aim, how strict overlays are. No Qt."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields, replace

from reglet.manuscript.book import Book
from reglet.overlays.house import House, Strictness, house_of
from reglet.setting import (
    EREADERS,
    PHONES,
    TRIMS,
    USUAL_PHONE,
    USUAL_TRIM,
    Medium,
    Sheet,
)

USUAL_AIM = 10
"""Percent that a second draft is shortened by (common practice)."""
AIMS = (0, 5, 10, 15, 20, 25)


@dataclass(frozen=True)
class Choices:
    """`phone` and `page` are names of sheets, `page` one of a trim or of an e-reader; `aim` is a
    percentage; `strictness` and `off` name overlays.
    """

    phone: str = USUAL_PHONE.name
    page: str = USUAL_TRIM.name
    aim: int = USUAL_AIM
    rhythm: bool = True
    strictness: tuple[tuple[str, int], ...] = ()
    off: tuple[str, ...] = ()

    @property
    def phone_sheet(self) -> Sheet:
        """The phone."""
        return PHONES.get(self.phone, USUAL_PHONE)

    @property
    def page_sheet(self) -> Sheet:
        """The printed page or the e-reader."""
        return TRIMS.get(self.page) or EREADERS.get(self.page) or USUAL_TRIM

    def strictness_of(self, overlay: str) -> Strictness:
        """How readily an overlay asks."""
        return Strictness(dict(self.strictness).get(overlay, Strictness.USUAL))

    def with_strictness(self, overlay: str, wanted: Strictness) -> Choices:
        """These choices with one overlay asking more or less readily."""
        others = {name: step for name, step in self.strictness if name != overlay}
        if wanted is not Strictness.USUAL:
            others[overlay] = int(wanted)
        return replace(self, strictness=tuple(sorted(others.items())))

    def asks_as(self, other: Choices) -> bool:
        """Whether overlays find the same with either."""
        return (self.phone, self.page, self.strictness) == (
            other.phone,
            other.page,
            other.strictness,
        )

    def house(self, book: Book) -> House:
        """The house style of a book with these choices."""
        house = house_of(book)
        page = self.page_sheet
        trim = page if page.medium is Medium.PRINT else house.trim
        wanted = {name: Strictness(step) for name, step in self.strictness}
        return replace(
            house,
            phone=self.phone_sheet.in_language(house.language),
            trim=trim.in_language(house.language),
        ).with_strictness(wanted)


def to_json(choices: Choices) -> str:
    """The choices as they are remembered."""
    return json.dumps(asdict(choices))


def from_json(kept: str) -> Choices:
    """Choices that were remembered; those that cannot be read are as usual."""
    try:
        said = json.loads(kept)
        known = {f.name for f in fields(Choices)}
        given = {name: value for name, value in said.items() if name in known}
        steps = tuple((str(a), int(Strictness(b))) for a, b in given.pop("strictness", ()))
        off = tuple(str(each) for each in given.pop("off", ()))
        aim = int(given.pop("aim", USUAL_AIM))
        return Choices(
            phone=str(given.get("phone", USUAL_PHONE.name)),
            page=str(given.get("page", USUAL_TRIM.name)),
            aim=aim if 0 <= aim <= 90 else USUAL_AIM,
            rhythm=bool(given.get("rhythm", True)),
            strictness=steps,
            off=off,
        )
    except (ValueError, TypeError, AttributeError):
        return Choices()
