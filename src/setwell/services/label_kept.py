"""What was chosen for a label, kept with a version of its formula."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from setwell.documents.label_statement import may_contain_line
from setwell.domain.brief import Market
from setwell.errors import InputError
from setwell.services.clock import now
from setwell.services.label_asking import ASK_FIELDS, ask_make
from setwell.store.label_rows import Fields, choices_row_add, choices_row_newest
from setwell.store.transactions import writing

# What was measured holds for the version it was measured of, and for no other.
_MEASURED = ("analyzed", "density", "protein_score")
_CHARACTERS_MOST = 20_000


@dataclass(frozen=True, slots=True)
class KeptChoices:
    """The fields of a label as they were kept with version `number`.

    `is_earlier` is True when that is a version before the one asked for; `left_out` then names
    what was measured of that one.
    """

    number: int
    market: str
    fields: Fields = field(default_factory=dict)
    is_earlier: bool = False
    left_out: tuple[str, ...] = ()


def choices_kept(*, formula_id: int, number: int, market: str = "") -> KeptChoices | None:
    """Return what counts for a version: its own choices, or those of the nearest one before."""
    stored = choices_row_newest(formula_id=formula_id, number=number, market=market)
    if stored is None:
        return None
    if stored.number == number:
        return KeptChoices(number, stored.market, stored.fields)
    fields = {name: given for name, given in stored.fields.items() if name not in _MEASURED}
    left_out = tuple(name for name in _MEASURED if stored.fields.get(name))
    return KeptChoices(stored.number, stored.market, fields, is_earlier=True, left_out=left_out)


def traces_kept(*, formula_id: int | None, number: int | None) -> str:
    """Return what the kitchen says that a version may contain, of all markets it labels for."""
    if formula_id is None or number is None:
        return ""
    kept = (choices_kept(formula_id=formula_id, number=number, market=one) for one in Market)
    notes = [str(one.fields.get("may_contain", "")) for one in kept if one is not None]
    return " ".join(dict.fromkeys(may_contain_line(note) for note in notes if note))


def choices_keep(*, formula_id: int, number: int, fields: Mapping[str, object]) -> None:
    """Keep the fields of a label with a version; they count from now on.

    Raises InputError for the first of them that cannot be read.
    """
    made = ask_make(fields)
    for problem in made.problems:
        raise problem
    kept = {name: _stored(fields.get(name)) for name in ASK_FIELDS}
    kept = {name: given for name, given in kept.items() if given}
    kept["market"] = made.ask.market.value
    size = sum(len(name) + len("".join(given)) for name, given in kept.items())
    if size > _CHARACTERS_MOST:
        raise InputError(
            f"These choices have {size:,} characters; at most {_CHARACTERS_MOST:,} are kept.",
            hint="Shorten the texts.",
        )
    with writing():
        choices_row_add(
            formula_id=formula_id, number=number, market=made.ask.market.value, fields=kept,
            recorded_at=now(),
        )  # fmt: skip


def _stored(given: object) -> str | list[str]:
    if isinstance(given, list | tuple):
        return [str(one).replace("\x00", "") for one in given if one]
    if given is None or given is False:
        return ""
    if given is True:
        return "true"
    return f"{given:.10g}" if isinstance(given, float) else str(given).replace("\x00", "")
