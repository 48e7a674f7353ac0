"""Every sentence that the pages say of orders and papers."""

from django.utils.dates import MONTHS
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.records.money import said, said_exactly
from sheafwright.records.wording import listed


def no_orders():
    return _("No order is open, and nobody asks.")


def only_enquiries(count):
    return ngettext(
        "No order is open; %(count)d buyer asks.",
        "No order is open; %(count)d buyers ask.",
        count,
    ) % {"count": count}


def left_out(count):
    return ngettext(
        "%(count)d more, wanted later, is not weighed against these yet.",
        "%(count)d more, wanted later, are not weighed against these yet.",
        count,
    ) % {"count": count}


def to_invoice(now):
    return _("Invoice %(customer)s for what was delivered.") % {
        "customer": now.order.customer
    }


def owed_by(now):
    return _("%(customer)s owes %(money)s.") % {
        "customer": now.order.customer,
        "money": said(now.owed, now.order.currency),
    }


def state(now, weight):
    """What was ordered, what of it went, what is to come in money."""
    order = now.order
    parts = [
        _("%(weight)s of %(kind)s at %(price)s a tonne%(by)s.")
        % {
            "weight": weight(order.weight_kg),
            "kind": order.get_kind_display(),
            "price": said(order.price_per_t, order.currency),
            "by": window(order),
        }
    ]
    if now.delivered_kg:
        parts.append(
            _("%(weight)s is delivered.") % {"weight": weight(now.delivered_kg)}
        )
    if now.owed > 0:
        parts.append(
            _("%(money)s is owed.") % {"money": said(now.owed, order.currency)}
        )
    if now.owed < 0:
        parts.append(
            _("%(money)s too much was paid.")
            % {"money": said(-now.owed, order.currency)}
        )
    if now.ended and not now.is_done:
        parts.append(_("It was closed: %(why)s.") % {"why": now.ended.why})
    return " ".join(parts)


def window(asked):
    """When it is wanted, as the end of a sentence; '' for whenever."""
    begins, ends = asked.wanted_from, asked.wanted_by
    if begins and ends:
        return _(", from %(begins)s to %(ends)s") % {
            "begins": day(begins),
            "ends": day(ends),
        }
    if begins:
        return _(", from %(day)s on") % {"day": day(begins)}
    return _(", by %(day)s") % {"day": day(ends)} if ends else ""


def enquiry(each, weight):
    about = _("%(customer)s asks for %(weight)s of %(kind)s.") % {
        "customer": each.customer,
        "weight": weight(each.weight_kg),
        "kind": each.get_kind_display(),
    }
    parts = (about, squares_of(each), when_wanted(each))
    return " ".join(part for part in parts if part)


def when_wanted(asked):
    """From which day on it is wanted, and by which."""
    begins, ends = asked.wanted_from, asked.wanted_by
    if begins and ends:
        return _("Wanted from %(begins)s to %(ends)s.") % {
            "begins": day(begins),
            "ends": day(ends),
        }
    if begins:
        return _("Wanted from %(day)s on.") % {"day": day(begins)}
    return _("Wanted by %(day)s.") % {"day": day(ends)} if ends else ""


def squares_of(enquiry):
    """For how much of a roof, where its squares are known."""
    if not enquiry.squares:
        return ""
    return _("For %(squares)g squares: %(coat)s.") % {
        "squares": enquiry.squares,
        "coat": enquiry.get_coat_display(),
    }


def no_plan():
    return _("Nobody described this roof.")


def roof_drawn():
    return _("The roof, drawn")


def roofs_it_went_to():
    return _("Roofs it went to")


def quoted(quotation, weight):
    return _("Quoted %(weight)s at %(price)s a tonne, open until %(day)s.") % {
        "weight": weight(quotation.weight_kg),
        "price": said(quotation.price_per_t, quotation.currency),
        "day": day(quotation.open_until),
    }


def loads_of():
    return _("How it goes on the road")


def likes(wants, length):
    """What a buyer likes, in a few words."""
    parts = []
    for each in wants:
        parts.append(each.get_kind_display())
        if each.least_length_cm:
            parts.append(
                _("from %(length)s") % {"length": length(each.least_length_cm)}
            )
        parts += [each.grades] if each.grades else []
        parts += [each.varieties] if each.varieties else []
        parts += [_("organic")] if each.organic else []
        if each.most_lots:
            parts.append(lots_at_most(each.most_lots))
        parts += months(each)
        if each.first_refusal:
            parts.append(_("first refusal"))
    return ", ".join(str(part) for part in parts)


