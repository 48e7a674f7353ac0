"""Whatever a grower's notebook holds, it is read or refused in one clear sentence."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.readings import own_readings, past_seasons

READINGS = b"date,rain_mm,tmin_c,tmax_c\n2026-06-01,2.5,8.0,17.5\n2026-06-03,0,,19\n"
SEASONS = b"sown,flowered,cut\n2023-10-12,2024-06-20,2024-08-05\n2025-02-26,,\n"


@pytest.fixture(scope="module")
def notebook(tmp_path_factory):
    return tmp_path_factory.mktemp("fuzz") / "own.csv"


@given(
    base=st.sampled_from([READINGS, SEASONS]),
    at=st.integers(0, 80),
    removed=st.integers(0, 20),
    put=st.binary(max_size=6) | st.sampled_from([b"1e999", b"-1", b"9999-12-31", b'"']),
)
def test_bytes_replaced_anywhere(notebook, base, at, removed, put):
    notebook.write_bytes(base[:at] + put + base[at + removed :])
    read = own_readings if base is READINGS else past_seasons
    try:
        found = read(notebook)
    except SheafwrightError as refused:
        said = str(refused)
        assert said.startswith(str(notebook))
        assert said.endswith(".")
        assert "\n" not in said
    else:
        assert is_possible(found)


def is_possible(found):
    if isinstance(found, list):
        return all(season.sown < (season.cut or season.sown.max) for season in found)
    rain, tmin, tmax = found.days
    return not (np.any(rain < 0) or np.any(tmin > tmax))
