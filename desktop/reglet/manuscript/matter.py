"""The pieces that stand before and after the story, by the trade's names, in the trade's order.

The order is that of The Chicago Manual of Style, chapter 1, “The parts of a book” (from memory);
that acknowledgements stand behind a novel and not before it is common practice.
"""

from __future__ import annotations

from enum import StrEnum

from reglet.manuscript.paragraph import Style

CAUTION = (
    "What a copyright page must say depends on the law where you live and publish: ask there, or a "
    "licensed adviser. Reglet writes nothing on it."
)


class Matter(StrEnum):
    """What a piece of front or back matter is, in the order in which they are printed."""

    TITLE_PAGE = "title-page"
    COPYRIGHT = "copyright-page"
    DEDICATION = "dedication"
    EPIGRAPH = "epigraph"
    FOREWORD = "foreword"
    AFTERWORD = "afterword"
    ACKNOWLEDGEMENTS = "acknowledgements"
    ABOUT_THE_AUTHOR = "about-the-author"

    @property
    def label(self) -> str:
        """What the writer reads it as."""
        return self.replace("-", " ").capitalize()

    @property
    def before_the_story(self) -> bool:
        """Whether it is front matter."""
        return self not in _BACK

    @property
    def style(self) -> Style:
        """How its paragraphs usually are set (common practice)."""
        return _STYLES.get(self, Style.BODY)

    def heading(self, language: str) -> str:
        """What is printed over it, in English as `language` spells it; "" for a page that goes
        without.
        """
        if self in _STYLES:
            return ""
        return self.label.replace("gem", "gm") if language == "en-US" else self.label

    @classmethod
    def called(cls, title: str) -> Matter | None:
        """The piece that a draft heads with this title, if its heading is one of the trade's."""
        return _CALLED.get(" ".join(title.split()).strip(".:").casefold())


_BACK = (Matter.AFTERWORD, Matter.ACKNOWLEDGEMENTS, Matter.ABOUT_THE_AUTHOR)
_STYLES = {
    Matter.TITLE_PAGE: Style.CENTRED,
    Matter.COPYRIGHT: Style.FIRST,
    Matter.DEDICATION: Style.CENTRED,
    Matter.EPIGRAPH: Style.CENTRED,
}
_CALLED = {each.label.casefold(): each for each in Matter} | {
    "copyright": Matter.COPYRIGHT,
    "preface": Matter.FOREWORD,
    "introduction": Matter.FOREWORD,
    "acknowledgments": Matter.ACKNOWLEDGEMENTS,
    "about the writer": Matter.ABOUT_THE_AUTHOR,
}
