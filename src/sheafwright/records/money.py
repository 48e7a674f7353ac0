"""Money to the smallest coin, in any currency: decimals alone, never floats."""

import decimal
from decimal import Decimal

COINS = {"JPY": 0, "KRW": 0, "ISK": 0, "CLP": 0, "BHD": 3, "KWD": 3, "TND": 3}
"""Decimals of a currency's smallest coin, where they aren't two."""
SIGNS = {"GBP": "£", "EUR": "€", "USD": "$"}
KG_PER_T = Decimal(1000)


def coin(currency):
    """The smallest coin, such as 0.01."""
    return Decimal(1).scaleb(-COINS.get(currency, 2))


def rounded(amount, currency):
    """To the nearest coin; half a coin up, away from nothing."""
    return Decimal(amount).quantize(coin(currency), decimal.ROUND_HALF_UP)


def price_of(kg, per_t, currency):
    """What so many kilograms cost at so much a tonne."""
    return rounded(exact(kg) * exact(per_t) / KG_PER_T, currency)


def exact(number):
    """A number as it is written, and not as a float holds it."""
    return number if isinstance(number, Decimal) else Decimal(str(number))


def vat_by_rate(lines, currency):
    """Net and VAT of each rate: the VAT of all its lines together, rounded once.

    Parameters
    ----------
    lines : iterable of (Decimal, Decimal)
        Net, and VAT rate. [%]

    Returns
    -------
    list of (Decimal, Decimal, Decimal)
        Rate, net and VAT, by rate.
    """
    nets = {}
    for net, rate in lines:
        # By its value: 20 and 20.00 are one rate.
        nets[rate.normalize()] = nets.get(rate.normalize(), Decimal(0)) + net
    return [
        (rate, net, rounded(net * rate / 100, currency))
        for rate, net in sorted(nets.items())
    ]


def shared(amount, weights, currency):
    """An amount in parts that add up to it exactly, as near to the weights as coins.

    What is over goes, a coin each, to the parts that rounding took most from.
    """
    total, small = sum(weights), coin(currency)
    if total == 0:
        raise ZeroDivisionError("Nothing weighs anything.")
    raw = [Decimal(amount) * weight / total for weight in weights]
    parts = [each.quantize(small, decimal.ROUND_FLOOR) for each in raw]
    over = int((Decimal(amount) - sum(parts)) / small)
    by_loss = sorted(range(len(raw)), key=lambda n: (parts[n] - raw[n], n))
    for n in by_loss[:over]:
        parts[n] += small
    return parts


def said(amount, currency):
    """As it is printed: £1,234.50, or SEK 1,234.50."""
    return said_exactly(rounded(amount, currency), currency)


def said_exactly(amount, currency):
    """A price to whatever part of a coin it was named in: £1,400.005."""
    shortest = amount.normalize()
    amount = max(rounded(amount, currency), shortest, key=_places)
    sign = SIGNS.get(currency, f"{currency}\u00a0")
    minus = "−" if amount < 0 else ""
    return f"{minus}{sign}{abs(amount):,f}"


def _places(amount):
    """Decimals that a number is written with."""
    return -amount.as_tuple().exponent
