"""What is believed of a field against its station before any reading of its own."""

import dataclasses


@dataclasses.dataclass(frozen=True)
class PlacePrior:
    """Spread of the differences between places, and of one day's about them.

    The prior means are no difference: a ratio of 1 and an offset of 0 °C.
    """

    rain_log_ratio_sd: float
    """Of the logarithm of field over station, over years. [1]"""
    rain_wet_day_sd: float
    """Of that logarithm for a single wet day: of n of them, less by √n. [1]"""
    wet_from_mm: float
    """A day counts as wet where the station has at least this. [mm]"""
    tmin_offset_sd_c: float
    """Of field less station in the day's lowest temperature, over years. [°C]"""
    tmin_day_sd_c: float
    """Of that difference on a single day: of n of them, less by √n. [°C]"""
    tmax_offset_sd_c: float
    """Of field less station in the day's highest temperature, over years. [°C]"""
    tmax_day_sd_c: float
    """Of that difference on a single day: of n of them, less by √n. [°C]"""
