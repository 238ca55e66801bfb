"""Read and print one number as a kitchen writes it."""

import re
from dataclasses import dataclass

from setwell.errors import InputError
from setwell.units.writing import text_clean, text_quote

DIGITS_MOST = 9
_LENGTH_MOST = 60

_PLAIN = re.compile(r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)\Z")
_COMMA = re.compile(r"([0-9]+),([0-9]+)\Z")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+\Z")
_FRACTION = re.compile(r"(?:([0-9]+) )?([0-9]+) ?/ ?([0-9]+)\Z")
_EXPONENT = re.compile(r"[0-9.,]+e[+-]?[0-9]+\Z", re.IGNORECASE)
_FRACTIONS = tuple(
    (top, bottom)
    for bottom in (2, 3, 4, 8, 16)
    for top in range(1, bottom)
    if bottom == 3 or top % 2
)
_SPLIT = re.compile(r" ?(?:[-–—~]|to|or) ?")


@dataclass(frozen=True, slots=True)
class NumberFault:
    """Why a text is not one usable number; the code is range, negative or bad_number."""

    code: str
    message: str
    hint: str


def number_parse(text: str, *, field: str = "") -> float:
    """Return the number, or raise InputError that says how to write it."""
    found = number_read(text)
    if isinstance(found, NumberFault):
        raise InputError(found.message, field=field, hint=found.hint)
    return found


def number_read(text: str, *, unit: str = "") -> float | NumberFault:
    """Return the number, or the fault; `unit` is only used to word the hint."""
    written = text_clean(text)
    if not written:
        return NumberFault("bad_number", "There is no number.", "Write one, like 2.5 or 1/2.")
    fault = _fault(written, unit)
    return fault or _value(written)


def number_print(value: float, *, has_fractions: bool = False) -> str:
    """Return the shortest text that reads back: "12.5", "1/3"; "1 1/2" with fractions."""
    decimal = f"{value:.6f}".rstrip("0").rstrip(".")
    decimal = "0" if decimal == "-0" else decimal
    fraction = _fraction(value)
    if fraction and (has_fractions or float(decimal) != value):
        return fraction
    return decimal if float(decimal) == value else f"{value:.9g}"


def _fraction(value: float) -> str:
    """Return the value with a fraction that measuring spoons and cups have, or nothing."""
    whole = int(value)
    for numerator, denominator in _FRACTIONS:
        if value == whole + numerator / denominator:
            return f"{whole} {numerator}/{denominator}" if whole else f"{numerator}/{denominator}"
    return ""


def _fault(written: str, unit: str) -> NumberFault | None:
    quoted = text_quote(written)
    if len(written) > _LENGTH_MOST:
        return _bad(quoted)
    if written.startswith("-") and _is_readable(written[1:].strip()):
        return NumberFault(
            "negative",
            f"{quoted} is below zero.",
            "Write an amount of zero or more; if the dash is a bullet, put a space after it.",
        )
    if sum(char.isdigit() for char in written) > DIGITS_MOST:
        return NumberFault(
            "bad_number", f"{quoted} has more than {DIGITS_MOST} digits.", "Round it."
        )
    if _is_readable(written):
        return None
    return _range_fault(written, unit) or _shape_fault(written)


def _range_fault(written: str, unit: str) -> NumberFault | None:
    parts = _SPLIT.split(written)
    if len(parts) != 2 or not all(_is_readable(part) for part in parts):
        return None
    low, high = (_value(part) for part in parts)
    quoted = text_quote(f"{written} {unit}".strip())
    if "/" in parts[1] and high < low:
        return NumberFault(
            "range",
            f"{quoted} can be a range or a mixed number.",
            f"Write {parts[0]} {parts[1]} if that is meant.",
        )
    middle = f"{number_print(round((low + high) / 2, 3))} {unit}".strip()
    return NumberFault(
        "range",
        f"{quoted} is a range; a formula needs one number.",
        f"Write {middle}, and put the range in a note.",
    )


def _shape_fault(written: str) -> NumberFault:
    quoted = text_quote(written)
    if _THOUSANDS.match(written):
        whole = written.replace(",", "")
        if written.count(",") == 1:
            point = written.replace(",", ".")
            return NumberFault(
                "bad_number",
                f"{quoted} can be read as {whole} or as {point}.",
                f"Write {whole} or {point} without a comma.",
            )
        return NumberFault("bad_number", f"{quoted} has commas in it.", f"Write {whole}.")
    if "," in written and "." in written:
        return NumberFault(
            "bad_number",
            f"{quoted} has both a comma and a point.",
            "Write the number with one decimal point and nothing between thousands, like 1000.5.",
        )
    if _EXPONENT.match(written):
        return NumberFault(
            "bad_number", f"{quoted} is written with an exponent.", "Write it out, like 1000."
        )
    return _bad(quoted)


def _bad(quoted: str) -> NumberFault:
    return NumberFault(
        "bad_number", f"{quoted} is not a number.", "Write it like 2.5, 1/2 or 1 1/2."
    )


def _is_readable(written: str) -> bool:
    if _PLAIN.match(written):
        return True
    comma = _COMMA.match(written)
    if comma:
        return not _THOUSANDS.match(written)
    fraction = _FRACTION.match(written)
    if not fraction:
        return False
    whole, numerator, denominator = fraction.groups()
    if int(denominator) == 0:
        return False
    return whole is None or int(numerator) < int(denominator)


def _value(written: str) -> float:
    fraction = _FRACTION.match(written)
    if fraction:
        whole, numerator, denominator = fraction.groups()
        return int(whole or 0) + int(numerator) / int(denominator)
    return float(written.replace(",", "."))
