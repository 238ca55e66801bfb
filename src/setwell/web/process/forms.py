"""The form of a process: pot, molds, cold place and serving time; its values make the address."""

import datetime as dt
from collections.abc import Mapping
from itertools import groupby
from typing import Any

from django import forms

from setwell.domain.equipment import MoldForm
from setwell.domain.pantry import Vessel
from setwell.domain.process_plan import CoolPlan, PotPlan, PotStirring, ProcessPlan
from setwell.errors import InputError
from setwell.services.formulas import formula_list
from setwell.services.process import LayerAsk, PieceAsk, PlanInForce, ProcessAsk, things_to_sweep
from setwell.services.process_equipment import Choice, equipment_choices, found
from setwell.web.inputs import NumberField
from setwell.web.process.initial import initial_of
from setwell.web.process.refused import field_of

_STIRRING = {
    PotStirring.NONE: "Not stirred",
    PotStirring.OCCASIONAL: "Now and then",
    PotStirring.CONSTANT: "All the time",
    PotStirring.BLENDER: "With a blender",
    PotStirring.CIRCULATOR: "Immersion circulator",
    PotStirring.STEAM: "With steam",
}
_TIMES = ("%H:%M", "%H.%M", "%I:%M %p", "%I %p", "%H")
_TIME_WRONG = {"invalid": "Write the time as 18:30 or 6:30 pm."}
POT = ("hob", "power", "pot", "lid", "stirring", "batch", "start", "target", "hold", "room")
COLD = ("mold", "mold_lid", "count", "pour", "counter", "cooler", "serving")
TIME = ("serve", "earliest")
WATCH = ("sweep",)
LAYER = ("layer", "layer_mm", "this_mm", "layer_c")
PIECE = ("piece_mm", "piece_c")


