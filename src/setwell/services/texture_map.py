"""All versions of a formula on one texture map, with what was measured of them."""

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from setwell.documents.drawing import ChartTable
from setwell.documents.texture_map import (
    TextureMap,
    TexturePoint,
    letter,
    texture_map_svg,
    texture_map_table,
)
from setwell.documents.texture_sheet import map_regions, texture_point
from setwell.domain.texture_reading import TextureKind
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Verdict
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_observations import penetration_factor
from setwell.engine.texture_unknowns import METHOD_DOUBT, PENETRATION_FACTOR
from setwell.engine.texture_words import texture_words
from setwell.errors import SetwellError
from setwell.provenance import Citation, Estimate, Grade
from setwell.science.inference.plunger import load_stress
from setwell.services.calibration import calibration_for
from setwell.services.formulas import VersionSummary, formula_get, version_get, version_history
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.texture_calibration import corrections_for
from setwell.services.texture_readings import StoredTextureReading, texture_reading_list

# More versions than this make a map that nobody can read.
VERSION_LIMIT = 30
_TRIAL_LIMIT = 20
# With more marks than this only the newest version keeps the line of its doubt.
OUTLINE_LIMIT = 8
_OWN = Citation("this_kitchen", "texture readings", Grade.MEASURED)


@dataclass(frozen=True, slots=True)
class VersionTexture:
    """One version on the map; without a letter where it has no place, and `remark` says why."""

    letter: str
    number: int
    is_newest: bool
    saved_at: dt.datetime
    note: str
    sentence: str
    stress_kpa: Estimate | None
    strain: Estimate | None
    remark: str = ""


@dataclass(frozen=True, slots=True)
class MeasuredTexture:
    """A stress at break that was measured of one version; a plunger tells no strain."""

    letter: str
    number: int
    taken_on: dt.date | None
    stress_kpa: Estimate
    load_g: float
    plunger_mm: float


@dataclass(frozen=True, slots=True)
class FormulaTextures:
    """All versions of a formula on one map; `older` more were saved before those shown."""

    title: str
    versions: tuple[VersionTexture, ...]
    measured: tuple[MeasuredTexture, ...]
    older: int
    has_all_outlines: bool
    svg: str
    table: ChartTable


def formula_textures(*, formula_id: int) -> FormulaTextures:
    """Return the versions of a formula, oldest first, with their places on the map."""
    title = formula_get(formula_id=formula_id).title
    history = sorted(version_history(formula_id=formula_id), key=lambda one: one.number)
    shown = history[-VERSION_LIMIT:]
    benches = {one.number: _bench(one) for one in shown}
    points: list[TexturePoint] = []
    versions = tuple(_version(one, benches[one.number], points) for one in shown)
    has_all = len(points) <= OUTLINE_LIMIT
    if not has_all:
        points = [_bare(point) for point in points]
    measured = tuple(_measured(formula_id, benches, points))
    chart = TextureMap(f"Texture map of {title}", tuple(points), map_regions())
    return FormulaTextures(
        title=title,
        versions=versions,
        measured=measured,
        older=len(history) - len(shown),
        has_all_outlines=has_all,
        svg=texture_map_svg(chart) if points else "",
        table=texture_map_table(chart),
    )


def _bench(summary: VersionSummary) -> Bench | None:
    """Return one version computed with all readings; only what its texture needs."""
    formula_id, number = summary.formula_id, summary.number
    try:
        formula = version_get(formula_id=formula_id, number=number).formula
        acids = calibration_for(formula=formula, formula_id=formula_id, number=number)
        textures = corrections_for(formula=formula, formula_id=formula_id, number=number)
        return bench_build(
            formula,
            catalog=kitchen_catalog(),
            parts=parts_for(formula),
            measured_ph=acids.measured,
            ph_offset=acids.offset,
            corrections=textures.corrections,
        )
    except SetwellError:
        # One version that cannot be read must not cost the map of all others.
        return None


def _version(
    summary: VersionSummary, bench: Bench | None, points: list[TexturePoint]
) -> VersionTexture:
    """Return one version, and put its point on the map where it has one."""
    plain = VersionTexture(
        "", summary.number, summary.is_head, summary.saved_at, summary.note, "", None, None,
        "This version cannot be read, so it is not computed.",
    )  # fmt: skip
    if bench is None:
        return plain
    texture = texture_words(bench)
    found = None
    if texture.sets is not Verdict.NO:
        kind = "this" if summary.is_head else "version"
        label = f"version {summary.number}"
        found = texture_point(texture.map_point, label=label, kind=kind)
    if found is None:
        return replace(plain, sentence=texture.sentence, remark="No gel, so no place on the map.")
    points.append(found)
    return replace(
        plain,
        letter=letter(len(points) - 1),
        sentence=texture.sentence,
        stress_kpa=texture.fracture_stress_kpa,
        strain=texture.fracture_strain,
        remark="",
    )


def _bare(point: TexturePoint) -> TexturePoint:
    if point.kind == "this":
        return point
    return replace(point, log_sd_strain=0.0, log_sd_stress=0.0)


def _measured(
    formula_id: int, benches: Mapping[int, Bench | None], points: list[TexturePoint]
) -> Iterable[MeasuredTexture]:
    """Return stresses at break that were measured and count, newest version first."""
    rows = [
        row
        for row in texture_reading_list(formula_id=formula_id)
        if row.counts and row.document.kind is TextureKind.PENETRATION and row.number in benches
    ]
    for row in rows[:_TRIAL_LIMIT]:
        stress, half_width = _stress(row, _factor(benches[row.number]))
        if not math.isfinite(stress) or stress <= 0.0:
            continue
        reach = math.exp(half_width)
        number = Estimate(
            stress, "kPa", stress / reach, stress * reach,
            "load on a plunger over the factor of plungers", (_OWN,),
        )  # fmt: skip
        yield MeasuredTexture(
            letter(len(points)), row.number, row.document.taken_on, number,
            row.document.value or 0.0, row.document.plunger_mm,
        )  # fmt: skip
        label = f"measured of version {row.number}"
        points.append(
            TexturePoint(label, None, stress, log_sd_stress=half_width / 2.0, kind="trial")
        )


def _stress(row: StoredTextureReading, factor: float) -> tuple[float, float]:
    """Return stress at break [kPa] and its half width on the log axis."""
    reading = row.document
    pressure = load_stress((reading.value or 0.0) / 1000.0, radius=reading.plunger_mm / 2000.0)
    repeats = math.log1p(reading.doubt / 100.0)
    return float(pressure) / 1000.0 / factor, math.hypot(METHOD_DOUBT["penetration"], repeats)


def _factor(bench: Bench | None) -> float:
    """Return load per area of a plunger over stress at break, for the gel of one version."""
    if bench is None or not bench.state.texture.shares:
        return PENETRATION_FACTOR
    return penetration_factor(bench)
