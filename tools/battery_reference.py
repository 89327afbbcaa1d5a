"""Tables of cell voltage from a large battery library, against which the tests hold ours.

    python -m venv somewhere && somewhere/bin/pip install pybamm
    somewhere/bin/python tools/battery_reference.py tests/oracle/data

The library takes hundreds of megabytes, so the suite does not install it: it reads what this script wrote. Each table
says with which version it was made. One cell, isothermal, discharged from full at a steady current; `share` is the
charge drawn over the nominal capacity of the set.
"""

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

os.environ["PYBAMM_DISABLE_TELEMETRY"] = "true"

import numpy as np
import pybamm

SETS = {
    "lfp": ("Prada2013", "Doyle-Fuller-Newman", (0.05, 0.2, 0.5, 1.0), (0.0, 25.0, 45.0)),
    "lead": ("Sulzer2019", "full porous-electrode model of lead-acid", (0.05, 0.1, 0.2, 0.5), (0.0, 25.0, 40.0)),
}
SHARES = np.round(np.arange(0.0, 1.2001, 0.05), 2)
N_TIME = 2000


def model_of(name: str) -> Any:
    """The most detailed isothermal model of a chemistry."""
    return pybamm.lithium_ion.DFN() if name == "lfp" else pybamm.lead_acid.Full()


def discharge(name: str, rate: float, temperature_c: float) -> tuple[np.ndarray, np.ndarray]:
    """Share drawn and voltage of one cell, until the set's own cut-off."""
    parameters = pybamm.ParameterValues(SETS[name][0])
    kelvin = 273.15 + temperature_c
    parameters.update({"Ambient temperature [K]": kelvin, "Initial temperature [K]": kelvin})
    parameters["Current function [A]"] = rate * float(parameters["Nominal cell capacity [A.h]"])
    times = np.linspace(0.0, 1.3 * 3600.0 / rate, N_TIME)
    solver = pybamm.IDAKLUSolver(atol=1e-8, rtol=1e-8)
    found = pybamm.Simulation(model_of(name), parameter_values=parameters, solver=solver).solve(times)
    drawn = found["Time [h]"].entries * rate
    volts = found["Voltage [V]"].entries
    return drawn, volts


def rows(name: str) -> Iterator[str]:
    """One row for each rate, temperature and share reached."""
    for temperature_c in SETS[name][3]:
        for rate in SETS[name][2]:
            drawn, volts = discharge(name, rate, temperature_c)
            for share in (share for share in SHARES if share <= drawn[-1]):
                yield f"{rate:g},{temperature_c:g},{share:g},{np.interp(share, drawn, volts):.4f}"
            yield f"{rate:g},{temperature_c:g},{drawn[-1]:.4f},{volts[-1]:.4f}"


def main(folder: str) -> None:
    """Write both tables."""
    for name, (set_name, model, _, _) in SETS.items():
        nominal = float(pybamm.ParameterValues(set_name)["Nominal cell capacity [A.h]"])
        made = f"PyBaMM {pybamm.__version__}, parameter set {set_name}, {model}, isothermal; one cell of {nominal:g} Ah"
        told = "written by tools/battery_reference.py; the last row of each discharge is its end at the set's cut-off"
        head = f"# {made}\n# {told}\nrate_per_h,temperature_c,share,voltage_v\n"
        text = head + "\n".join(rows(name)) + "\n"
        (Path(folder) / f"cell_{name}.csv").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