class ProcessForm(forms.Form):
    """One way to heat and cool a formula; what is left empty comes from the formula."""

    hob = forms.CharField(label="Hob", max_length=200, required=False, widget=forms.Select)
    power = NumberField(
        label="Power, W", low=50, high=50_000, unit="W", help_text="Empty: all the hob has."
    )
    pot = forms.CharField(label="Pot", max_length=200, required=False, widget=forms.Select)
    lid = forms.ChoiceField(
        label="Lid", choices=(("open", "Open"), ("lid", "Lid on")), required=False
    )
    stirring = forms.ChoiceField(
        label="Stirring",
        choices=[(key.value, words) for key, words in _STIRRING.items()],
        required=False,
    )
    batch = NumberField(
        label="Batch, g", low=0, high=1e6, unit="g", above=True,
        help_text="1000 g is 2.2 lb. Empty: as written.",
    )  # fmt: skip
    start = NumberField(
        label="Goes in at, °C", low=-5, high=100, unit="°C", help_text="20 °C is 68 °F."
    )
    target = NumberField(
        label="Heated until the probe reads, °C", low=20, high=130, unit="°C",
        help_text="85 °C is 185 °F. Empty: as the steps say.",
    )  # fmt: skip
    hold = NumberField(
        label="Held, minutes", low=0, high=1_440, help_text="Empty: as the steps say."
    )
    room = NumberField(
        label="Kitchen is at, °C", low=0, high=50, unit="°C", help_text="20 °C is 68 °F."
    )
    mold = forms.CharField(label="Mold", max_length=200, required=False, widget=forms.Select)
    mold_lid = forms.ChoiceField(
        label="Mold covered", choices=(("open", "Open"), ("lid", "Covered")), required=False
    )
    count = NumberField(label="How many molds", low=1, high=10_000, is_whole=True)
    pour = NumberField(
        label="Poured at, °C", low=-5, high=110, unit="°C",
        help_text="70 °C is 158 °F. Empty: as the steps say.",
    )  # fmt: skip
    counter = NumberField(label="First on the counter, minutes", low=0, high=1_440)
    cooler = forms.CharField(label="Cold place", max_length=200, required=False,
                             widget=forms.Select)  # fmt: skip
    serving = NumberField(
        label="Served at, °C", low=-20, high=100, unit="°C", help_text="Empty: as the formula says."
    )
    serve = forms.TimeField(
        label="Serve at", required=False, input_formats=_TIMES, error_messages=_TIME_WRONG,
        help_text="18:30 or 6:30 pm. Empty: no clock.",
    )  # fmt: skip
    earliest = forms.TimeField(
        label="Nobody is here before", required=False, input_formats=_TIMES,
        error_messages=_TIME_WRONG, help_text="Empty: work may begin the day before.",
    )  # fmt: skip

    sweep = forms.CharField(
        label="Change one thing", max_length=60, required=False, widget=forms.Select
    )

    layer = forms.CharField(label="Poured onto", max_length=20, required=False, widget=forms.Select)
    layer_mm = NumberField(label="Layer below, mm", low=0.5, high=500, unit="mm")
    this_mm = NumberField(label="This layer, mm", low=0.5, high=500, unit="mm")
    layer_c = NumberField(
        label="Layer below is at, °C", low=-5, high=60, unit="°C", help_text="Empty: as the air."
    )

    piece_mm = NumberField(
        label="Piece inside, mm wide", low=1, high=200, unit="mm", help_text="A berry is 15 to 25."
    )
    piece_c = NumberField(
        label="Piece goes in at, °C", low=-40, high=100, unit="°C", help_text="-18 °C is 0 °F."
    )

    def __init__(self, asked: Mapping[str, str], in_force: PlanInForce) -> None:
        self.in_force = in_force
        self.equipment = equipment_choices(in_force.plan)
        start = initial_of(in_force.plan, self.equipment)
        super().__init__({name: asked.get(name, first) for name, first in start.items()})
        kit = self.equipment
        _offer(self.fields["hob"], kit.hobs, "Not heated in a pot", self.data["hob"])
        _offer(self.fields["pot"], kit.pots, "", self.data["pot"])
        _offer(self.fields["mold"], kit.molds, "", self.data["mold"])
        _offer(self.fields["cooler"], kit.coolers, "Not cooled in molds", self.data["cooler"])
        things = things_to_sweep(in_force.plan.cooling) if in_force.plan.cooling else ()
        swept = self.data["sweep"]
        if swept and swept not in dict(things):
            things = (*things, (swept, f"{swept[:60]} (as typed)"))
        self.fields["sweep"].widget.choices = [("", "Nothing"), *things]
        saved = [(str(one.id), one.title) for one in formula_list()]
        layer = self.data["layer"]
        if layer and layer not in dict(saved):
            saved.append((layer, f"{layer[:20]} (as typed)"))
        self.fields["layer"].widget.choices = [("", "Nothing"), *saved]
        for name in TIME:
            self.fields[name].widget.attrs.update({"type": "time", "class": "number"})

    def clean(self) -> dict[str, Any]:
        """Refuse equipment that is not there."""
        values: dict[str, Any] = super().clean() or {}
        kit = self.equipment
        for name, choices in (
            ("hob", kit.hobs), ("pot", kit.pots), ("mold", kit.molds), ("cooler", kit.coolers)
        ):  # fmt: skip
            text = values.get(name, "")
            if text and _found(choices, text) is None:
                self.add_error(name, f"There is no “{text[:40]}” in this kitchen: choose one.")
        return values

    def clean_layer(self) -> int | None:
        """Return the number of the formula below."""
        text = str(self.cleaned_data["layer"]).strip()
        if text and not (text.isascii() and text.isdigit() and len(text) < 10):
            raise forms.ValidationError("This is no formula of this kitchen: choose one.")
        return int(text) if text else None

    @property
    def ask(self) -> ProcessAsk:
        """What is asked for, once the form is valid; the plan in force stays as it is."""
        plan = self.plan
        return ProcessAsk(
            plan=None if plan == self.in_force.plan else plan,
            serve_min=_minutes(self.cleaned_data["serve"]),
            earliest_min=_minutes(self.cleaned_data["earliest"]),
            sweep=self.cleaned_data["sweep"],
            layer=self._layer(),
            piece=self._piece(),
            batch_g=self.cleaned_data["batch"],
        )

    @property
    def plan(self) -> ProcessPlan:
        """The plan that the fields make."""
        return ProcessPlan(pot=self._pot(), cooling=self._cooling())

    def refuse(self, error: InputError) -> None:
        """Show what the engine refuses at the field it belongs to."""
        self.add_error(field_of(error.field), f"{error.message} {error.hint}".strip())

    @property
    def _room(self) -> float:
        told = self.cleaned_data["room"]
        return 20.0 if told is None else float(told)

    def _layer(self) -> LayerAsk | None:
        values = self.cleaned_data
        if values["layer"] is None:
            return None
        return LayerAsk(
            values["layer"], values["layer_mm"] or 15.0, values["this_mm"] or 15.0,
            values["layer_c"],
        )  # fmt: skip

    def _piece(self) -> PieceAsk | None:
        width, celsius = self.cleaned_data["piece_mm"], self.cleaned_data["piece_c"]
        return None if width is None else PieceAsk(width, 4.0 if celsius is None else celsius)

    def _pot(self) -> PotPlan | None:
        values = self.cleaned_data
        hob = found(self.equipment.hobs, values["hob"])
        if hob is None:
            return None
        vessel = found(self.equipment.pots, values["pot"])
        base = self.in_force.plan.pot or PotPlan()
        if values["power"] is not None:
            hob = hob.model_copy(update={"power_w": values["power"]})
        return base.model_copy(
            update={
                "hob": hob,
                **(_measures(vessel, base) if vessel else {}),
                "lid": values["lid"] == "lid",
                "stirring": PotStirring(values["stirring"] or PotStirring.OCCASIONAL),
                "batch_g": values["batch"],
                "start_c": 20.0 if values["start"] is None else values["start"],
                "target_c": values["target"],
                "hold_min": values["hold"],
                "room_c": self._room,
            }
        )

    def _cooling(self) -> CoolPlan | None:
        values = self.cleaned_data
        cooler = found(self.equipment.coolers, values["cooler"])
        if cooler is None:
            return None
        before = self.in_force.plan.cooling
        mold = found(self.equipment.molds, values["mold"])
        base = before or CoolPlan(mold=mold or MoldForm(volume_ml=100.0))
        covered = {"lid": values["mold_lid"] == "lid"}
        return base.model_copy(
            update={
                "mold": (mold or base.mold).model_copy(update=covered),
                "cooler": cooler,
                "count": values["count"] or 1,
                "pour_c": values["pour"],
                "counter_min": values["counter"] or 0.0,
                "serving_c": values["serving"],
                "room_c": self._room,
            }
        )


def _measures(vessel: Vessel, pot: PotPlan) -> dict[str, object]:
    return {
        "diameter_mm": vessel.diameter_mm,
        "height_mm": vessel.height_mm,
        "wall": vessel.wall or pot.wall,
    }


def _minutes(time: dt.time | None) -> float | None:
    return None if time is None else time.hour * 60.0 + time.minute


def _found(choices: tuple[Choice[Any], ...], name: str) -> object:
    return found(choices, name)


def _offer(field: forms.Field, choices: tuple[Choice[Any], ...], none: str, typed: str) -> None:
    """Offer choices by group; what came with the address and is none of them stays."""
    groups: list[tuple[str, Any]] = [("", none)] if none else []
    for group, ones in groupby(choices, lambda one: one.group):
        groups.append((group, [(one.name, one.name) for one in ones]))
    names = {one.name.casefold(): one.name for one in choices}
    if typed and typed not in names.values():
        label = names.get(typed.strip().casefold(), f"{typed[:60]} (as typed)")
        groups.append((typed, label))
    field.widget.choices = groups
