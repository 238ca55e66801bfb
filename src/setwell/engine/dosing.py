"""How much acid or buffer brings a batch to a pH: the acid-base balance the other way round."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from setwell.engine.acid_additives import AcidAdditive, additives
from setwell.engine.acid_side import acid_side, system_index
from setwell.engine.acidity import Acidity, acidity
from setwell.engine.catalog import Catalog
from setwell.engine.dose_search import Doses, Start, Weighed, doses, own_water
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.origins import acidity_evidence
from setwell.engine.spans import Spans
from setwell.errors import InputError
from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.tables.solution import acid_systems, taste_limits

_MODEL = "charge balance solved for the dose"
_ADDED_UP = "composition of the ingredients added up, with the dose"
# Nobody reads a pH closer than this.
_SAME_PH = 0.005
_CALCIUM_SET = frozenset(
    {"iota_carrageenan", "pectin_LM", "pectin_LMA", "gellan_LA", "sodium_alginate"}
)


class Taste(StrEnum):
    """What a rough taste limit says of an amount."""

    NOT_ADDED = "none added"
    FINE = "not noticed"
    NOTICED = "noticed"
    TOO_MUCH = "too much"


@dataclass(frozen=True, slots=True)
class DoseResult:
    """One additive and what it takes to reach a pH.

    `grams` in the batch and `percent` of the finished batch are None when the pH cannot be
    reached; then `reason` says why and `reached_ph` how near it comes. `sodium` and `citrate`
    are mg in 100 g with the dose in, citrate counted as citric acid. The verdict on sodium
    looks at all of it, the one on citrate at what the additive brings.
    """

    key: str
    name: str
    is_acid: bool
    target_ph: float
    grams: Estimate | None
    percent: float | None
    reachable: bool
    reached_ph: Estimate
    reason: str
    sodium: Estimate | None
    sodium_taste: Taste
    citrate: Estimate | None
    citrate_taste: Taste
    flags: tuple[str, ...]

    @property
    def is_pleasant(self) -> bool:
        """True when the dose reaches the pH and neither sodium nor citrate is too much."""
        tastes = (self.sodium_taste, self.citrate_taste)
        return self.reachable and Taste.TOO_MUCH not in tastes


def dose_for(
    bench: Weighed, target_ph: float, additive: AcidAdditive, *, row: int = 0
) -> DoseResult:
    """Return what it takes of one additive to bring one candidate to a pH.

    Raises InputError when there is no pH to start from, OutOfRangeError for a pH outside 0 to 14.
    """
    start_check(bench, row)
    start = Start.of(bench.state, slice(row, row + 1))
    found = doses(start, bench.plan.materials, target_ph, additive)
    return _Told(bench, row, additive, target_ph, start, found).result()


def acid_to(
    bench: Weighed, target_ph: float, *, catalog: Catalog | None = None, row: int = 0
) -> tuple[DoseResult, ...]:
    """Return all acids: those without a caution and small doses first, out of reach last."""
    return _table(bench, target_ph, catalog, row, is_acid=True)


def buffer_to(
    bench: Weighed, target_ph: float, *, catalog: Catalog | None = None, row: int = 0
) -> tuple[DoseResult, ...]:
    """Return all buffers and bases: without a caution and small first, out of reach last."""
    return _table(bench, target_ph, catalog, row, is_acid=False)


def _table(
    bench: Weighed, target_ph: float, catalog: Catalog | None, row: int, *, is_acid: bool
) -> tuple[DoseResult, ...]:
    found = [
        dose_for(bench, target_ph, one, row=row)
        for one in additives(catalog)
        if one.is_acid is is_acid
    ]
    return tuple(sorted(found, key=_by_ease))


def _by_ease(result: DoseResult) -> tuple[bool, bool, float]:
    """Put what reaches the pH first, then what needs no caution, then what needs little."""
    grams = 0.0 if result.grams is None else result.grams.value
    return not result.reachable, bool(result.flags), grams


def start_check(bench: Weighed, row: int = 0) -> None:
    """Refuse a batch without a pH to start from."""
    state = bench.state
    if not float(np.abs(state.masses[row]).sum()) > 0:
        raise InputError(
            "Nothing in this formula has a weight yet, so there is no pH to start from.",
            field="ingredients",
            hint="Give at least one line a weight.",
        )
    if not state.water.acidity.is_solved[row]:
        share = 100.0 * float(state.composition.share("water_g")[row])
        raise InputError(
            f"This batch holds {share:.2g} % water: too little to speak of a pH.",
            field="ingredients",
            hint="Write the liquid as a line of its own.",
        )


class _Told:
    """Puts one dose into words and limits."""

    def __init__(
        self,
        bench: Weighed,
        row: int,
        additive: AcidAdditive,
        target_ph: float,
        start: Start,
        found: Doses,
    ) -> None:
        self.bench, self.row, self.additive, self.start = bench, row, additive, start
        self.target, self.found = target_ph, found
        self.side = acid_side(additive.material)
        self.finished = float(bench.state.composition.finished_g[row])
        self.now = float(start.ph.value[0])
        self.is_there = abs(self.now - target_ph) < _SAME_PH
        self.reachable = bool(found.is_reachable[0]) or self.is_there
        self.dose = float(found.grams.value[0]) if self.reachable and not self.is_there else 0.0
        self.after = self._after(self.dose)

    def result(self) -> DoseResult:
        one, row = self.additive, self.row
        evidence = evidence_join(
            [acidity_evidence(self.bench.plan, self.bench.state, row), self.side.evidence]
        )
        is_done = self.reachable
        percent = 100.0 * self.dose / (self.finished + self.dose)
        return DoseResult(
            one.key, one.name, one.is_acid, self.target,
            self._grams(evidence) if is_done else None,
            percent if is_done else None,
            is_done, self._reached(evidence), "" if is_done else self._reason(),
            self._sodium() if is_done else None, self._sodium_taste(),
            self._citrate(evidence) if is_done else None, self._citrate_taste(),
            self._flags(),
        )  # fmt: skip

    def _after(self, grams: float) -> Acidity:
        """Return the whole balance with the dose in, solved anew."""
        masses = np.append(self.start.masses, [[grams]], axis=1)
        water = self.start.water_g + grams * own_water(self.additive.material)
        return acidity(masses, (*self.bench.plan.materials, self.additive.material), water)

    def _grams(self, evidence: Evidence) -> Estimate:
        low, high = (float(end[0]) for end in self.found.grams[1:])
        if self.is_there:
            low, high = 0.0, 0.0
        flags = () if np.isfinite(high) else ("the high end is open",)
        end = high if np.isfinite(high) else None
        return Estimate(self.dose, "g", low, end, _MODEL, evidence, flags)

    def _reached(self, evidence: Evidence) -> Estimate:
        """Return the pH with the dose in, with the doubt of the estimate or of the reading."""
        value = float(self.found.ph[0]) if not self.is_there else self.now
        computed = self.after.ph
        below = float(computed.value[0] - computed.low[0])
        above = float(computed.high[0] - computed.value[0])
        if not self.start.is_computed:
            # A reading takes half of the doubt away, as in later versions of a formula.
            read = float(self.start.ph.high[0] - self.start.ph.low[0]) / 2.0
            below, above = (float(np.hypot(read, half / 2.0)) for half in (below, above))
        low, high = max(value - below, 0.0), min(value + above, 14.0)
        return Estimate(value, "pH", low, high, _MODEL, evidence)

    def _reason(self) -> str:
        name, now, near = self.additive.name, self.now, float(self.found.ph[0])
        if self.additive.is_acid and self.target > now:
            return f"The batch is at pH {now:.1f}; {name} only makes it more acid."
        if not self.additive.is_acid and self.target < now:
            return f"The batch is at pH {now:.1f}; {name} only makes it less acid."
        if abs(near - now) < _SAME_PH:
            return f"At pH {now:.1f} {name} does not move it toward pH {self.target:g}."
        most = self.additive.most * 1000.0
        return f"Even {most:g} g per kg of water brings it to pH {near:.1f} only."

    def _sodium(self) -> Estimate:
        index = NUTRIENT_INDEX["sodium_mg"]
        composition, material = self.bench.state.composition, self.additive.material
        added = self.dose * float(np.nan_to_num(material.nutrients[index])) / 100.0
        total = float(composition.amount[self.row, index]) + added
        half = float(composition.half_width[self.row, index])
        scale = 100.0 / (self.finished + self.dose)
        is_open = bool(composition.unknown[self.row, index])
        high = None if is_open else scale * (total + half)
        return Estimate(
            scale * total, "mg/100 g", scale * max(total - half, 0.0), high, _ADDED_UP,
            evidence_join([material.evidence, (taste_limits()["sodium"]["noticed"].citation,)]),
            ("lower bound",) if is_open else (),
        )  # fmt: skip

    def _citrate_mg(self) -> float:
        """Return what the additive alone brings, as mg of citric acid in 100 g."""
        moles = self.dose / 1000.0 * float(self.side.totals[system_index()["citric"]])
        return moles * acid_systems()["citric"].molar_mass * 1e5 / (self.finished + self.dose)

    def _citrate(self, evidence: Evidence) -> Estimate:
        index = system_index()["citric"]
        before = float(self.start.amounts.totals[0, index] * self.start.water_g[0]) / 1000.0
        milligrams = before * acid_systems()["citric"].molar_mass * 1e5
        total = milligrams / (self.finished + self.dose) + self._citrate_mg()
        return Estimate(total, "mg/100 g", None, None, "acids of the ingredients", evidence)

    def _sodium_taste(self) -> Taste:
        brings = float(np.nan_to_num(self.additive.material.nutrients[NUTRIENT_INDEX["sodium_mg"]]))
        # Juices bring a trace that nobody tastes.
        if not self.reachable or brings < 1000.0:
            return Taste.NOT_ADDED
        return _taste("sodium", self._sodium().value)

    def _citrate_taste(self) -> Taste:
        if not self.reachable or not self.side.totals[system_index()["citric"]] > 0:
            return Taste.NOT_ADDED
        return _taste("citrate", self._citrate_mg())

    def _flags(self) -> tuple[str, ...]:
        one, flags = self.additive, list[str]()
        if self.reachable and self.after.is_beyond[0]:
            flags.append("more salt than the model is good for: go by a meter")
        per_water = self.dose / float(self.start.water_g[0])
        if one.dissolves is not None and per_water > one.dissolves:
            grams = 1000.0 * one.dissolves
            flags.append(f"at most about {grams:.0f} g dissolve in a kg of cold water")
        holds = "calcium" in one.remark
        if one.remark and (not holds or _CALCIUM_SET & set(self.bench.agents)):
            flags.append(one.remark)
        return tuple(flags)


def _taste(substance: str, milligrams: float) -> Taste:
    limits = taste_limits()[substance]
    if milligrams > limits["too_much"].value:
        return Taste.TOO_MUCH
    return Taste.NOTICED if milligrams > limits["noticed"].value else Taste.FINE


def ph_now(bench: Weighed, row: int = 0) -> Estimate:
    """Return the pH before any dose: the reading, or the computed pH."""
    ph: Spans = bench.state.water.ph
    is_computed = ph is bench.state.water.acidity.ph
    evidence = acidity_evidence(bench.plan, bench.state, row)
    model = "charge balance of acids, buffers and salts" if is_computed else "your reading"
    return ph.estimate(unit="pH", model=model, evidence=evidence, row=row)
