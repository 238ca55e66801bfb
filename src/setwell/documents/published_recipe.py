"""A published card as a schema.org Recipe in JSON-LD."""

import json
import math
import re
from typing import Any

from setwell.documents.card import CardLine
from setwell.documents.html_parts import clean_text
from setwell.documents.published_card import DRAFT, PDF_NAME, PublishedCard

CONTEXT = "https://schema.org"
_SPACES = re.compile(r"\s+")


def recipe_jsonld(published: PublishedCard) -> dict[str, Any]:
    """Return the recipe as a JSON-LD document; what is not known is left out, never guessed."""
    card = published.card
    kitchen = {"@type": "Organization", "name": clean_text(card.kitchen_name)}
    found: dict[str, Any] = {
        "@context": CONTEXT,
        "@type": "Recipe",
        "name": clean_text(card.title),
        "description": clean_text(published.description),
        "author": kitchen,
        "publisher": kitchen,
        "datePublished": published.first_published.date().isoformat(),
        "dateModified": published.published.date().isoformat(),
        "version": str(published.number),
        "identifier": card.content_hash,
        "recipeYield": _yield(published),
        "recipeIngredient": [
            ingredient_text(line) for phase in card.phases for line in phase.lines
        ],
        "recipeInstructions": [
            {"@type": "HowToStep", "position": step.number, "text": clean_text(step.text)}
            for step in card.steps
        ],
        "encoding": {
            "@type": "MediaObject",
            "contentUrl": _at(published, PDF_NAME),
            "encodingFormat": "application/pdf",
        },
        "suitableForDiet": list(published.recipe_diets),
        "image": [_at(published, photo.file_name) for photo in published.photos],
        "url": published.address,
        **_times(published),
    }
    if published.nutrition is not None:
        found["nutrition"] = _nutrition(published)
    return {key: value for key, value in found.items() if value not in ("", [], None)}


def recipe_text(published: PublishedCard) -> str:
    """Return the JSON-LD as text that can also stand inside a page."""
    text = json.dumps(recipe_jsonld(published), ensure_ascii=False, indent=1)
    # Inside a script element only these could end it or start a comment.
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def ingredient_text(line: CardLine) -> str:
    """Return a line as typed, with its weight where another amount was typed."""
    typed = clean_text(line.text)
    if not line.is_read or _tight(typed).startswith(_tight(line.weight)):
        return typed
    return f"{typed} ({line.weight})"


def duration_iso(minutes: float) -> str:
    """Return a time as ISO 8601 has it, rounded up to 5 minutes.

    >>> duration_iso(62), duration_iso(3.2)
    ('PT1H5M', 'PT5M')
    """
    rounded = max(math.ceil(minutes / 5.0) * 5, 5)
    hours, rest = divmod(rounded, 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{rest}M" if rest else "")


def _tight(text: str) -> str:
    return _SPACES.sub("", text).casefold()


def _at(published: PublishedCard, name: str) -> str:
    return f"{published.address}{name}"


def _yield(published: PublishedCard) -> list[str]:
    line = clean_text(published.card.yield_line)
    return [str(published.portions), line] if published.portions else [line]


def _times(published: PublishedCard) -> dict[str, str]:
    times = published.times
    named = (
        ("prepTime", times.preparing_min),
        ("cookTime", times.cooking_min),
        ("totalTime", times.total_min),
    )
    return {name: duration_iso(minutes) for name, minutes in named if minutes is not None}


def _nutrition(published: PublishedCard) -> dict[str, str]:
    told = published.nutrition
    assert told is not None  # noqa: S101 - asked by the caller
    return {
        "@type": "NutritionInformation",
        "description": f"{DRAFT} {told.basis}",
        "servingSize": told.serving,
        **{name: amount for name, _, amount in told.amounts},
    }
