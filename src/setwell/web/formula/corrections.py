"""Corrections that arrive beside the ingredients text: single lines and picked names."""

from collections.abc import Iterable


def lines_correct(ingredients: str, corrections: Iterable[tuple[str, str, str]]) -> str:
    """Return the text with single lines replaced by (number, line as shown, line as corrected).

    A line that no longer reads as it was shown is left alone: the text itself was edited since.

    >>> lines_correct("500 g milk\\n5 g sugr", [("2", "5 g sugr", "5 g sugar")])
    '500 g milk\\n5 g sugar'
    """
    lines = ingredients.split("\n")
    for number, shown, corrected in corrections:
        position = _position(number, lines)
        single = " ".join(corrected.splitlines())
        if position is not None and single != shown and lines[position].strip() == shown.strip():
            lines[position] = single
    return "\n".join(lines)


def name_replace(ingredients: str, number: str, old: str, new: str) -> str:
    """Return the text with one name on one line replaced by a nearest name that was picked.

    A line that no longer holds the name is left alone.

    >>> name_replace("500 g milk\\n5 g kapa, sifted", "2", "kapa", "kappa carrageenan")
    '500 g milk\\n5 g kappa carrageenan, sifted'
    """
    lines = ingredients.split("\n")
    position = _position(number, lines)
    if position is None or not old or old.casefold() not in lines[position].casefold():
        return ingredients
    start = lines[position].casefold().index(old.casefold())
    line = lines[position]
    lines[position] = f"{line[:start]}{new}{line[start + len(old) :]}"
    return "\n".join(lines)


def _position(number: str, lines: list[str]) -> int | None:
    if not (number.isascii() and number.isdigit() and len(number) < 7):
        return None
    position = int(number) - 1
    return position if 0 <= position < len(lines) else None
