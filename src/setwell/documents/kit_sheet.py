"""The packing sheet of dry kits, and their labels, already in words."""

import datetime as dt
from dataclasses import dataclass

from setwell.documents.amounts import ounces_text
from setwell.documents.qr_code import qr_svg
from setwell.engine.kit.results import Kit, KitBag, KitItem
from setwell.units import date_print, mass_print

DRAFT = (
    "Draft, to be checked by a qualified person. A kit that is given away or sold needs the label "
    "that local law asks for; this one is for the kitchen's own order."
)
HANDLING = (
    "Food-grade material only. Clean, dry scoops; one lot at a time; weigh each powder by itself. "
    "Keep bags shut, dry and cool, and away from other allergens."
)


@dataclass(frozen=True, slots=True)
class SheetItem:
    """One powder of one bag, in words."""

    name: str
    weight: str
    us: str
    tolerance: str
    total: str
    lot: str
    advice: str


@dataclass(frozen=True, slots=True)
class SheetBag:
    """One bag, in words."""

    letter: str
    heading: str
    items: tuple[SheetItem, ...]
    net: str


@dataclass(frozen=True, slots=True)
class KitLabel:
    """What stands on every kit."""

    title: str
    version_label: str
    short_hash: str
    kitchen_name: str
    makes: str
    net: str
    bags: tuple[str, ...]
    adds: tuple[str, ...]
    allergens: str
    allergens_check: str
    lots: str
    best_before: str
    address: str
    qr: str


@dataclass(frozen=True, slots=True)
class KitSheet:
    """Everything printed: the sheet, and the label as often as there are kits."""

    title: str
    version_label: str
    short_hash: str
    kitchen_name: str
    lead: str
    kits: int
    bags: tuple[SheetBag, ...]
    premixes: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]
    label: KitLabel
    handling: str = HANDLING
    draft: str = DRAFT


def kit_sheet_build(
    kit: Kit,
    *,
    readability_g: float,
    version_label: str,
    content_hash: str,
    kitchen_name: str,
    portions: int | None = None,
    address: str = "",
) -> KitSheet:
    """Return the packing sheet; `address` is where the card is found, drawn as a QR code."""
    short = content_hash[:8]
    bags = tuple(_bag(bag, readability_g) for bag in kit.bags)
    label = _label(kit, bags, version_label, short, kitchen_name, portions, address)
    spare = f", with {kit.spare_pct:g} % spare" if kit.spare_pct else ""
    return KitSheet(
        title=kit.title,
        version_label=version_label,
        short_hash=short,
        kitchen_name=kitchen_name,
        lead=f"{kit.kits} kits of {mass_print(kit.net_g, has_us=True)}{spare}; each {label.makes}.",
        kits=kit.kits,
        bags=bags,
        premixes=tuple(
            (one.text.replace("batches takes", "kits takes"), one.note) for one in kit.premixes
        ),
        remarks=kit.remarks,
        label=label,
    )


def _bag(bag: KitBag, step: float) -> SheetBag:
    net = f"{_shown(bag.net_g, step)} ± {_shown(bag.tolerance_g, step)}"
    return SheetBag(bag.letter, bag.heading, tuple(_item(one, step) for one in bag.items), net)


def _item(item: KitItem, step: float) -> SheetItem:
    tolerance = _tolerance(item.tolerance_g, step)
    return SheetItem(
        name=item.name,
        weight=_shown(item.shown_g, step)
        if item.tolerance_g is not None
        else mass_print(item.grams),
        us=ounces_text(item.grams),
        tolerance=tolerance,
        total=mass_print(item.total_g),
        lot=", ".join(_lot(code, day) for code, day in item.lots),
        advice=item.advice,
    )


def _tolerance(grams: float | None, step: float) -> str:
    if grams is None:
        return "finer scale"
    return f"± {_shown(grams, step)}" if grams else "exactly"


def _shown(grams: float, step: float) -> str:
    """Print a weight as the display shows it: 4.0 g on a scale of 0.1 g."""
    places = max(0, len(f"{step:.4f}".rstrip("0").partition(".")[2]))
    return f"{grams:,.{places}f} g"


def _lot(code: str, day: dt.date | None) -> str:
    return code if day is None else f"{code} (best before {date_print(day)})"


def _label(
    kit: Kit,
    bags: tuple[SheetBag, ...],
    version_label: str,
    short_hash: str,
    kitchen_name: str,
    portions: int | None,
    address: str,
) -> KitLabel:
    lots = tuple(dict.fromkeys(code for item in kit.items for code, _ in item.lots))
    makes = f"makes {mass_print(kit.usable_g, has_us=True)}"
    return KitLabel(
        title=kit.title,
        version_label=version_label,
        short_hash=short_hash,
        kitchen_name=kitchen_name,
        makes=f"{makes}, {portions} portions" if portions else makes,
        net=mass_print(kit.net_g, has_us=True),
        bags=tuple(_bag_line(bag) for bag in bags),
        adds=tuple(f"{mass_print(grams)} {name}" for _, name, grams in kit.left_out),
        allergens=", ".join(kit.allergens) or "none found in these powders",
        allergens_check=", ".join(kit.allergens_check),
        lots=", ".join(lots),
        best_before="" if kit.best_before is None else date_print(kit.best_before),
        address=address,
        qr=qr_svg(address) if address else "",
    )


def _bag_line(bag: SheetBag) -> str:
    names = ", ".join(item.name for item in bag.items)
    heading = f" ({bag.heading})" if bag.heading else ""
    return f"Bag {bag.letter}{heading}: {names}, {bag.net}"
