"""What a hectare brings in each kind of season."""

from sheafwright.planning.cropping.rotation import WHEAT


def straw_t(growing, problem):
    """Thatching straw by kind of season. [t ha⁻¹]"""
    share = _share_of_perfect(growing, problem)
    return tuple(
        share * problem.straw.reed_t_per_ha * s for s in _yields(growing, problem)
    )


def money(growing, problem):
    """All but thatching straw, less costs and hours, by kind of season. [GBP ha⁻¹]"""
    crop = problem.crops[growing.crop]
    grain_t = crop.grain_t_per_ha
    if crop.kind == WHEAT:
        grain_t = _share_of_perfect(growing, problem) * problem.straw.grain_t_per_ha
    usual = grain_t * crop.grain_gbp_per_t[growing.status] + crop.keep_gbp_per_ha
    cost = crop.cost_gbp_per_ha + sum(crop.work_h_per_ha) * problem.hands.gbp_per_h
    if growing.new:
        cost += problem.ground.sow_ley_gbp_per_ha
    return tuple(usual * share - cost for share in _yields(growing, problem))


def left(growing, problem):
    """Worth of the ley that stands when the plan ends. [GBP ha⁻¹]"""
    years = min(growing.left, problem.rotation.least_ley)
    return years * problem.ground.ley_left_gbp_per_ha


def season_worths(grown, plot_ha, problem):
    """Worth of one year by kind of season, straw going to the best payer first. [GBP]

    Parameters
    ----------
    grown : iterable of (Growing, float)
        With its area. [ha]
    plot_ha : float
        Of scarce seed. [ha]
    problem : Problem
    """
    grown, worths = tuple(grown), []
    for season in range(len(problem.seasons.chance)):
        straw = sum(ha * straw_t(each, problem)[season] for each, ha in grown)
        brought = sum(ha * money(each, problem)[season] for each, ha in grown)
        cost = plot_ha * problem.seed_plot.cost_gbp_per_ha
        worths.append(brought + sales(straw, problem) - cost)
    return tuple(worths)


def sales(straw, problem):
    """What so much straw brings. [GBP]"""
    brought = 0.0
    for most, price in problem.buyers:
        sold = min(straw, most)
        brought, straw = brought + sold * price, straw - sold
    return brought + straw * problem.straw.surplus_gbp_per_t


def mean(worths, seasons):
    """Over all kinds of season. [GBP]"""
    return sum(w * c for w, c in zip(worths, seasons.chance, strict=True))


def worst_mean(worths, seasons):
    """Over the worst share of seasons alone. [GBP]

    References
    ----------
    .. [1] R. T. Rockafellar and S. Uryasev, Optimization of conditional
       value-at-risk, Journal of Risk 2, 2000.
    """
    left, total = seasons.worst_share, 0.0
    for worth, chance in sorted(zip(worths, seasons.chance, strict=True)):
        share = min(chance, left)
        total, left = total + share * worth, left - share
    return total / seasons.worst_share


def _yields(growing, problem):
    return problem.crops[growing.crop].yield_by_season


def _share_of_perfect(growing, problem):
    """Before the season has its say; 0 where it is no wheat."""
    crop, ground = problem.crops[growing.crop], problem.ground
    if crop.kind != WHEAT:
        return 0.0
    fed = _at(ground.yield_by_harvest, growing.harvest)
    stands = 1 - _at(ground.lodged_by_harvest, growing.harvest)
    after_wheat = ground.second_wheat if growing.second else 1.0
    return crop.share_of_perfect * fed * stands * after_wheat


def _at(by_harvest, harvest):
    return by_harvest[min(harvest, len(by_harvest)) - 1]
