"""Every overlay, in the order the writer sees them, stage by stage."""

from __future__ import annotations

from reglet.errors import UnknownThing
from reglet.manuscript.stage import Stage
from reglet.overlays.line import (
    block,
    degree_word,
    echo,
    empty_opening,
    filter_word,
    long_sentence,
    monotony,
    nominal_phrase,
    passive_voice,
    same_opening,
    stacked_adjectives,
    stock_phrase,
    tag_adverb,
    tag_verb,
    unbroken_talk,
    wordy_phrase,
)
from reglet.overlays.overlay import Overlay
from reglet.overlays.proof import (
    agreement,
    apostrophe,
    article,
    capital,
    chapter_title,
    compound,
    dash,
    double,
    ellipsis,
    marked_while_listening,
    name_form,
    number_style,
    out,
    quotation_marks,
    scene_break,
    sentence_end,
    sentence_space,
    spacing,
    speaker_turn,
    spelling,
    stops_with_quotes,
    straight_quote,
    tag_join,
    term_capital,
    thought,
    variety,
    wrong_word,
)
from reglet.overlays.structure import (
    chapter_number,
    head_hopping,
    name_variant,
    person_away,
    placeholder,
    same_eyes,
    scene_length,
    share_of_dialogue,
    sheet_to_fill,
    still_scene,
    thread_left_open,
    time_contradiction,
)

OVERLAYS: tuple[Overlay, ...] = (
    scene_length.OVERLAY,
    share_of_dialogue.OVERLAY,
    sheet_to_fill.OVERLAY,
    still_scene.OVERLAY,
    placeholder.OVERLAY,
    thread_left_open.OVERLAY,
    person_away.OVERLAY,
    name_variant.OVERLAY,
    time_contradiction.OVERLAY,
    head_hopping.OVERLAY,
    same_eyes.OVERLAY,
    chapter_number.OVERLAY,
    long_sentence.OVERLAY,
    monotony.OVERLAY,
    same_opening.OVERLAY,
    echo.OVERLAY,
    filter_word.OVERLAY,
    degree_word.OVERLAY,
    tag_adverb.OVERLAY,
    tag_verb.OVERLAY,
    passive_voice.OVERLAY,
    empty_opening.OVERLAY,
    nominal_phrase.OVERLAY,
    stock_phrase.OVERLAY,
    wordy_phrase.OVERLAY,
    stacked_adjectives.OVERLAY,
    unbroken_talk.OVERLAY,
    block.OVERLAY,
    spelling.OVERLAY,
    double.OVERLAY,
    out.OVERLAY,
    wrong_word.OVERLAY,
    article.OVERLAY,
    agreement.OVERLAY,
    quotation_marks.OVERLAY,
    straight_quote.OVERLAY,
    apostrophe.OVERLAY,
    stops_with_quotes.OVERLAY,
    tag_join.OVERLAY,
    speaker_turn.OVERLAY,
    dash.OVERLAY,
    ellipsis.OVERLAY,
    spacing.OVERLAY,
    sentence_space.OVERLAY,
    sentence_end.OVERLAY,
    capital.OVERLAY,
    name_form.OVERLAY,
    variety.OVERLAY,
    compound.OVERLAY,
    number_style.OVERLAY,
    term_capital.OVERLAY,
    thought.OVERLAY,
    scene_break.OVERLAY,
    chapter_title.OVERLAY,
    marked_while_listening.OVERLAY,
)


def of_stage(stage: Stage) -> tuple[Overlay, ...]:
    """The overlays that belong to a stage."""
    return tuple(overlay for overlay in OVERLAYS if overlay.stage is stage)


def named(name: str) -> Overlay:
    """The overlay of this name. Raises UnknownThing."""
    for overlay in OVERLAYS:
        if overlay.name == name:
            return overlay
    names = ", ".join(overlay.name for overlay in OVERLAYS)
    raise UnknownThing(f"There is no overlay “{name}”. There are: {names}.")
