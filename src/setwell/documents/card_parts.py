"""What a card is made of; every text is already in words."""

from dataclasses import dataclass
from enum import StrEnum


class CardKind(StrEnum):
    """For whom a card is: it changes what is shown, never what is true."""

    HOME = "home"
    PRO = "pro"
    BENCH = "bench"

    @property
    def meaning(self) -> str:
        """What this kind of card shows, in one line."""
        return _MEANINGS[self]


_MEANINGS = {
    CardKind.HOME: "Weights, steps and why, signs of success, safety. No tables of numbers.",
    CardKind.PRO: "Also the share of each agent, key numbers, and doses for another lot.",
    CardKind.BENCH: "Also boxes to tick, blanks to fill in, and empty frames for photos.",
}


@dataclass(frozen=True, slots=True)
class CardLine:
    """One ingredient line: as typed, with its weight in both systems.

    `name` is the text without a weight that stands beside it anyway.
    """

    number: int
    text: str
    name: str
    weight: str
    us: str
    percent: str
    is_agent: bool
    is_read: bool


@dataclass(frozen=True, slots=True)
class CardPhase:
    """The lines that stand under one heading."""

    heading: str
    lines: tuple[CardLine, ...]


@dataclass(frozen=True, slots=True)
class CardPoint:
    """An open point: what is wrong or doubtful, and what to do."""

    severity: str
    title: str
    text: str
    action: str


@dataclass(frozen=True, slots=True)
class CardCaution:
    """A safety caution."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class CardNote:
    """A statement and the numbers of the sources at the end of the card it comes from."""

    text: str
    sources: tuple[int, ...] = ()

    @property
    def marks(self) -> str:
        """The numbers as they are printed, such as [1, 3]."""
        return f"[{', '.join(map(str, self.sources))}]" if self.sources else ""


@dataclass(frozen=True, slots=True)
class CardSource:
    """Where statements of the card come from, with the grade of what was taken."""

    number: int
    text: str
    grade: str


@dataclass(frozen=True, slots=True)
class CardPhoto:
    """A photo of the dish or of a step; `id` finds the picture itself."""

    id: int
    text: str
    caption: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class CardStep:
    """One step: as typed, with every temperature that was read, in both scales.

    `points` name what this step decides, `why` tells what it is for.
    """

    number: int
    text: str
    temperature: str
    points: tuple[str, ...] = ()
    why: tuple[CardNote, ...] = ()
    photo: CardPhoto | None = None


@dataclass(frozen=True, slots=True)
class LotDose:
    """What to weigh of a lot of one strength."""

    strength: str
    weight: str
    is_own: bool = False


@dataclass(frozen=True, slots=True)
class LotBox:
    """What to weigh of one agent from a weaker or stronger lot than the card was written for."""

    agent: str
    name: str
    weight: str
    basis: str
    doses: tuple[LotDose, ...]
    note: str
