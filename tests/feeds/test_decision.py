"""The table of losses: the package's own, and what a grower's may not say."""

import pytest

from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds import decision

TABLE = """
[ripeness]
fit_from = 0.75
full_from = 0.90
full_to = 1.03
[stook]
rain_loss_mm = [1.0, 5.0]
rain_loss_share = [0.02, 0.04]
free_days = 10
late_loss_share = 0.01
floor = 0.20
never_carted = 0.25
never_cut = 0.20
[drying]
at_cutting = 0.31
equilibrium = 0.14
rate_per_dry_day = 0.27
wet_day_gain_dry_basis = 0.01
fit_to_carry = 0.17
"""


@pytest.fixture
def told(tmp_path):
    """What is said of a table in which one text is put for another."""

    def told(old, new):
        path = tmp_path / "losses.toml"
        path.write_text(TABLE.replace(old, new), encoding="utf-8")
        with pytest.raises(SheafwrightError) as refused:
            decision.losses(path)
        return str(refused.value)

    return told


def test_bare_values_are_a_table_of_losses(tmp_path):
    path = tmp_path / "losses.toml"
    path.write_text(TABLE, encoding="utf-8")
    table = decision.losses(path)
    assert table.stook.rain_loss_share == (0.02, 0.04)
    assert table.ripeness.cutting_rain == decision.losses().ripeness.cutting_rain


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("full_from = 0.90", "full_from = 0.5", "should rise from above 0"),
        ("[0.02, 0.04]", "[0.02, 1.4]", "should be from 0 to 1"),
        ("[0.02, 0.04]", "[0.02]", "a rain_loss_share for each"),
        ("[1.0, 5.0]", "[5.0, 1.0]", "rain_loss_mm should rise"),
        ("equilibrium = 0.14", "equilibrium = 0.19", "rise between 0 and 1"),
        ("rate_per_dry_day = 0.27", "rate_per_dry_day = 0", "above 0"),
        ("floor = 0.20", "floor = 'a fifth'", "floor is 'a fifth'; it should be a"),
        ("floor = 0.20", "floor = nan", "it should be a number"),
        ("[1.0, 5.0]", "1.0", "it should be a list of numbers"),
        ("floor = 0.20", "", "lacks floor"),
        ("floor = 0.20", "floor = 0.2\nroof = 1", "has roof, which nothing reads"),
        ("[ripeness]", "fit = 1\n[ripeness]", "stands above the first section"),
        ("[ripeness]", "[ripeness", "is not a TOML file"),
    ],
)
def test_an_impossible_table_is_refused_in_a_sentence(old, new, says, told):
    assert says in told(old, new)


def test_the_package_and_its_settings_can_be_read():
    assert decision.losses().stook.longest_days == 45
    assert len(decision.forecast_skill()) == 10
    assert decision.settings().stopping.knots[0] == 0.75
    assert decision.fit_week().longest_days == 10
    assert decision.rule_settings().fixed_date[0] == 201
