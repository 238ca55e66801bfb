"""The form of a brief; it makes a Brief, and tells every problem at its field."""

from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from setwell.domain.brief import Brief
from setwell.errors import InputError
from setwell.services.blend_explorer import agent_choices
from setwell.services.briefs import allergen_names, brief_from_form, texture_words
from setwell.services.formulas import formula_list
from setwell.web.blend.forms import agent_choice, offer
from setwell.web.brief.fields import (
    BASE_KINDS,
    BASES,
    CELSIUS,
    CLARITIES,
    DIETS,
    HELPERS,
    MARKETS,
    MOST,
    MOUTHS,
    PLATINGS,
    SETS,
    amount,
    celsius_field,
    chosen,
    fahrenheit_told,
    names,
    picked,
    share,
    ticked,
)
from setwell.web.inputs import NumberField

UNTITLED = "Untitled brief"
_RANGES = ("modulus", "stress", "strain", "thickness")
# Where a part of the document as a whole is shown.
_FIELD_OF = {
    "composition": "composition__name", "texture": "texture__word",
    "limits": "limits__max_temperature_c",
}  # fmt: skip
# Fields that are no part of the document.
_OWN = ("base_kind", "base_number", "brief_id", "find")


class BriefForm(forms.Form):
    """One brief as typed."""

    title = forms.CharField(
        label="Name", required=False, max_length=120,
        error_messages={
            "required": "Give the brief a name.",
            "max_length": "The name has %(show_value)d characters; at most 120 fit.",
        },
    )  # fmt: skip
    base_kind = forms.ChoiceField(
        label="How it is told", choices=BASE_KINDS, required=False, widget=forms.RadioSelect
    )
    base = forms.CharField(
        label="Ingredients, one on each line", required=False, strip=False, max_length=20_000,
        help_text="Such as “500 g apple juice”. Without agents: those are proposed.",
        widget=forms.Textarea(attrs={"rows": 5, "spellcheck": "false", "autocapitalize": "off"}),
        error_messages={
            "max_length": "The base has %(show_value)d characters; at most 20,000 are read."
        },
    )  # fmt: skip
    base_formula = picked("Formula", help_text="Its newest version counts.")
    composition__name = forms.CharField(label="What it is", required=False, max_length=120)
    composition__sugar_g = share("Sugar")
    composition__fat_g = share("Fat")
    composition__protein_g = share("Protein, without milk's")
    composition__milk_protein_g = share("Milk protein")
    composition__starch_g = share("Starch")
    composition__alcohol_g = share("Alcohol")
    composition__salt_g = share("Salt")
    composition__calcium_mg = NumberField(label="Calcium, mg", low=0, high=5000, unit="mg")
    composition__potassium_mg = NumberField(label="Potassium, mg", low=0, high=5000, unit="mg")
    composition__ph = NumberField(label="pH", low=0, high=14, help_text="Empty: not known.")
    texture__word = picked("In a word")
    texture__like = picked("Or like a saved formula")
    texture__like_number = NumberField(
        label="Its version", low=1, high=1_000_000, is_whole=True, help_text="Empty: the newest."
    )
    texture__sets = chosen("Does it set?", SETS)
    texture__modulus_low = amount(
        "Stiffness from, kPa", help_text="Soft is 0.3 to 1, firm 5 to 20."
    )
    texture__modulus_high = amount("Stiffness to, kPa")
    texture__stress_low = amount("Breaks at, from, kPa")
    texture__stress_high = amount("Breaks at, to, kPa")
    texture__strain_low = amount("Strain at break from", help_text="0.5 is short, 1 bends far.")
    texture__strain_high = amount("Strain at break to")
    texture__thickness_low = amount("Thickness from, mPa·s", help_text="Stirred slowly: cream 100.")
    texture__thickness_high = amount("Thickness to, mPa·s")
    clarity = chosen("How clear", CLARITIES)
    serving_c = celsius_field("Served at, °C")
    mouth = chosen("In the mouth", MOUTHS)
    holds_c = celsius_field("Still stands at, °C", help_text="Empty: it is not kept hot.")
    plating = chosen("On the plate", PLATINGS)
    is_frozen = forms.BooleanField(label="It is frozen and thawed", required=False)
    keeps_afloat = forms.BooleanField(
        label="Keeps fine particles afloat: cocoa, herbs, pulp", required=False,
        help_text="By listed practice, not computed. Say as well whether it pours.",
    )  # fmt: skip
    diets = ticked("Has to fit", DIETS)
    without_allergens = ticked("Without these allergens")
    market = chosen("Sold under the rules of", MARKETS)
    limits__max_temperature_c = celsius_field(
        "Never hotter than, °C", help_text="Empty: it may boil."
    )
    limits__has_blender = forms.BooleanField(label="There is a blender", required=False)
    limits__is_acid_hot = forms.BooleanField(
        label="The acid is in from the start and gets hot", required=False
    )
    limits__set_within_h = NumberField(
        label="Has to stand within, hours", low=0, high=240, above=True, unit="hours",
        help_text="From pouring. Empty: there is time.",
    )  # fmt: skip
    shelf = ticked("Agents on the shelf", help_text="None ticked: every agent counts.")
    without = names(
        "Agents to leave out", help_text="One on each line; “pectin” means every pectin."
    )
    helpers = ticked("Salts that may help", HELPERS)
    agents_most = chosen("Agents together, at most", MOST)
    portion_g = NumberField(label="One portion, g", low=0, high=10_000, above=True, unit="g")
    cost_most = NumberField(
        label="Agents may cost, per portion", low=0, high=1e7, help_text="Empty: no ceiling."
    )
    note = forms.CharField(
        label="Notes", required=False, strip=False, max_length=2_000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )  # fmt: skip
    find = forms.CharField(label="Find an agent", required=False, max_length=120)
    brief_id = forms.IntegerField(
        required=False, min_value=1, max_value=10**9, widget=forms.HiddenInput
    )
    base_number = forms.IntegerField(
        required=False, min_value=1, max_value=10**9, widget=forms.HiddenInput
    )

    brief: Brief | None = None

    def __init__(self, *positional: Any, must_name: bool = False, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        self.fields["title"].required = must_name
        self._offer_names()
        statements = {one.word: one.statement for one in texture_words()}
        word = self._typed("texture__word")
        self.fields["texture__word"].help_text = statements.get(word, " ")
        for name, field in self.fields.items():
            if name in CELSIUS:
                field.help_text = fahrenheit_told(self._typed(name), str(field.help_text or " "))

    @property
    def told(self) -> tuple[BoundField, ...]:
        """The fields whose hint says in other words what is typed."""
        return tuple(self[name] for name in ("texture__word", *CELSIUS))

    @property
    def asks_texture(self) -> bool:
        """True when the brief says what it should be like, so that there is something to search."""
        wishes = [name for name in self.fields if name.startswith("texture__")]
        wishes.append("keeps_afloat")
        return any(self._typed(name).strip() for name in wishes)

    @property
    def base_chosen(self) -> str:
        """Which of the three ways the base is told in."""
        typed = self._typed("base_kind")
        return typed if typed in BASES else "lines"

    @property
    def bases_unused(self) -> tuple[str, ...]:
        """The other ways, where something is written in them all the same."""
        return tuple(
            label
            for kind, label in BASE_KINDS
            if kind != self.base_chosen
            and any(self._typed(name).strip() for name in BASES[kind] if "__name" not in name)
        )

    def refuse(self, error: InputError) -> None:
        """Show what a service or the engine refuses at the field it belongs to."""
        name = error.field.replace(".", "__")
        if name == "base":
            # A message stands where it is seen: at the way to tell the base that is chosen.
            name = BASES[self.base_chosen][0]
        name = _FIELD_OF.get(name, name)
        said = f"{error.message} {error.hint}".strip()
        self.add_error(name if name in self.fields else None, said)

    def clean(self) -> dict[str, Any]:
        """Build the document; what it refuses becomes a message at the field."""
        values: dict[str, Any] = super().clean() or {}
        for kind, fields in BASES.items():
            if kind != self.base_chosen:
                for name in fields:
                    self.errors.pop(name, None)
        self._check_ranges(values)
        if self.errors:
            return values
        try:
            self.brief = brief_from_form(self._document(values))
        except InputError as error:
            self.refuse(error)
        return values

    def _document(self, values: dict[str, Any]) -> dict[str, object]:
        """Return the fields of the document; what is empty stays at its usual value."""
        unused = {name for kind in BASES if kind != self.base_chosen for name in BASES[kind]}
        fields: dict[str, object] = {}
        for name, value in values.items():
            is_list = isinstance(value, (list, tuple))
            if name in unused or name in _OWN or (value in ("", None) and not is_list):
                continue
            fields[name.replace("__", ".")] = tuple(value) if is_list else value
        fields.setdefault("title", UNTITLED)
        if self.base_chosen == "composition":
            fields.setdefault("composition.name", "base")
        if "texture.sets" in fields:
            fields["texture.sets"] = fields["texture.sets"] == "yes"
        return fields

    def _check_ranges(self, values: dict[str, Any]) -> None:
        for what in _RANGES:
            low, high = values.get(f"texture__{what}_low"), values.get(f"texture__{what}_high")
            if low is not None and high is not None and low > high:
                self.add_error(
                    f"texture__{what}_high", f"This is below where it starts, {low:g}: swap them."
                )

    def _offer_names(self) -> None:
        groups: dict[str, list[tuple[str, str]]] = {}
        for one in texture_words():
            groups.setdefault(one.group, []).append((one.word, f"{one.word}: {one.statement}"))
        words: list[tuple[str, Any]] = [("", "No word"), *groups.items()]
        offer(self.fields["texture__word"], words, self._typed("texture__word"))
        saved = [(title, title) for title in dict.fromkeys(one.title for one in formula_list())]
        for name, none in (("base_formula", "Choose a formula"), ("texture__like", "No formula")):
            offer(self.fields[name], [("", none), *saved], self._typed(name))
        ticked_ = self._came("shelf")
        word = self._typed("find").strip().casefold()
        agents = [agent_choice(one) for _, ones in agent_choices() for one in ones]
        self._tick("shelf", [one for one in agents if word in one[1].casefold()
                             or one[0] in ticked_], agents)  # fmt: skip
        known = [(one, one.replace("_", " ").capitalize()) for one in allergen_names()]
        self._tick("without_allergens", known)

    def _tick(
        self, name: str, shown: list[tuple[str, str]], known: list[tuple[str, str]] | None = None
    ) -> None:
        """Offer boxes; a name that came with the brief and is none of them stays ticked."""
        offered = {value for value, _ in known or shown}
        extra = [(one, f"{one[:60]} (as typed)") for one in self._came(name) if one not in offered]
        self.fields[name].choices = [*shown, *extra]  # type: ignore[attr-defined]

    def _came(self, name: str) -> tuple[str, ...]:
        widget = self.fields[name].widget
        return tuple(dict.fromkeys(widget.value_from_datadict(self.data, self.files, name) or ()))

    def _typed(self, name: str) -> str:
        return str(self.data.get(name) or "")
