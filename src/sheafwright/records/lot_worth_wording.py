"""Every sentence that a lot's page says of what it brought and cost."""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.core.money.pence import pounds_of
from sheafwright.records.money import said
from sheafwright.records.money_wording import line_name
from sheafwright.records.selectors.posted import POUNDS
from sheafwright.records.wording import listed


def heading():
    return _("What it brought, and what it cost")


def in_short(worth):
    """What it brought, what of its costs is written, and what is left."""
    if worth.went_on and not (worth.brought or worth.cost):
        return _went_on(worth)
    parts = [_brought(worth)]
    cost = said(worth.cost, POUNDS)
    if worth.left is not None:
        words = (
            _("Costs of %(cost)s are written down, and %(left)s is left of it.")
            if worth.left >= 0
            else _("Costs of %(cost)s are written down, so it lacks %(left)s.")
        )
        left = said(abs(worth.left), POUNDS)
        parts.append(words % {"cost": cost, "left": left})
    else:
        parts.append(_("Costs of %(cost)s are written down.") % {"cost": cost})
    parts += [_went_on(worth)] if worth.went_on else []
    parts += [_unpaid(worth.unpaid)] if worth.unpaid else []
    if worth.missing:
        parts.append(_missing(worth))
    return " ".join(parts)


def _brought(worth):
    if not worth.brought:
        return _("It has brought nothing yet.")
    sums = [said(amount, currency) for currency, amount in worth.brought.items()]
    return _("It has brought %(money)s so far.") % {"money": listed(sums)}


def _went_on(worth):
    lots = [
        _("%(share)s to %(lot)s") % {"share": _share(share), "lot": lot}
        for lot, share in sorted(worth.went_on.items())
    ]
    return _("Its costs went on with what was made of it, by weight: %(lots)s.") % {
        "lots": listed(lots)
    }


def _unpaid(invoices):
    owed = [
        _("%(money)s of %(paper)s")
        % {
            "money": said(now.owed, now.paper.currency),
            "paper": now.paper.code,
        }
        for now in invoices
    ]
    return _("Not paid yet, with VAT: %(owed)s.") % {"owed": listed(owed)}


def _missing(worth):
    n = len(worth.missing)
    return ngettext(
        "Of %(n)d kind of cost nothing is written down, so the truth is less.",
        "Of %(n)d kinds of cost nothing is written down, so the truth is less.",
        n,
    ) % {"n": n}


def whence_brought(worth, weight):
    """By which papers, and for what weight."""
    parts = []
    if worth.papers:
        parts.append(
            _("%(papers)s, for %(weight)s")
            % {
                "papers": ", ".join(paper.code for paper in worth.papers),
                "weight": weight(float(worth.invoiced_kg)),
            }
        )
    if worth.sales:
        parts.append(
            ngettext(
                "%(n)d sale without an invoice",
                "%(n)d sales without an invoice",
                worth.sales,
            )
            % {"n": worth.sales}
        )
    return "; ".join(parts)


def cost_of(line):
    """As a cost, or that nobody wrote it."""
    if line.pence is None:
        return _("not written down")
    return said(-pounds_of(line.pence), POUNDS)


def whence(line):
    """Where a cost comes from."""
    parts = [str(WAYS[way]()) for way in WAYS if way in line.ways]
    if line.unpriced:
        parts.append(
            ngettext(
                "%(n)s hour of the harvest's has no rate",
                "%(n)s hours of the harvest's have no rate",
                round(line.unpriced),
            )
            % {"n": f"{line.unpriced:,.0f}"}
        )
    return "; ".join(parts)


WAYS = {
    "own": lambda: _("entries of its own"),
    "before": lambda: _("entries of the lot that it was made of, by weight"),
    "day": lambda: _("its part of the day at the drum, by weight"),
    "sheaves": lambda: _("its part of the sheaves"),
}


def how_shared(worth):
    """How costs of fields come to the lot."""
    told = [
        _("%(share)s of %(field)s") % {"share": _share(share), "field": field}
        for field, share in sorted(worth.fields.items())
    ]
    if told:
        yield _("Its part of the sheaves, by weight: %(fields)s.") % {
            "fields": listed(told)
        }
    if worth.came_of:
        yield _(
            "It was made of %(lots)s and bears its part of what that cost, by weight; "
            "what was lost in drying, dressing and milling bears nothing."
        ) % {"lots": listed(list(worth.came_of))}
    yield _(
        "A field's costs go with its sheaves; those that stand yet bear theirs. What "
        "the drum gave bears its sheaves' costs by weight, straw and grain alike; "
        "cavings bear none. What names no field is shared by the area sown, and other "
        "crops bear none of it."
    )


def _share(share):
    return f"{share:.0%}" if share >= 0.005 else _("less than 1%")


def name_of(line):
    return line_name(line.line)
