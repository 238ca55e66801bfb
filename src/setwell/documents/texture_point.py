"""Textures as points: a shape for each kind, and the range around each."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import closed_path
from setwell.errors import InputError

# Two standard deviations hold about 95 % along each axis.
DEVIATIONS = 2.0
_CORNERS = 60
# Half the length of the bars across the ends of a range.
_END = 5.0

# What each kind of point is, in the order of the legend.
POINT_KINDS = {
    "this": "this formula",
    "version": "saved version",
    "candidate": "candidate",
    "trial": "measured",
    "reference": "known texture",
}


@dataclass(frozen=True, slots=True)
class TexturePoint:
    """One texture; deviations are of natural logarithms, an unknown strain is None."""

    label: str
    strain: float | None
    stress: float
    log_sd_strain: float = 0.0
    log_sd_stress: float = 0.0
    correlation: float = 0.0
    kind: str = "candidate"
    note: str = ""

    def __post_init__(self) -> None:
        """Check that the point can be drawn on axes of ratios."""
        if self.kind not in POINT_KINDS:
            raise InputError(
                f"The kind “{self.kind}” of point is not known.",
                hint=f"Use one of {', '.join(POINT_KINDS)}.",
            )
        for name, value in (("strain", self.strain), ("stress", self.stress)):
            if value is not None and not 0.0 < value < math.inf:
                raise InputError(
                    f"The fracture {name} of “{self.label}” is {value:g}.",
                    hint="Give a number above zero"
                    + (", or None where it is not known." if name == "strain" else "."),
                )
        if not -1.0 <= self.correlation <= 1.0:
            raise InputError(
                f"The correlation of “{self.label}” is {self.correlation:g}.",
                hint="Give a number from -1 to 1.",
            )


def doubt_shapes(
    points: Iterable[TexturePoint],
    spots: Sequence[tuple[float, float]],
    x_axis: Axis,
    y_axis: Axis,
) -> Iterable[str]:
    """Draw an ellipse where both sides are open, else a bar with ends; a line where no strain."""
    for point, (x, y) in zip(points, spots, strict=True):
        if point.strain is None:
            yield (
                f'<path class="level doubt-{point.kind}" stroke-dasharray="8 5" '
                f'd="M{x_axis.start:.1f} {y:.1f}H{x_axis.end:.1f}"/>'
            )
        elif point.log_sd_strain > 0.0 and point.log_sd_stress > 0.0:
            kind = f"doubt doubt-{point.kind}"
            yield closed_path(ellipse(point, x_axis, y_axis), kind, _dashes(point.kind))
            continue
        elif point.log_sd_strain > 0.0:
            reach = math.exp(DEVIATIONS * point.log_sd_strain)
            low, high = x_axis.at(point.strain / reach), x_axis.at(point.strain * reach)
            yield (
                f'<path class="bar doubt-{point.kind}" d="M{low:.1f} {y:.1f}H{high:.1f}'
                f'M{low:.1f} {y - _END:.1f}v{2 * _END:g}M{high:.1f} {y - _END:.1f}v{2 * _END:g}"/>'
            )
        if point.log_sd_stress > 0.0:
            reach = math.exp(DEVIATIONS * point.log_sd_stress)
            low, high = y_axis.at(point.stress / reach), y_axis.at(point.stress * reach)
            yield (
                f'<path class="bar doubt-{point.kind}" d="M{x:.1f} {low:.1f}V{high:.1f}'
                f'M{x - _END:.1f} {low:.1f}h{2 * _END:g}M{x - _END:.1f} {high:.1f}h{2 * _END:g}"/>'
            )


def ellipse(point: TexturePoint, x_axis: Axis, y_axis: Axis) -> list[tuple[float, float]]:
    """Return the edge two standard deviations away, turned by the correlation of the logarithms."""
    strain = point.strain or 0.0
    rest = math.sqrt(1.0 - point.correlation**2)
    edge = []
    for corner in range(_CORNERS):
        turn = 2.0 * math.pi * corner / _CORNERS
        across, up = DEVIATIONS * math.cos(turn), DEVIATIONS * math.sin(turn)
        # The two columns of the triangular root of the covariance.
        ln_strain = point.log_sd_strain * across
        ln_stress = point.log_sd_stress * (point.correlation * across + rest * up)
        edge.append(
            (x_axis.at(strain * math.exp(ln_strain)), y_axis.at(point.stress * math.exp(ln_stress)))
        )
    return edge


def _dashes(kind: str) -> str:
    # What is only proposed has a broken edge.
    return ' stroke-dasharray="4 4"' if kind == "candidate" else ""


def point_shape(kind: str, x: float, y: float) -> str:
    """Return the mark of one kind: star, dot, triangle, square or open diamond."""
    drawn = f"point point-{kind}"
    if kind == "version":
        return f'<circle class="{drawn}" cx="{x:.1f}" cy="{y:.1f}" r="6"/>'
    return closed_path(_corners(kind, x, y), drawn)


def _corners(kind: str, x: float, y: float) -> list[tuple[float, float]]:
    if kind == "this":
        # Five points: outer and inner corners take turns.
        rays = [(10.5 if turn % 2 == 0 else 4.6, math.pi * turn / 5) for turn in range(10)]
        return [(x + r * math.sin(angle), y - r * math.cos(angle)) for r, angle in rays]
    if kind == "candidate":
        return [(x, y - 7.5), (x + 7.0, y + 5.0), (x - 7.0, y + 5.0)]
    if kind == "trial":
        return [(x - 5.5, y - 5.5), (x + 5.5, y - 5.5), (x + 5.5, y + 5.5), (x - 5.5, y + 5.5)]
    return [(x, y - 8.0), (x + 7.0, y), (x, y + 8.0), (x - 7.0, y)]
