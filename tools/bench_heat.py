"""Measure how fast bodies cool, and how that compares with general solvers in the same run.

The body is a jar of 60 by 60 cells: food, a wall and a base of glass, air above the food. All
sides give its hottest place on the axis at every minute for six hours, on the same cells.

- SciPy's backward differentiation gets the matrix and its slope, and the loosest tolerance that
  keeps it within 0.01 K.
- FiPy sets up the same equation on a grid of its own and takes three steps a minute, which keeps
  it within 0.1 K: its steps are of first order. At our error it would need hundreds of times as
  many, so its row is kind to it. Loading it does not count, setting up does, for all three.

Uniform food has no cells: a course of 361 points and five times, from the sizes on.
"""

import os
import statistics
import time
from collections.abc import Callable

import numpy as np
from bench_texture import by_turns
from scipy.integrate import solve_ivp
from scipy.sparse import csc_array, diags_array

from setwell import CoolPlan, MoldForm, bench_build, formula_make
from setwell.domain.equipment import MoldShape, WallMaterial
from setwell.engine.heat.sweep import Swept, sweep
from setwell.science.heat.body import Body, cylinder_body
from setwell.science.heat.krylov import cool_body
from setwell.science.heat.separable import uniform_cylinder

Row = tuple[str, str, bool]
SECONDS = np.linspace(0.0, 6 * 3600.0, 361)
START, AIR, COEFFICIENT = 85.0, 4.0, 10.0
LEAST_RATIO, LEAST_RATIO_FIPY, MOST_MS = 15.0, 300.0, 1.0
SWEEP_MOST_MS = 200.0
SAME, SAME_FIPY, STEPS = 0.01, 0.1, 3


class Jar:
    """A jar of glass: edges [m] and materials of its cells."""

    def __init__(self) -> None:
        self.r = np.concatenate([np.linspace(0, 35, 56), np.linspace(35, 38, 6)[1:]]) / 1000
        filled = np.linspace(4, 94, 52)[1:]
        self.z = np.concatenate([np.linspace(0, 4, 5), filled, np.linspace(94, 104, 6)[1:]]) / 1000
        self.k, self.heat = np.full((60, 60), 0.55), np.full((60, 60), 1030 * 3800.0)
        self.k[:55, 55:], self.heat[:55, 55:] = 0.026, 1.15 * 1006
        self.k[55:], self.heat[55:] = 1.0, 2500 * 840.0
        self.k[:, :4], self.heat[:, :4] = 1.0, 2500 * 840.0
        # The column of cells along the axis, within the food.
        self.axis = np.arange(4, 55)

    def body(self) -> Body:
        """Return it as cells of ours."""
        return cylinder_body(
            self.r, self.z, conductivity=self.k, volumetric_heat=self.heat,
            side=COEFFICIENT, top=COEFFICIENT, bottom=COEFFICIENT,
        )  # fmt: skip

    def ours(self, tolerance: float = 0.003) -> np.ndarray:
        """Return the hottest place over time, from the materials on."""
        body = self.body()
        heights = (self.z[self.axis] + self.z[self.axis + 1]) / 2
        probes = [(0.0, float(height)) for height in heights]
        return cool_body(
            body, START, surroundings=AIR, seconds=SECONDS, probes=probes, tolerance=tolerance
        ).max(axis=1)

    def integrated(self, tolerance: float) -> np.ndarray:
        """Return the same from SciPy's integrator."""
        body = self.body()
        matrix = csc_array(body.conductance + diags_array(body.to_surroundings))
        slope = csc_array(diags_array(-1.0 / body.capacity) @ matrix)
        run = solve_ivp(
            lambda _t, cells: slope @ (cells - AIR), (0.0, SECONDS[-1]),
            np.full(body.size, START), method="BDF", jac=slope, t_eval=SECONDS,
            rtol=tolerance, atol=tolerance,
        )  # fmt: skip
        return run.y[self.axis].max(axis=0)

    def fipy(self) -> np.ndarray:
        """Return the same from FiPy."""
        import fipy  # noqa: PLC0415 - not on every machine

        mesh = fipy.CylindricalGrid2D(dx=np.diff(self.r), dy=np.diff(self.z))
        # It counts along the radius first.
        k = fipy.CellVariable(mesh=mesh, value=self.k.T.ravel())
        heat = fipy.CellVariable(mesh=mesh, value=self.heat.T.ravel())
        cells = fipy.CellVariable(mesh=mesh, value=START, hasOld=True)
        outer = np.asarray(mesh.exteriorFaces.value)
        outer &= np.asarray(mesh.faceCenters[0]) > 1e-9
        distance = np.asarray(mesh._cellDistances)
        passed = 1.0 / (1.0 / COEFFICIENT + distance / np.asarray(k.arithmeticFaceValue))
        surface = fipy.FaceVariable(mesh=mesh, rank=1, value=np.asarray(mesh.faceNormals))
        surface *= outer * passed
        inner = fipy.FaceVariable(mesh=mesh, value=np.asarray(k.harmonicFaceValue) * ~np.asarray(
            mesh.exteriorFaces.value))  # fmt: skip
        equation = fipy.TransientTerm(coeff=heat) == (
            fipy.DiffusionTerm(coeff=inner)
            + (surface * AIR).divergence
            - fipy.ImplicitSourceTerm(coeff=surface.divergence)
        )
        places, found = self.axis * 60, [START]
        for minute in np.diff(SECONDS):
            for _ in range(STEPS):
                cells.updateOld()
                equation.solve(var=cells, dt=float(minute) / STEPS)
            found.append(float(cells.value[places].max()))
        return np.array(found)


