"""How well the parts of a heated pot touch: conduction, boundary layers, stirring."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.science.heat.buoyancy import LAYER
from setwell.science.heat.pot_parts import NODES, SLICES, PotBody, PotMotion

Array = NDArray[np.float64]

# Between slices of a liquid that moves: much more than any heat that passes [W/m2K].
_MIXED = 1e5
# Motion takes over from conduction at the faces up to the critical Rayleigh number, and in the
# middle from there to four times as much: never more passes than motion alone would carry.
_ONSET_WIDTH = np.log(4.0)
_NOMINAL_K = 10.0
# Over the last degrees to the boil bubbles take over (our judgment) [K].
_BUBBLES_K = 3.0


class Contact(NamedTuple):
    """How well the nodes touch: conductances (n, M - 1) [W/K], and the base at 10 K [W/m2K]."""

    conduct: Array
    base: Array

    def toward(self, other: "Contact", share: float) -> "Contact":
        """Return the contact a share of the way to another moment, on logarithmic axes."""
        return Contact(
            self.conduct * (other.conduct / self.conduct) ** share,
            self.base * (other.base / self.base) ** share,
        )


def contact(celsius: Array, body: PotBody, motion: PotMotion, boiling_c: Array) -> Contact:
    """Return how well neighboring nodes pass heat on.

    Parameters
    ----------
    celsius : ndarray, shape (n, M)
        Temperatures from the base to the surface [°C].
    body : PotBody, shape (n,)
        The pots [SI].
    motion : PotMotion, shape (n,)
        How the liquid moves [SI].
    boiling_c : ndarray, shape (n,)
        Boiling point; near it bubbles stir the surface in [°C].

    Returns
    -------
    Contact, shape (n, M - 1)
        Conductances between neighbors, and the coefficient at the base [W/K, W/m2K].

    Notes
    -----
    q = G (T_1 − T_2). In a liquid that moves G is that of the boundary layer at base and surface
    and very large in between; at rest it is conduction, k over the distance. Between the two it
    goes over from a quarter of the critical Rayleigh number to four times as much, a shape of
    our own that never passes more than either. Meant for a pot heated from below.

    References
    ----------
    mcadams_1954
        Boundary layers that pass heat whatever the depth.

    Examples
    --------
    See `pot_run`, which takes its steps with these.

    >>> NODES
    8
    """
    core = celsius[:, 1:-1].mean(axis=1)
    near_boil = _smooth((core - boiling_c + _BUBBLES_K) / _BUBBLES_K)
    conduct, base = _conductances(celsius, core, near_boil, body, motion)
    return Contact(conduct, base)


def _conductances(
    celsius: Array, core: Array, near_boil: Array, body: PotBody, motion: PotMotion
) -> tuple[Array, Array]:
    """Return the conductances between the nodes [W/K], and the base's coefficient at 10 K."""
    slice_depth = (body.depth - body.skin) / SLICES
    still = body.conductivity / slice_depth
    to_skin = body.conductivity / (0.5 * (slice_depth + body.skin))
    # Base, surface, and the base at one difference: how far its warmth reaches up hardly changes.
    differences = np.stack([
        celsius[:, 0] - core, core - celsius[:, -1], np.full_like(core, _NOMINAL_K)
    ])  # fmt: skip
    at_rest = np.stack([2.0 * still, to_skin, 2.0 * still])
    (base, top, nominal), (base_share, top_share, _) = _layers(
        differences, core, body, motion, at_rest
    )
    # A spoon that scrapes the base folds the surface in as well.
    top = np.where(motion.stirred > 0, _MIXED, top * (_MIXED / top) ** near_boil)
    inside = still + _MIXED * np.maximum(base_share, top_share)
    conduct = np.empty((len(core), NODES - 1))
    conduct[:, 0], conduct[:, -1] = base, top
    conduct[:, 1:-1] = inside[:, None]
    return conduct * body.area[:, None], nominal


def _layers(
    difference: Array, core: Array, body: PotBody, motion: PotMotion, still: Array
) -> tuple[Array, Array]:
    """Return coefficients of boundary layers (3, n), and how far the liquid moves from 0 to 1."""
    moving = np.exp(_read(np.maximum(difference, 1e-9), core, motion))
    rayleigh = np.log(moving * body.depth / (LAYER * body.conductivity)) * 3.0
    beyond = (rayleigh - np.log(motion.critical)) / _ONSET_WIDTH
    beyond = np.where(difference > 0, beyond, -1.0)
    free = still * (moving / still) ** _smooth(beyond + 1.0)
    stirred = motion.stirred > 0
    return np.maximum(free, motion.stirred), np.where(stirred, 1.0, _smooth(beyond))


def _smooth(place: Array) -> Array:
    """Return a step from 0 at 0 to 1 at 1 without a kink."""
    inside = np.minimum(np.maximum(place, 0.0), 1.0)
    return np.asarray(inside * inside * (3.0 - 2.0 * inside))


def _read(difference: Array, core: Array, motion: PotMotion) -> Array:
    """Return the table of boundary layers between its points; beyond the ends it goes on."""
    table = motion.log_layer
    _, warm, wide = table.shape
    across = np.clip((core - motion.first_c) / motion.step_c, 0.0, warm - 1.000001)
    along = (np.log(difference) - motion.first_log) / motion.step_log
    i = across.astype(np.intp)
    j = np.clip(along, 0.0, wide - 2).astype(np.intp)
    a, b, row = across - i, along - j, np.arange(len(core))
    cold = table[row, i, j] + b * (table[row, i, j + 1] - table[row, i, j])
    hot = table[row, i + 1, j] + b * (table[row, i + 1, j + 1] - table[row, i + 1, j])
    return np.asarray(cold + a * (hot - cold))
