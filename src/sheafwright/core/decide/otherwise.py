"""The same past under other losses: would the advice have been another?"""

import dataclasses

from sheafwright.core.decide.learn import brought_home, dry_day_sums


def losses_times(losses, factor):
    """`Losses` in which everything lost is so many times as much.

    Parameters
    ----------
    losses : Losses
    factor : float
        [1]
    """
    ripeness, stook = losses.ripeness, losses.stook
    return dataclasses.replace(
        losses,
        ripeness=dataclasses.replace(
            ripeness,
            under_ripe_loss=ripeness.under_ripe_loss * factor,
            over_ripe_loss=ripeness.over_ripe_loss * factor,
            over_ripe_loss_squared=ripeness.over_ripe_loss_squared * factor,
        ),
        stook=dataclasses.replace(
            stook,
            rain_loss_share=tuple(factor * loss for loss in stook.rain_loss_share),
            late_loss_share=stook.late_loss_share * factor,
        ),
    )


def drying_times(losses, factor):
    """`Losses` with stooks that dry so many times as fast.

    Parameters
    ----------
    losses : Losses
    factor : float
        [1]
    """
    rate = losses.drying.rate_per_dry_day * factor
    drying = dataclasses.replace(losses.drying, rate_per_dry_day=rate)
    return dataclasses.replace(losses, drying=drying)


def revalued(past, losses, counted):
    """`Past` of the same record under other losses.

    Parameters
    ----------
    past : Past
    losses : Losses
    counted : array_like of bool, shape (day,)
        As in `prepare`.
    """
    rate, share, days_out = brought_home(past.weather, losses)
    return dataclasses.replace(
        past,
        losses=losses,
        rate=rate,
        stook_share=share,
        days_out=days_out,
        sums=dry_day_sums(past.weather, losses, past.known, share, counted),
    )
