"""Many fields and one binder: against a plain loop, by hand, and roll-outs' promise."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from sheafwright.core.decide.gang_day import (
    UNWANTED,
    Ahead,
    Fields,
    Gang,
    Wish,
    a_day,
    ahead,
    brought,
    fit_hours,
    unbegun,
)
from sheafwright.core.decide.many import Rule, best_choice, choices, follow
from sheafwright.core.drying.stook import drying_rate, stooks
from sheafwright.core.moisture.basis import dry_basis
from sheafwright.feeds.decision import losses

LOSSES = losses()
GANG = Gang(
    binder=1.0, move=1.0, fit_hours=6.0, fit_hours_after_rain=4.0, wet_from=2.0,
    hands=40.0, cutting=5.0, carting=10.0,
)  # fmt: skip
FIELDS = Fields(np.array([4.0, 2.0, 3.0, 1.0]), np.array([0, 0, 1, 2]))
N_DRAWS, N_DAYS = 3, 25
SEEDS = range(12)


def weather(seed):
    """Broken weather: paths, rain and drying rate."""
    rng = np.random.default_rng(seed)
    longer = N_DAYS + LOSSES.stook.longest_days + 1
    wet = rng.random((N_DRAWS, longer)) < 0.4
    rain = np.where(wet, rng.gamma(0.8, 5.0, wet.shape), 0.0).ravel()
    rate = drying_rate(rng.uniform(1, 4, rain.size), LOSSES.drying)
    return np.arange(rain.size).reshape(N_DRAWS, longer), rain, rate


def summers(seed):
    """Crops a few days apart in broken weather."""
    paths, rain, rate = weather(seed)
    start = np.random.default_rng([seed, 2]).uniform(0.75, 0.95, (1, 4, 1))
    ripeness = np.broadcast_to(start + 0.02 * np.arange(N_DAYS), (N_DRAWS, 4, N_DAYS))
    return ahead(paths, ripeness, np.full((1, 4), -1), rain, rate, LOSSES, GANG)


def a_rule(made, seed):
    """A rule of no sense, that hurries and likes to stay."""
    rng = np.random.default_rng([seed, 1])
    shape = made.ripeness.shape
    return Rule(rng.uniform(-0.2, 0.1, shape), rng.random(shape), 0.1, 0.3)


class Plainly:
    """One summer of a harvest, a day and a field at a time."""

    def __init__(self, made, draw, rule):
        self.made, self.draw, self.rule = made, draw, rule
        self.left, self.at, self.home, self.out = list(FIELDS.area), 0, 0.0, []

    def worth(self):
        for day in range(self.made.keeps.shape[1]):
            for lot in self.out:
                self.dry(lot, day)
            hands = self.cart(day)
            if day < N_DAYS:
                self.cut(day, hands)
        for lot in self.out:
            self.give_up(lot)
        return (self.home + 0.2 * sum(self.left)) / sum(FIELDS.area)

    def dry(self, lot, day):
        made, draw = self.made, self.draw
        lot["moist"] = lot["moist"] * made.keeps[draw, day] + made.gains[draw, day]
        lot["days"] += 1
        late = 0.01 if lot["days"] > 10 else 0
        lot["lost"] += made.takes[draw, day] + late
        if lot["days"] > 45:
            self.give_up(lot)

    def give_up(self, lot):
        self.home += max(0.25 * lot["worth"], 0.2 * lot["ha"])
        lot["ha"] = lot["worth"] = 0.0

    def cart(self, day):
        hands, fit = GANG.hands, dry_basis(0.17) - dry_basis(0.14)
        for lot in self.out if self.made.carries[self.draw, day] else ():
            if lot["ha"] > 0 and lot["moist"] <= fit:
                taken = min(lot["ha"], hands / GANG.carting)
                worth = lot["worth"] * taken / lot["ha"]
                self.home += max(worth * max(1 - lot["lost"], 0.2), 0.2 * taken)
                hands -= taken * GANG.carting
                lot["ha"] -= taken
                lot["worth"] -= worth
        return hands

    def cut(self, day, hands):
        hours, ha, worth = self.made.hours[self.draw, day], 0.0, 0.0
        for field in self.fields_in_turn(day):
            hours -= GANG.move * (FIELDS.farm[field] != self.at)
            if hours <= 1e-9 or hands <= 1e-9:
                break
            self.at = FIELDS.farm[field]
            done = min(self.left[field], hours * GANG.binder, hands / GANG.cutting)
            self.left[field] -= done
            hours, hands = hours - done / GANG.binder, hands - done * GANG.cutting
            ha += done
            worth += done * self.made.worth[self.draw, field, day]
        moist = dry_basis(0.31) - dry_basis(0.14)
        self.out.append(
            {"ha": ha, "worth": worth, "moist": moist, "lost": 0, "days": 0}
        )

    def fields_in_turn(self, day):
        draw, rule = self.draw, self.rule
        ripe = self.made.ripeness[draw, :, day] >= 0.9
        hurry = rule.hurry * (np.array(self.left) @ ripe) / GANG.binder / GANG.fit_hours
        wanted = rule.advantage[draw, :, day] + hurry >= 0
        wanted &= self.made.can_cut[draw, :, day]
        for _ in range(5):
            may = [f for f in range(4) if wanted[f] and self.left[f] > 1e-9]
            if may:
                order = rule.order[draw, :, day] + rule.stay * (FIELDS.farm == self.at)
                yield max(may, key=order.__getitem__)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_harvest_is_that_of_a_plain_loop(seed):
    made = summers(seed)
    rule = a_rule(made, seed)
    worth = follow(unbegun(FIELDS, 0), made, rule, rule.on(0), FIELDS, GANG, LOSSES)
    expected = [Plainly(made, draw, rule).worth() for draw in range(N_DRAWS)]
    np.testing.assert_allclose(worth[0], expected, rtol=1e-12)


def test_one_field_in_one_day_is_worth_what_the_season_says_of_it():
    """The engine of many fields, asked of one, agrees with that of one."""
    one, made = Fields(np.array([3.0]), np.array([0])), summers(3)
    made = dataclasses.replace(
        made,
        **{k: getattr(made, k)[:, :1] for k in ("ripeness", "worth", "can_cut")},
    )
    paths, rain, rate = weather(3)
    share, _ = stooks(paths[:, 1:], rain, rate, N_DAYS, LOSSES)
    always = Rule(np.ones_like(made.ripeness), made.ripeness)
    plenty = dataclasses.replace(GANG, binder=10.0, hands=400.0)
    found = follow(unbegun(one, 0), made, always, always.on(0), one, plenty, LOSSES)
    for draw in range(N_DRAWS):
        day = made.can_cut[draw, 0].argmax()
        expected = max(made.worth[draw, 0, day] * share[draw, day], 0.2)
        assert found[0, draw] == pytest.approx(expected)


def fair(n_days):
    """Days without rain or loss, on which everything is ripe and nothing is fit."""
    ones = np.ones((1, 4, n_days))
    return Ahead(
        ripeness=ones, worth=ones, can_cut=ones > 0, hours=np.full((1, n_days), 6.0),
        keeps=np.ones((1, n_days)), gains=np.zeros((1, n_days)),
        takes=np.zeros((1, n_days)), carries=np.ones((1, n_days), dtype=bool),
    )  # fmt: skip


def test_a_day_ends_where_hours_do_and_moving_takes_some():
    made, wish = fair(1), Wish(0.0, np.array([4.0, 3.0, 2.0, 1.0]))
    plenty = dataclasses.replace(GANG, hands=1000.0)
    evening = a_day(unbegun(FIELDS, 0), 0, wish, made, FIELDS, plenty, LOSSES)
    assert evening.left[0, 0].tolist() == [0, 0, 3, 1]
    elsewhere = a_day(unbegun(FIELDS, 1), 0, wish, made, FIELDS, plenty, LOSSES)
    assert elsewhere.left[0, 0].tolist() == [0, 1, 3, 1]
    assert elsewhere.at[0, 0] == 0


def test_a_day_ends_where_hands_do_and_what_is_fit_goes_home_first():
    made, wish = fair(3), Wish(0.0, np.array([4.0, 3.0, 2.0, 1.0]))
    few = dataclasses.replace(GANG, hands=15.0)
    monday = a_day(unbegun(FIELDS, 0), 0, wish, made, FIELDS, few, LOSSES)
    assert monday.left[0, 0].tolist() == [1, 2, 3, 1]
    dry = monday._replace(excess=monday.excess * 0)
    tuesday = a_day(dry, 1, wish, made, FIELDS, few, LOSSES)
    assert tuesday.home[0, 0] == pytest.approx(1.5)
    assert tuesday.left[0, 0].tolist() == [1, 2, 3, 1]


def test_what_is_not_wished_for_is_left():
    made = fair(1)
    wish = Wish(0.0, np.array([UNWANTED, 1.0, UNWANTED, UNWANTED]))
    evening = a_day(unbegun(FIELDS, 0), 0, wish, made, FIELDS, GANG, LOSSES)
    assert evening.left[0, 0].tolist() == [4, 0, 3, 1]


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_is_lost_from_sight(seed):
    """What is cut, carted and left is always the whole area, by worth of 1."""
    made = summers(seed)
    made = dataclasses.replace(
        made, worth=np.ones_like(made.worth), takes=np.zeros_like(made.takes)
    )
    kept = dataclasses.replace(
        LOSSES.stook, late_loss_share=0.0, never_carted=1.0, never_cut=1.0
    )
    sound, rule = dataclasses.replace(LOSSES, stook=kept), a_rule(made, seed)
    worth = follow(unbegun(FIELDS, 0), made, rule, rule.on(0), FIELDS, GANG, sound)
    np.testing.assert_allclose(worth, 1.0)


def test_fit_hours_are_fewer_after_rain():
    assert fit_hours([0.0, 1.9, 2.0, 0.0], GANG).tolist() == [6, 6, 4]


def test_choices_begin_with_none_and_put_each_farm_first_once():
    ripeness = np.array([0.91, 0.96, 0.97, 0.70])
    orders = choices(ripeness, np.array([True, True, True, False]), FIELDS)
    said = [
        tuple(f for f in np.argsort(-order) if order[f] > UNWANTED) for order in orders
    ]
    assert said[0] == ()
    assert sorted(said[1:]) == [(1, 0, 2), (1, 2), (2, 1), (2, 1, 0)]


@given(arrays(float, (4, 7), elements=st.floats(0, 1)), st.floats(0, 4))
def test_roll_outs_are_never_worse_than_their_rule_in_the_same_summers(worth, surer):
    chosen = worth[best_choice(worth, surer)]
    assert chosen.mean() >= worth[-1].mean() - 1e-12


def test_a_choice_must_be_surely_better():
    rule, unsure, sure = np.array([[0.5] * 4, [0.9, 0.2, 0.9, 0.2], [0.6, 0.61] * 2])
    assert best_choice(np.stack([unsure, rule]), 0.0) == 0
    assert best_choice(np.stack([unsure, rule]), 2.0) == 1
    assert best_choice(np.stack([sure, rule]), 2.0) == 0


def test_choices_are_followed_through_the_same_summers():
    """A choice brings, beside others, what it brings alone."""
    made, rule = summers(1), a_rule(summers(1), 1)
    orders = choices(made.ripeness[0, :, 0], np.full(4, True), FIELDS)
    start = unbegun(FIELDS, 0)
    first = Wish(0.0, orders[:, np.newaxis])
    together = follow(start, made, rule, first, FIELDS, GANG, LOSSES)
    assert together.shape == (len(orders), N_DRAWS)
    for each, order in zip(together, orders, strict=True):
        alone = follow(start, made, rule, Wish(0.0, order), FIELDS, GANG, LOSSES)
        np.testing.assert_allclose(alone[0], each)


def test_what_is_out_at_the_end_is_given_up():
    made = fair(1)
    wish = Wish(0.0, np.array([4.0, 3.0, 2.0, 1.0]))
    evening = a_day(unbegun(FIELDS, 0), 0, wish, made, FIELDS, GANG, LOSSES)
    assert brought(evening, LOSSES)[0, 0] == pytest.approx(6 * 0.25 + 4 * 0.2)
