"""Sulfites and gluten added up over the ingredients, against the limit of a market."""

from collections.abc import Iterable
from dataclasses import dataclass

from setwell.domain.brief import Market
from setwell.engine.diets import material_lines
from setwell.engine.labels.label_names import plain_name
from setwell.engine.labels.statement_results import ThresholdSum
from setwell.engine.material import Material
from setwell.engine.rules.bench import Bench
from setwell.engine.verdict import Verdict
from setwell.provenance import Citation, Estimate, Evidence, evidence_join
from setwell.tables.labels.thresholds import Threshold

# From which share of the sum a source is told by name (our judgment, no source).
_MAIN_SHARE = 0.1


@dataclass(frozen=True, slots=True)
class Brought:
    """What one material brings, in mg per kg of it; `high` None where nobody knows."""

    material: Material
    low: float
    high: float | None
    citation: Citation | None = None


@dataclass(frozen=True, slots=True)
class Total:
    """What all materials bring, in mg per kg of the finished food."""

    low: float
    high: float | None
    sources: tuple[str, ...]
    main_keys: frozenset[str]
    unknown_in: tuple[str, ...]
    lines: tuple[int, ...]
    evidence: Evidence

    @property
    def words(self) -> str:
        """The range as text."""
        if self.high is None:
            least = f"at least {_figure(self.low)} mg/kg" if self.low > 0 else "an unknown amount"
            return f"{least}; no figure for {', '.join(self.unknown_in)}"
        if self.high == self.low:
            return f"{_figure(self.low)} mg/kg"
        return f"{_figure(self.low)} to {_figure(self.high)} mg/kg"


def _figure(mg_kg: float) -> str:
    """Return three digits that a cook can read, never powers of ten."""
    rounded = float(f"{mg_kg:.3g}")
    return f"{rounded:,.0f}" if rounded >= 100.0 else f"{rounded:.6f}".rstrip("0").rstrip(".")


def total_of(bench: Bench, market: Market, brought: Iterable[Brought]) -> Total:
    """Add up what materials bring, as if nothing were lost in the kitchen.

    `main_keys` are the materials that may bring a tenth of it or more.
    """
    finished = float(bench.state.composition.finished_g[0])
    grams = dict(zip((m.key for m in bench.plan.materials), bench.state.masses[0], strict=True))
    where = material_lines(bench.plan)
    present = [one for one in brought if grams[one.material.key] > 0 and finished > 0]
    shares = [float(grams[one.material.key]) / finished for one in present]
    unknown = tuple(plain_name(one.material, market) for one in present if one.high is None)
    pairs = list(zip(present, shares, strict=True))
    most = sum((one.high or 0.0) * share for one, share in pairs)
    largest = max(((one.high or 0.0) * share for one, share in pairs), default=0.0)
    return Total(
        low=sum(one.low * share for one, share in pairs),
        high=None if unknown else most,
        sources=tuple(plain_name(one.material, market) for one in present),
        main_keys=frozenset(
            one.material.key
            for one, share in pairs
            if one.high is None or one.high * share >= min(_MAIN_SHARE * most, largest)
        ),
        unknown_in=unknown,
        lines=tuple(sorted({number for one in present for number in where[one.material.key]})),
        evidence=evidence_join([(one.citation,) for one in present if one.citation]),
    )


def reaches_limit(total: Total, limit: float, *, market: Market) -> Verdict:
    """Return whether a total is at the limit (US) or above it (EU)."""
    if not total.sources:
        return Verdict.NO
    is_at = market is Market.US
    if total.low > limit or (is_at and total.low == limit and total.low > 0):
        return Verdict.YES
    if total.high is not None and (total.high < limit or (not is_at and total.high == limit)):
        return Verdict.NO
    return Verdict.CANNOT_TELL


def summed(
    substance: str, total: Total, threshold: Threshold, reaches: Verdict, text: str
) -> ThresholdSum:
    """Return a total with its verdict; what cannot be told is declared."""
    evidence = (*total.evidence, threshold.citation)
    middle = total.low if total.high is None else 0.5 * (total.low + total.high)
    return ThresholdSum(
        substance=substance,
        amount=Estimate(
            middle, "mg/kg", total.low, total.high, "sum over the ingredients", evidence,
            ("lower bound",) if total.high is None else (),
        ),
        limit_mg_kg=threshold.value,
        reaches=reaches,
        is_declared=reaches is not Verdict.NO,
        sources=total.sources,
        unknown_in=total.unknown_in,
        lines=total.lines,
        text=text,
        source_keys=total.main_keys,
        evidence=evidence,
    )  # fmt: skip
