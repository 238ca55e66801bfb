"""The sheet of a trial set as plain text, 80 columns wide, with boxes and blanks in characters."""

import textwrap

from setwell.documents.trial_set import SheetAmount, SheetCup, TrialSheet

WIDTH = 80
_BOX, _BLANK = "[ ]", "____"


def trial_set_text(sheet: TrialSheet) -> str:
    """Return the whole sheet as text."""
    blocks = [
        _head(sheet), _base(sheet), _do(sheet), *(_cup(cup) for cup in sheet.cups),
        _listed("Read of every cup, the same way and at the same age", sheet.measures),
        _listed("So that the cups can be compared", sheet.remarks), _tasting(sheet),
        _cautions(sheet),
    ]  # fmt: skip
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(sheet: TrialSheet) -> str:
    rows = [
        *_hanging("", sheet.title.upper()),
        *_hanging("", " · ".join(part for part in (sheet.kitchen_name, sheet.brief_title) if part)),
        "=" * WIDTH,
        f"Made by {_BLANK * 4}  Date {_BLANK * 3}  Started at {_BLANK}",
        *_hanging("", sheet.summary),
        *_hanging("Allergens: ", "; ".join(sheet.allergens) or "none found in what was read"),
    ]
    return "\n".join(rows)


def _base(sheet: TrialSheet) -> str:
    rows = [sheet.base_title]
    for one in sheet.base:
        rows += _amount(one)
    for stock in sheet.stocks:
        rows += _hanging(f"  {_BOX} ", stock)
    return "\n".join(rows)


def _amount(one: SheetAmount) -> list[str]:
    note = f" ({one.note})" if one.note else ""
    return _hanging(f"  {_BOX} {one.weight:>9}  {one.us:<9} ", f"{one.name}{note}")


def _do(sheet: TrialSheet) -> str:
    rows = ["For every cup"]
    for number, text in sheet.steps:
        rows += _hanging(f"  {number:>2} ", text)
    return "\n".join(rows)


def _cup(cup: SheetCup) -> str:
    rows = _hanging(f"Cup {cup.number}, code {cup.code}: ", cup.change)
    rows += _hanging("  ", cup.question)
    for one in cup.amounts:
        rows += _amount(one)
    computed = "; ".join(f"{label}: {text}" for label, text in cup.expected)
    rows += _hanging("  Computed: ", " ".join(part for part in (computed, cup.against) if part))
    rows += _hanging("  ", "  ".join(f"{name} {_BLANK}" for name in cup.blanks))
    return "\n".join(rows)


def _listed(title: str, lines: tuple[str, ...]) -> str:
    rows = [title]
    for line in lines:
        rows += _hanging("  - ", line)
    return "\n".join(rows)


def _tasting(sheet: TrialSheet) -> str:
    rows = ["For the tasters, by code only"]
    rows += [f"  {code}  words {_BLANK * 6}  liked 1 to 9 {_BLANK}" for code in sheet.tasting]
    return "\n".join(rows)


def _cautions(sheet: TrialSheet) -> str:
    rows = ["Cautions"]
    for caution in sheet.cautions:
        rows += _hanging("  ! ", f"{caution.title.rstrip('.')}. {caution.text}")
    return "\n".join([*rows, *_hanging("  ", f"{sheet.deferral} {sheet.foot}")])


def _hanging(lead: str, text: str) -> list[str]:
    rows = textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead))
    return rows or [lead.rstrip()]
