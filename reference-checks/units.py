"""Units in SI by scipy.constants, an independent table of factors.

Writes data/units_scipy.tsv beside this script, and prints the same. scipy takes a millimetre of mercury as 1/760 of
an atmosphere, which is a seventh of a millionth below the conventional one of 13 595.1 kg/m3 and standard gravity.
"""

import pathlib

import scipy
from scipy import constants as c

OUT = pathlib.Path(__file__).parent / "data" / "units_scipy.tsv"

# What is typed, the kind of quantity, and its SI value.
UNITS = [
    ("1 mm", "length", c.milli),
    ("1 cm", "length", c.centi),
    ("1 km", "length", c.kilo),
    ("1 um", "length", c.micron),
    ("1 in", "length", c.inch),
    ("1 thou", "length", c.mil),
    ("1 ft", "length", c.foot),
    ("1 mi", "length", c.mile),
    ("5/16 in", "length", 5 * c.inch / 16),
    ("1-3/8 in", "length", 11 * c.inch / 8),
    ("1 mm2", "area", c.milli**2),
    ("1 cm2", "area", c.centi**2),
    ("1 in²", "area", c.inch**2),
    ("1 kN", "force", c.kilo),
    ("1 kgf", "force", c.kgf),
    ("1 lbf", "force", c.lbf),
    ("1 N·cm", "torque", c.centi),
    ("1 kgf·m", "torque", c.kgf),
    ("1 kgf·cm", "torque", c.kgf * c.centi),
    ("1 lbf·ft", "torque", c.lbf * c.foot),
    ("1 lbf·in", "torque", c.lbf * c.inch),
    ("1 kPa", "pressure", c.kilo),
    ("1 MPa", "pressure", c.mega),
    ("1 N/mm2", "pressure", 1 / c.milli**2),
    ("1 bar", "pressure", c.bar),
    ("1 psi", "pressure", c.psi),
    ("1 mmHg", "vacuum", c.mmHg),
    ("1 cmHg", "vacuum", 10 * c.mmHg),
    ("1 inHg", "vacuum", c.inch / c.milli * c.mmHg),
    ("1 L", "volume", c.liter),
    ("1 mL", "volume", c.milli * c.liter),
    ("1 cc", "volume", c.centi**3),
    ("1 qt", "volume", c.gallon_US / 4),
    ("1 fl oz", "volume", c.fluid_ounce_US),
    ("1 g", "mass", c.gram),
    ("1 lb", "mass", c.pound),
    ("1 oz", "mass", c.oz),
    ("1 km/h", "speed", c.kmh),
    ("1 mph", "speed", c.mph),
    ("1 mV", "voltage", c.milli),
    ("1 deg", "angle", c.degree),
    ("0 °C", "temperature", c.convert_temperature(0, "C", "K")),
    ("-37.1 C", "temperature", c.convert_temperature(-37.1, "C", "K")),
    ("80 °F", "temperature", c.convert_temperature(80, "F", "K")),
    ("-40 F", "temperature", c.convert_temperature(-40, "F", "K")),
    ("50 %", "share", 50 * c.centi),
]


def lines():
    yield f"# scipy.constants of scipy {scipy.__version__}; made by: python3 reference-checks/units.py"
    yield "typed\tkind\tsi"
    for typed, kind, si in UNITS:
        yield f"{typed}\t{kind}\t{si:.12g}"


if __name__ == "__main__":
    text = "\n".join(lines()) + "\n"
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(text, encoding="utf-8")
    print(text, end="")
