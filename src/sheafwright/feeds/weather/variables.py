"""What a daily record may hold: our names, and the units each can be read in."""

import dataclasses
from collections.abc import Mapping

from sheafwright.core.errors import UnreadableInput

# Unit as a file declares it: ours = factor * theirs + offset.
TEMPERATURE = {
    "degC": (1.0, 0.0),
    "0.1 degC": (0.1, 0.0),
    "degF": (5 / 9, -160 / 9),
    "K": (1.0, -273.15),
}
DEPTH = {"mm": (1.0, 0.0), "0.1 mm": (0.1, 0.0), "inch": (25.4, 0.0)}
SPEED = {
    "m/s": (1.0, 0.0),
    "0.1 m/s": (0.1, 0.0),
    "km/h": (1 / 3.6, 0.0),
    "mph": (1609.344 / 3600, 0.0),
    "knots": (1852 / 3600, 0.0),
}
DURATION = {"h": (1.0, 0.0), "0.1 h": (0.1, 0.0), "min": (1 / 60, 0.0)}
RADIATION = {
    "MJ/m2": (1.0, 0.0),
    "J/cm2": (0.01, 0.0),
    "Wh/m2": (0.0036, 0.0),
    "W/m2": (0.0864, 0.0),
}
HUMIDITY = {"share": (1.0, 0.0), "%": (0.01, 0.0)}
PRESSURE = {
    "hPa": (1.0, 0.0),
    "0.1 hPa": (0.1, 0.0),
    "kPa": (10.0, 0.0),
    "inHg": (33.86389, 0.0),
}


@dataclasses.dataclass(frozen=True)
class Variable:
    """One quantity of a day."""

    outside: str
    """Its name where it leaves Python, with its unit."""
    units: Mapping[str, tuple[float, float]]


VARIABLES = {
    "tmin": Variable("tmin_c", TEMPERATURE),
    "tmax": Variable("tmax_c", TEMPERATURE),
    "tmean": Variable("tmean_c", TEMPERATURE),
    "rain": Variable("rain_mm", DEPTH),
    "wind": Variable("wind_m_s", SPEED),
    "gust": Variable("gust_m_s", SPEED),
    "sunshine": Variable("sunshine_h", DURATION),
    "radiation": Variable("radiation_mj_m2", RADIATION),
    "humidity": Variable("humidity_share", HUMIDITY),
    "humidity_min": Variable("humidity_min_share", HUMIDITY),
    "humidity_max": Variable("humidity_max_share", HUMIDITY),
    "pressure": Variable("pressure_hpa", PRESSURE),
    "dewpoint": Variable("dewpoint_c", TEMPERATURE),
    "soil_temperature": Variable("soil_temperature_c", TEMPERATURE),
    "pe": Variable("pe_mm", DEPTH),
}
# The first of a pair is never above the second.
ORDERED = (("tmin", "tmax"), ("humidity_min", "humidity_max"), ("wind", "gust"))


def outside(name):
    """Our name as it leaves Python: ``rain_mm`` for ``rain``."""
    return VARIABLES[name].outside


def inside(name, unit, numbers, where):
    """Numbers of a declared unit in ours."""
    units = VARIABLES[name].units
    if unit not in units:
        raise UnreadableInput(
            "{where}: {name} can't be in {unit}; it should be one of {units}.",
            where=where,
            name=name,
            unit=repr(str(unit)[:20]),
            units=", ".join(units),
        )
    factor, offset = units[unit]
    return factor * numbers + offset
