"""From a theme's values to Qt's fonts, palette and the one small stylesheet."""

from __future__ import annotations

from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPalette
from PySide6.QtWidgets import QTextEdit

from reglet.setting import faces
from reglet.window.theme import Lettering, Theme

_WEIGHT = QFont.Tag("wght")
REGULAR, MEDIUM, SEMIBOLD = 400, 500, 600


def load_faces() -> None:
    """Make Reglet's faces known to Qt. Raises MissingFace.

    Where bold is asked of a face with an axis, Qt would thicken its regular cut by itself, unless
    it knows a bold one too.
    """
    known = QFontDatabase.families()
    for family in faces.FAMILIES:
        for file in faces.files(family) if family not in known else ():
            QFontDatabase.addApplicationFont(str(file))
            bold = faces.bold_cut(file)
            if bold is not None:
                QFontDatabase.addApplicationFontFromData(bold)


_PROSE = "the tide had turned, and somebody was calling from the far side of it "
"""A line of plain English, to tell how wide the characters of prose are on average."""


def width_of_prose(characters: int, face: QFont) -> float:
    """How wide a line of so many characters of prose is in a face, in px."""
    return QFontMetricsF(face).horizontalAdvance(_PROSE) / len(_PROSE) * characters


def font(lettering: Lettering, scale: float = 1.0, weight: int = REGULAR) -> QFont:
    """The font of a lettering, `scale` times its size, in a weight from 200 to 900."""
    made = QFont(lettering.family)
    size = max(9, round(lettering.size * scale))
    made.setPixelSize(size)
    # Qt draws the default cut of a variable face, and thickens it by itself when another weight is
    # asked of it; the axis alone gives the cut as its designer drew it.
    made.setVariableAxis(_WEIGHT, weight)
    if lettering.family == faces.ATKINSON and weight >= SEMIBOLD:
        made.setWeight(QFont.Weight.Bold)  # this face has two fixed cuts instead of an axis
    if lettering.letter:
        made.setLetterSpacing(QFont.SpacingType.AbsoluteSpacing, lettering.letter * size)
    if lettering.word:
        made.setWordSpacing(lettering.word * size)
    return made


def capitals(lettering: Lettering) -> QFont:
    """The font of the quiet labels: small, letterspaced, in capitals."""
    made = font(lettering, 0.83, SEMIBOLD)
    made.setCapitalization(QFont.Capitalization.AllUppercase)
    made.setLetterSpacing(QFont.SpacingType.AbsoluteSpacing, 0.08 * made.pixelSize())
    return made


def dress_text(text: QTextEdit, theme: Theme, face: QFont) -> None:
    """Set a text in the theme's ink on its paper, in a face where it asks for no other."""
    colours = text.palette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Base, theme.paper),
        (role.Text, theme.ink),
        (role.Highlight, theme.selection),
        (role.HighlightedText, theme.ink),
    ):
        colours.setColor(which, QColor(colour))
    text.setPalette(colours)
    text.document().setDefaultFont(face)


def palette(theme: Theme) -> QPalette:
    """The theme as Qt's palette: for all that Qt draws by itself."""
    made = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, theme.desk),
        (role.Base, theme.paper),
        (role.AlternateBase, theme.card),
        (role.Button, theme.desk),
        (role.ToolTipBase, theme.card),
        (role.WindowText, theme.ink),
        (role.Text, theme.ink),
        (role.ButtonText, theme.ink),
        (role.ToolTipText, theme.ink),
        (role.BrightText, theme.ink),
        (role.PlaceholderText, theme.quiet),
        (role.Highlight, theme.selection),
        (role.HighlightedText, theme.ink),
        (role.Link, theme.blue),
        (role.Accent, theme.graphite),
        (role.Mid, theme.line),
        (role.Midlight, theme.line),
        (role.Light, theme.paper),
        (role.Dark, theme.line),
        (role.Shadow, theme.line),
    ):
        made.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(theme.quiet))
    return made


def stylesheet(theme: Theme) -> str:
    """The few things that a palette cannot say: edges and space inside Qt's own controls."""
    return f"""
    QToolTip {{ background: {theme.card}; color: {theme.ink};
        border: 1px solid {theme.line}; padding: 4px 8px; }}
    QMenu {{ background: {theme.card}; color: {theme.ink};
        border: 1px solid {theme.line}; padding: 8px 0; }}
    QMenu::item {{ padding: 4px 32px 4px 24px; }}
    QMenu::item:selected {{ background: {theme.selection}; }}
    QMenu::item:disabled {{ color: {theme.quiet}; }}
    QMenu::separator {{ height: 1px; background: {theme.line}; margin: 8px 24px; }}
    QMenu::indicator {{ width: 12px; height: 12px; left: 8px; }}
    QLineEdit, QPlainTextEdit, QComboBox {{ background: {theme.paper}; color: {theme.ink};
        border: 1px solid {theme.bar}; border-radius: 2px; padding: 3px 7px;
        selection-background-color: {theme.selection}; selection-color: {theme.ink}; }}
    QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus {{ border-color: {theme.ink}; }}
    QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
    QPushButton {{ background: transparent; color: {theme.ink};
        border: 1px solid {theme.bar}; border-radius: 2px; padding: 4px 16px; outline: 0; }}
    QPushButton:hover {{ background: {theme.card}; }}
    QPushButton:focus {{ border-color: {theme.ink}; }}
    QPushButton:default {{ background: {theme.ink}; color: {theme.paper}; }}
    QPushButton:disabled {{ color: {theme.quiet}; }}
    QScrollBar:vertical {{ background: transparent; width: 6px; margin: 0; }}
    QScrollBar:horizontal {{ background: transparent; height: 6px; margin: 0; }}
    QScrollBar::handle {{ background: {theme.bar}; border-radius: 3px;
        min-height: 32px; min-width: 32px; }}
    QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page
        {{ background: transparent; width: 0; height: 0; }}
    """