def uniform() -> object:
    """Return course and times of uniform food, with a coefficient of its own at each face."""
    food = uniform_cylinder(
        0.035, 0.09, conductivity=0.55, diffusivity=1.4e-7, side=10.0, top=6.0, bottom=20.0
    )
    core = (0.0, 0.05)
    course = food.temperature(SECONDS, start=START, surroundings=AIR, point=core)
    levels = [60.0, 40.0, 21.0, 10.0, 5.0]
    return course, food.time_to(levels, start=START, surroundings=AIR, point=core)


def taken(work: Callable[[], object]) -> float:
    """Return the seconds that one call takes."""
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def scipy_rows(jar: Jar, exact: np.ndarray) -> list[Row]:
    """Return the comparison with the integrator at equal error."""
    for tolerance in 1e-2 * 0.7 ** np.arange(20):
        apart = float(np.abs(jar.integrated(tolerance) - exact).max())
        if apart <= SAME:
            break
    ours, theirs = by_turns([jar.ours, lambda: jar.integrated(tolerance)], rounds=7)
    own = float(np.abs(jar.ours() - exact).max())
    return [
        ("jar with wall, 60 by 60 cells, 6 h", f"{1000 * ours:.1f} ms", own <= SAME),
        ("  off from the limit of its vectors", f"{own:.4f} K", own <= SAME),
        ("  against SciPy BDF at 0.01 K", f"{theirs / ours:.0f} x", theirs >= LEAST_RATIO * ours),
        ("  which is off by", f"{apart:.4f} K", apart <= SAME),
    ]


def fipy_rows(jar: Jar, exact: np.ndarray) -> list[Row]:
    """Return the comparison with FiPy, or why there is none."""
    os.environ.setdefault("FIPY_SOLVERS", "scipy")
    try:
        # Loading the package is not its work.
        import fipy  # noqa: F401, PLC0415 - not on every machine
    except ImportError as error:
        return [("  against FiPy", f"not measured: {error}", True)]
    begin = time.perf_counter()
    found = jar.fipy()
    theirs = time.perf_counter() - begin
    ours = statistics.median(taken(jar.ours) for _ in range(9))
    apart = float(np.abs(found - exact).max())
    return [
        ("  against FiPy, whose error is larger", f"{theirs / ours:.0f} x",
         theirs >= LEAST_RATIO_FIPY * ours),
        ("  which takes three steps a minute, off by", f"{apart:.4f} K", apart <= SAME_FIPY),
    ]  # fmt: skip


def heat_rows() -> list[Row]:
    """Return name, figure and whether the goal is met for each measurement."""
    jar = Jar()
    [quick] = by_turns([uniform], rounds=200)
    exact = jar.ours(tolerance=1e-6)
    return [
        ("uniform food, 361 points and 5 times", f"{1000 * quick:.2f} ms", 1000 * quick < MOST_MS),
        *scipy_rows(jar, exact),
        *fipy_rows(jar, exact),
        sweep_row(),
    ]


def sweep_row() -> Row:
    """Return the time of ten points around the height of a tray, with all it is computed from."""
    bench = bench_build(
        formula_make(title="Slab", ingredients="900 g whole milk\n4 g agar", steps="Boil\nChill")
    )
    tray = MoldForm(
        shape=MoldShape.TRAY, length_mm=200, width_mm=110, height_mm=45, wall=WallMaterial.STEEL
    )
    [ten] = by_turns([lambda: sweep(bench, CoolPlan(mold=tray), Swept.HEIGHT)], rounds=20)
    return "ten points of a cooling", f"{1000 * ten:.0f} ms", 1000 * ten < SWEEP_MOST_MS


if __name__ == "__main__":
    import sys

    for name, figure, is_met in heat_rows():
        sys.stdout.write(f"{'ok  ' if is_met else 'SLOW'} {name:<45} {figure}\n")
