"""Every sentence that the pages say of orders and papers."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.records.money import said


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
            "by": _(", by %(day)s") % {"day": day(order.wanted_by)}
            if order.wanted_by
            else "",
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
    return " ".join(parts)


def enquiry(each, weight):
    about = _("%(customer)s asks for %(weight)s of %(kind)s.") % {
        "customer": each.customer,
        "weight": weight(each.weight_kg),
        "kind": each.get_kind_display(),
    }
    if each.squares:
        roof = _("For %(squares)g squares: %(coat)s.") % {
            "squares": each.squares,
            "coat": each.get_coat_display(),
        }
        return f"{about} {roof}"
    return about


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
        if each.first_refusal:
            parts.append(_("first refusal"))
    return ", ".join(str(part) for part in parts)


def visit(each):
    handful = _("handful: %(where)s") % {"where": each.handful} if each.handful else ""
    parts = [day(each.date), each.looked_at, each.said, handful]
    return ", ".join(part for part in parts if part)


def who_looked():
    return _("Who looked at it, and how it lasted")


def visit_of(each):
    return _("%(customer)s, %(what)s.") % {
        "customer": each.customer,
        "what": visit(each),
    }


def lasted(each):
    """How it is on a roof, and after how many years."""
    return _(
        "%(roof)s, laid in %(laid)d: %(state)s when seen on %(day)s, says %(customer)s."
    ) % {
        "roof": each.roof,
        "laid": each.laid,
        "state": each.get_state_display(),
        "day": day(each.date),
        "customer": each.customer,
    }


def day(date):
    return date_format(date, "j F Y")
