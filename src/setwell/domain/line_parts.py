"""Take a line apart: parentheses, notes, ratio, the name."""

import re
from dataclasses import dataclass

from setwell.domain.amount_reading import amount_whole
from setwell.domain.amounts import Amount, AmountKind

# "(NaPO3)n" is part of a chemical name, not a note.
_PARENTHESES = re.compile(r"\((?![A-Z][A-Za-z0-9]*\)(?:n|[0-9]+)\b)([^()]*)\)|\[([^\[\]]*)\]")
_ABOUT = re.compile(r"(?:about|approx(?:imately|\.)?|around|roughly|ca\.|~|≈) ?", re.IGNORECASE)
_EACH = re.compile(r" (?:each|apiece|per piece)$", re.IGNORECASE)
_INNER = re.compile(r",(?![0-9])|;")
_TOTAL = re.compile(r" (?:in all|in total|total|altogether)$", re.IGNORECASE)
_RATIO = re.compile(
    r"([0-9]{1,4}(?:\.[0-9]{1,3})?) ?: ?([0-9]{1,4}(?:\.[0-9]{1,3})?)"
    r"(?= (?:with|to|for|on) (?:the )?(?:agents?|powders?|gums?|gelling|thicken|agar|"
    r"kappa|iota|lambda|carrageenan|pectin|xanthan|gellan|konjac|guar|locust|alginate))",
    re.IGNORECASE,
)
# Words that start a note even where the comma was left out.
_NOTE_START = re.compile(
    r" (?=to taste\b|as needed\b|as required\b|q\. ?s\.|"
    r"for (?:dusting|garnish|greasing|serving)\b)",
    re.IGNORECASE,
)
# A comma inside "1,5" and a dash inside "2 - 3" do not separate.
_SEPARATOR = re.compile(
    r",(?![0-9])|(?<![0-9]),|;|(?<=[^0-9\s]) [-–—] |(?<=[0-9]) [-–—] (?![0-9.,])"
    r"|:(?= )(?![ ]?[0-9]+ ?:)"
)
_JUICE = re.compile(
    r"(?:the )?(juice|zest|rind|peel) (?:of|from) ((?:[0-9]|an? |one |half|two |three ).*)",
    re.IGNORECASE,
)
_EDGE = " .,:;=*•·-–—"


@dataclass(frozen=True, slots=True)
class LineParts:
    """A line in pieces, before the amount is read."""

    segments: tuple[str, ...]
    notes: tuple[str, ...]
    stated: Amount | None
    stated_text: str
    each_grams: float | None
    ratio: float | None
    part_of_fruit: str = ""
    is_total: bool = False

    def name_clean(self, text: str) -> str:
        """Return the ingredient's name without stray marks; "juice of 1 lemon" is lemon juice."""
        name = " ".join(text.split()).strip(_EDGE)
        return f"{_singular(name)} {self.part_of_fruit}" if name and self.part_of_fruit else name


def line_parts(written: str) -> LineParts:
    """Return the pieces of a cleaned line."""
    inside: list[str] = []

    def keep(match: re.Match[str]) -> str:
        inside.append(match[1] if match[1] is not None else match[2])
        return " "

    main = _PARENTHESES.sub(keep, written) if "(" in written or "[" in written else written
    weights, each, notes = _weights(inside)
    stated_text, stated = weights or ("", None)
    fruit = _JUICE.match(main.strip())
    part = ""
    if fruit:
        part = fruit[1].lower()
        main = _counted(fruit[2])
    ratio = _RATIO.search(main) or next(filter(None, map(_RATIO.search, notes)), None)
    main = _RATIO.sub(lambda match: f", {match[0]}", main)
    main = _NOTE_START.sub(", ", main)
    segments = tuple(cut for piece in _SEPARATOR.split(main) if (cut := " ".join(piece.split())))
    return LineParts(
        segments,
        tuple(notes),
        stated,
        stated_text,
        each,
        _ratio_value(ratio),
        part,
        is_total=_TOTAL.search(stated_text) is not None,
    )


def _weights(
    inside: list[str],
) -> tuple[tuple[str, Amount] | None, float | None, list[str]]:
    """Sort what stood in parentheses: a total weight, a weight per piece, notes."""
    stated: tuple[str, Amount] | None = None
    each: float | None = None
    notes: list[str] = []
    pieces = [piece for text in inside for piece in _INNER.split(text)]
    for text in pieces:
        written = " ".join(text.split())
        per_piece = _EACH.search(written)
        suffix = per_piece or _TOTAL.search(written)
        bare = _ABOUT.sub("", written[: suffix.start()] if suffix else written, count=1)
        weight = weight_whole(bare)
        if weight is None or (each if per_piece else stated) is not None:
            notes.extend([written] if written else [])
        elif per_piece:
            each = weight.grams
        else:
            stated = (written, weight)
    return stated, each, notes


def weight_whole(text: str) -> Amount | None:
    """Return the weight a text consists of, or None."""
    whole = amount_whole(text)
    amount = whole.amount if whole else None
    return amount if amount and amount.kind == AmountKind.MASS else None


def _counted(text: str) -> str:
    words = {"half a ": "1/2 ", "half ": "1/2 ", "an ": "1 ", "a ": "1 ", "one ": "1 "}
    words |= {"two ": "2 ", "three ": "3 "}
    for word, number in words.items():
        if text.lower().startswith(word):
            return number + text[len(word) :]
    return text


def _singular(name: str) -> str:
    if name.endswith("ies"):
        return name[:-3] + "y"
    return name[:-1] if name.endswith("s") and not name.endswith("ss") else name


def _ratio_value(match: re.Match[str] | None) -> float | None:
    if not match or float(match[2]) == 0:
        return None
    return float(match[1]) / float(match[2])
