"""Freezing points of ethylene glycol in water, from CoolProp's incompressible solutions.

Prints a tab-separated table: AEG (ASHRAE, glycol by volume) and MEG (Melinder, glycol by mass), every 1 % from
10 to 60 %, the range both are valid in. Needs the package CoolProp from PyPI and nothing else.

    python3 reference-checks/coolant.py > reference-checks/data/coolant_coolprop.tsv
"""

import CoolProp
from CoolProp.CoolProp import PropsSI

KELVIN = 273.15
# Freezing does not depend on these two; the library wants a state all the same.
ANY_TEMPERATURE_K = 300.0
ANY_PRESSURE_PA = 101325.0
SOLUTIONS = (
    ("volume", "AEG", "CoolProp INCOMP::AEG (ASHRAE, volume fraction)"),
    ("mass", "MEG", "CoolProp INCOMP::MEG (Melinder, mass fraction)"),
)


def freezing_point_c(fluid: str, pct: int) -> float:
    state = ("T", ANY_TEMPERATURE_K, "P", ANY_PRESSURE_PA)
    return PropsSI("T_FREEZE", *state, f"INCOMP::{fluid}[{pct / 100}]") - KELVIN


def main() -> None:
    print(f"# CoolProp {CoolProp.__version__}")
    print("# made by: python3 reference-checks/coolant.py > reference-checks/data/coolant_coolprop.tsv")
    print("basis\tethylene_glycol_pct\tfreeze_c\tstatus\tsource")
    for basis, fluid, source in SOLUTIONS:
        for pct in range(10, 61):
            print(f"{basis}\t{pct}\t{freezing_point_c(fluid, pct):.3f}\tcomputed\t{source}")


if __name__ == "__main__":
    main()
