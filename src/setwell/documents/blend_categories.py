"""What blends can be: each category with a letter and a pattern, so that no color is needed."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from setwell.documents.drawing import LegendItem, text_at
from setwell.errors import InputError

# Strokes of each pattern on a tile of 12 by 12; the first category stays plain.
_TILE = 12
_PATTERNS = (
    "",
    "M-3 3l6 -6M0 12l12 -12M9 15l6 -6",
    "M2 3h2M8 9h2",
    "M0 6h12",
    "M-3 9l6 6M0 0l12 12M9 -3l6 6",
    "M6 0v12",
    "M0 6h12M6 0v12",
    "M0 12l12 -12M0 0l12 12",
)


@dataclass(frozen=True, slots=True)
class BlendCategory:
    """A kind of result, such as a texture; the name is what the legend says."""

    key: str
    name: str


@dataclass(frozen=True, slots=True)
class CategoryStyle:
    """How one category looks: its number for the stylesheet, its letter and its pattern."""

    number: int
    letter: str
    name: str
    pattern: str


def category_styles(
    categories: Sequence[BlendCategory], used: Iterable[str], drawing: str
) -> dict[str, CategoryStyle]:
    """Return the look of each category by key; every key that is used must be among them."""
    if len(categories) > len(_PATTERNS):
        raise InputError(
            f"A drawing of blends can tell {len(_PATTERNS)} categories apart, not "
            f"{len(categories)}.",
            hint="Join some of them.",
        )
    found = {
        one.key: CategoryStyle(
            place + 1, ascii_uppercase[place], one.name,
            f"{drawing}-pattern-{place + 1}" if _PATTERNS[place] else "",
        )
        for place, one in enumerate(categories)
    }  # fmt: skip
    unknown = [key for key in used if key not in found]
    if unknown:
        raise InputError(
            f"The category “{unknown[0]}” of a blend is not known.",
            hint=f"Use one of {', '.join(found) or 'none: no categories were given'}.",
        )
    return found


def pattern_definitions(styles: Iterable[CategoryStyle]) -> str:
    """Return the patterns for the head of a drawing."""
    drawn = "".join(
        f'<pattern id="{one.pattern}" width="{_TILE}" height="{_TILE}" '
        f'patternUnits="userSpaceOnUse"><path class="hatch" d="{_PATTERNS[one.number - 1]}"/>'
        "</pattern>"
        for one in styles
        if one.pattern
    )
    return f"<defs>{drawn}</defs>"


def filled(path: str, style: CategoryStyle) -> str:
    """Return an area in the color of its category with the pattern on it."""
    area = f'<path class="cell category-{style.number}" d="{path}"/>'
    if not style.pattern:
        return area
    return f'{area}<path class="hatched" fill="url(#{style.pattern})" d="{path}"/>'


def category_legend(styles: Iterable[CategoryStyle]) -> list[LegendItem]:
    """Return swatch, letter and name of each category."""
    return [LegendItem(f"{one.letter}  {one.name}", _swatch(one)) for one in styles]


def _swatch(style: CategoryStyle) -> Callable[[float, float], str]:
    return lambda x, y: (
        filled(f"M{x - 12:.1f} {y - 9:.1f}h26v18h-26Z", style)
        + f'<path class="outline" d="M{x - 12:.1f} {y - 9:.1f}h26v18h-26Z"/>'
    )


def letter_at(x: float, y: float, style: CategoryStyle) -> str:
    """Return the letter of a category in the middle of its area."""
    return text_at(x, y + 5.5, style.letter, "letter", "middle")
