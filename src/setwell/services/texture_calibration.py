"""What this kitchen's texture readings move in a formula, by how much, and on which readings."""

from collections.abc import Iterable
from dataclasses import replace

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.batch_marks import lots_of, recipe_of
from setwell.engine.calibration import Calibrated, base_of, calibrate
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_unknowns import Target
from setwell.errors import InputError
from setwell.services.calibration import Calibration, calibration_for
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.texture_compare import Beside, Regions, readings_beside
from setwell.services.texture_results import QuantityRow, ReadingUse, TextureCalibration
from setwell.services.texture_words import dispute_told, numbers_of, row_told, use_told
from setwell.store.texture_reading_rows import any_texture_rows

_NOTHING = TextureCalibration()


def corrections_for(
    *,
    formula: Formula,
    formula_id: int | None = None,
    number: int | None = None,
    regions: Regions | None = None,
) -> TextureCalibration:
    """Return what all readings of this kitchen say of a formula, saved or not.

    Lots are those in use now. `formula_id` and `number` name a stored version, for its pH;
    `regions` place trade words on the texture map, by default as the tables do.
    """
    if not any_texture_rows():
        return _NOTHING
    acids = calibration_for(formula=formula, formula_id=formula_id, number=number)
    try:
        bench = _bench(formula, acids)
    except InputError:
        # A text too long to be a formula has nothing to correct; assessing it says so.
        return _NOTHING
    return _calibrated(bench, regions)


def before_after(
    *,
    formula: Formula,
    formula_id: int | None = None,
    number: int | None = None,
    regions: Regions | None = None,
) -> tuple[QuantityRow, ...]:
    """Return each corrected quantity with its number computed, and calibrated."""
    if not any_texture_rows():
        return ()
    acids = calibration_for(formula=formula, formula_id=formula_id, number=number)
    bench = _bench(formula, acids)
    calibration = _calibrated(bench, regions)
    if calibration.is_empty:
        return calibration.rows
    after = bench_build(
        formula,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        measured_ph=acids.measured,
        ph_offset=acids.offset,
        corrections=calibration.corrections,
    )
    return tuple(
        replace(
            row,
            computed=numbers_of(bench, row.agent, row.quantity),
            calibrated=numbers_of(after, row.agent, row.quantity, is_calibrated=True),
        )
        for row in calibration.rows
    )


def targets_of(bench: Bench) -> dict[str, Target]:
    """Return the agents of a batch as calibration sees them."""
    lots, base = lots_of(bench), base_of(bench.state)
    return {
        key: Target(lots.get(key, ""), base, state.doubt.at(0), recipe_of(bench.formula))
        for key, state in bench.state.agents.items()
    }


def counted(beside: Iterable[Beside]) -> list[Beside]:
    """Return the readings that count: not set aside, and with a number to compare with."""
    return [one for one in beside if one.stored.counts and one.compared.observations]


def uses_of(beside: Iterable[Beside], calibrated: Calibrated) -> dict[str, ReadingUse]:
    """Return every reading beside the model, by its key."""
    disputed = {key for dispute in calibrated.disputes for key in dispute.keys}
    return {
        one.key: use_told(one, fit=calibrated.fits.get(one.key), is_disputed=one.key in disputed)
        for one in beside
    }


def _bench(formula: Formula, acids: Calibration) -> Bench:
    return bench_build(
        formula,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        measured_ph=acids.measured,
        ph_offset=acids.offset,
    )


def _calibrated(bench: Bench, regions: Regions | None) -> TextureCalibration:
    targets = targets_of(bench)
    beside = readings_beside(targets, regions=regions)
    if not beside:
        return _NOTHING
    observations = [found for one in counted(beside) for found in one.compared.observations]
    calibrated = calibrate(observations, targets)
    uses = uses_of(beside, calibrated)
    disputes = tuple(dispute_told(one, uses) for one in calibrated.disputes)
    rows = tuple(
        row_told(found, bench, target=targets[found.agent], uses=uses) for found in calibrated.found
    )
    return TextureCalibration(calibrated.corrections, tuple(uses.values()), disputes, rows)