def lots_at_most(count):
    return ngettext("a single lot", "%(count)d lots at most", count) % {"count": count}


def months(each):
    """When in the year somebody likes straw delivered."""
    begins, ends = (MONTHS.get(month) for month in (each.from_month, each.to_month))
    if begins and ends:
        return [_("%(begins)s to %(ends)s") % {"begins": begins, "ends": ends}]
    if begins:
        return [_("from %(month)s on") % {"month": begins}]
    return [_("by %(month)s") % {"month": ends}] if ends else []


def looked(each):
    """When somebody looked, at what, and what they said."""
    parts = [day(each.date), each.looked_at, each.said, kept_at(each)]
    return ", ".join(part for part in parts if part)


def kept_at(each):
    return _("handful: %(where)s") % {"where": each.handful} if each.handful else ""


def lasted(each):
    """How it is on a roof, and after how many years."""
    return f"{each.get_state_display()}, {after_years(each)}"


def after_years(each):
    years = each.date.year - each.laid
    if not years:
        return _("in its first year")
    return ngettext("after %(count)d year", "after %(count)d years", years) % {
        "count": years
    }


def kept_for(order, weight):
    """What of a lot is kept for an order."""
    return _("%(weight)s is kept for %(order)s.") % {
        "weight": weight,
        "order": order,
    }


def by_own_rule(buyer, headline):
    """A lot's grade as one buyer's own rule has it."""
    return _("By the own rule of %(buyer)s: %(grade)s") % {
        "buyer": buyer,
        "grade": headline,
    }


def asked(each, length):
    """What is asked for, in sentences; nothing for what nobody said."""
    if each.least_length_cm:
        yield _("Stems from %(length)s on.") % {"length": length(each.least_length_cm)}
    if each.grades:
        yield _("Of grade %(grades)s.") % {"grades": each.grades}
    if each.varieties:
        yield _("Of %(varieties)s.") % {"varieties": each.varieties}
    if each.organic:
        yield _("Organic alone.")
    if each.most_lots:
        yield _("Of %(lots)s.") % {"lots": lots_at_most(each.most_lots)}
    if getattr(each, "whole", False):
        yield _("All of it or none.")
    if each.roof:
        yield _("For %(roof)s.") % {"roof": each.roof}


def own_rule(use):
    return _("Their own rule for %(use)s") % {"use": use}


def not_yet_looked():
    return _("They have looked at nothing yet.")


def buys(customer, open_orders):
    """Who it is, and how many orders are open."""
    if not open_orders:
        return _("%(customer)s, %(trade)s: no order is open.") % {
            "customer": customer,
            "trade": customer.get_trade_display(),
        }
    return ngettext(
        "%(customer)s, %(trade)s: %(count)d order is open.",
        "%(customer)s, %(trade)s: %(count)d orders are open.",
        open_orders,
    ) % {
        "customer": customer,
        "trade": customer.get_trade_display(),
        "count": open_orders,
    }


def at_rate(rate):
    """At what other money is weighed: as somebody said, and no more than that."""
    return _(
        "From %(day)s on, 1 %(currency)s is taken to be worth %(pounds)s: that is "
        "assumed, and what it fetches may differ."
    ) % {
        "currency": rate.currency,
        "pounds": said_exactly(rate.pounds, "GBP"),
        "day": day(rate.since),
    }


def no_rate(names, currency):
    """Where an order's price can't be held against those in pounds."""
    return ngettext(
        "%(orders)s is priced in %(currency)s, and nobody said what that is worth in "
        "£: it is weighed by its kilograms and its promise, at the middle price of the "
        "others.",
        "%(orders)s are priced in %(currency)s, and nobody said what that is worth in "
        "£: they are weighed by their kilograms and promises, at the middle price of "
        "the others.",
        len(names),
    ) % {"orders": listed(names), "currency": currency}


def worth_of(currency):
    return _("Say what 1 %(currency)s is worth") % {"currency": currency}


def day(date):
    return date_format(date, "j F Y")
