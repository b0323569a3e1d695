"""Numbers with their nouns."""


def counted(number: int, noun: str) -> str:
    """A number with its noun: "1 word", "1,200 words"."""
    return f"{number:,} {noun if number == 1 else noun + 's'}"
