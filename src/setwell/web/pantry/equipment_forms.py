"""Forms for molds, pots, hobs and cold places."""

from enum import StrEnum
from typing import Any

from django import forms

from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, WallMaterial
from setwell.domain.pantry import Mold, Vessel
from setwell.web.inputs import NumberField
from setwell.web.pantry.forms import NAME_ERRORS, ShelfForm, note_field

_MOST = 1e7
_LONGEST_MM = 2_000


def _name() -> forms.CharField:
    return forms.CharField(label="Name", max_length=120, error_messages=NAME_ERRORS)


def _length(label: str, help_text: str = "") -> NumberField:
    return NumberField(
        label=f"{label}, mm", low=0, high=_LONGEST_MM, unit="mm", above=True, help_text=help_text
    )


def _volume(*, required: bool = True, help_text: str = "") -> NumberField:
    return NumberField(
        label="Volume, mL", low=0, high=_MOST, unit="mL", above=True, required=required,
        help_text=help_text,
    )  # fmt: skip


def _choice(label: str, words: type[StrEnum], **options: Any) -> forms.ChoiceField:  # noqa: ANN401
    named = [(word.value, word.value[:1].upper() + word.value[1:]) for word in words]
    empty = [] if options.get("required", True) else [("", "Not said")]
    return forms.ChoiceField(label=label, choices=[*empty, *named], **options)


def _wall() -> forms.ChoiceField:
    return _choice("Made of", WallMaterial, required=False)


def _measured() -> forms.CharField:
    return forms.CharField(
        label="Measured with",
        max_length=2000,
        required=False,
        help_text="The log or test your own number comes from.",
    )


def _share(label: str) -> NumberField:
    return NumberField(
        label=label,
        low=0.02,
        high=1,
        above=True,
        help_text="From 0.02 to 1; left empty, that of the kind.",
    )


def _coefficient(label: str) -> NumberField:
    return NumberField(
        label=label,
        low=1,
        high=2_000,
        unit="W/m²K",
        help_text="Left empty, it is computed for the kind.",
    )


class EquipmentForm(ShelfForm):
    """A form with choices that may stay open."""

    def document_fields(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the fields of the document; an open choice means not said."""
        fields = super().document_fields(values)
        if "wall" in fields:
            fields["wall"] = fields["wall"] or None
        return fields


class MoldForm(EquipmentForm):
    """A mold."""

    document_class = Mold
    defaulted = ("count", "headspace_mm")

    name = _name()
    shape = forms.CharField(
        label="Shape",
        max_length=40,
        required=False,
        help_text="Frame, tray, block, cube, cup, glass, jar, sphere or dome are computed with "
        "the lengths below; any other mold by its volume.",
    )
    volume_ml = _volume(required=False, help_text="Left empty, that of the lengths below.")
    count = NumberField(label="How many", low=1, high=100_000, is_whole=True)
    length_mm = _length("Length inside", "Frames, trays, blocks.")
    width_mm = _length("Width inside", "Frames, trays, blocks.")
    height_mm = _length("Height inside")
    diameter_mm = _length("Diameter inside", "Cups, jars, spheres, domes.")
    wall = _wall()
    wall_mm = NumberField(label="Wall thickness, mm", low=0, high=50, unit="mm", above=True)
    headspace_mm = NumberField(
        label="Air above the food, mm", low=0, high=200, unit="mm", help_text="Under a lid."
    )
    lid = forms.BooleanField(label="Covered with a lid", required=False)
    note = note_field()

    def refuse(self, field: str, message: str) -> None:
        """Say what a mold without a volume can give instead."""
        if field == "volume_ml" and message.endswith("Field required"):
            message = "Give the volume, or one of the shapes below with its lengths."
        super().refuse(field, message)


class VesselForm(EquipmentForm):
    """A pot, pan, bowl or pitcher."""

    document_class = Vessel

    name = _name()
    volume_ml = _volume()
    diameter_mm = _length("Diameter inside", "With it the heating of a batch is computed.")
    height_mm = _length("Height inside")
    wall = _wall()
    lid = forms.BooleanField(label="Has a lid", required=False)
    note = note_field()


class HobForm(EquipmentForm):
    """A hob, ring or steam jacket."""

    document_class = Hob
    defaulted = ("power_w",)

    name = _name()
    kind = _choice("Heats with", HobKind)
    power_w = NumberField(
        label="Power, W",
        low=50,
        high=50_000,
        unit="W",
        help_text="On the plate of the hob; 2000 when left empty.",
    )
    efficiency = _share("Share of the power that reaches the food")
    efficiency_low = _share("Lowest share")
    efficiency_high = _share("Highest share")
    measured = _measured()
    note = note_field()


class CoolerForm(EquipmentForm):
    """A fridge, blast chiller, ice bath, freezer or counter."""

    document_class = Cooler
    defaulted = ("air_c",)

    name = _name()
    kind = _choice("Kind", CoolerKind)
    air_c = NumberField(
        label="Air or bath, °C",
        low=-60,
        high=130,
        unit="°C",
        help_text="What a thermometer in it shows: 4 °C is 39 °F. 4 when left empty.",
    )
    coefficient_w_m2k = _coefficient("Heat passed from a mold, W/m² per degree")
    coefficient_low = _coefficient("Lowest of it")
    coefficient_high = _coefficient("Highest of it")
    inside_l = NumberField(label="Room inside, L", low=0, high=_MOST, unit="L", above=True)
    cooling_w = NumberField(
        label="Cooling power, W",
        low=0,
        high=_MOST,
        unit="W",
        above=True,
        help_text="On the plate of the machine; tells how many molds it takes at once.",
    )
    measured = _measured()
    note = note_field()
