"""Money spent: written down once, and struck out where it was written wrong."""

from django.utils.translation import gettext as _

from sheafwright.records.models import Purchase, PurchaseStruck
from sheafwright.records.models.money import NOTHING
from sheafwright.records.photos import photo_kept
from sheafwright.records.services.checks import happened, not_ahead, refuse
from sheafwright.records.services.entry import entry_write, writing
from sheafwright.records.services.weights import ours


def purchase_record(
    *, id, holding, made_by, date, vat=None, sowing=None, lot=None, photo=None, **said
):
    """Write down what was bought or paid for.

    Parameters
    ----------
    photo : file, optional
        Of the bill, as it was sent; it is kept only if it is a photograph.
    """
    not_ahead(holding, date)
    if sowing and lot:
        refuse("lot", _("It is for a field or for a lot; say only one of them."))
    with photo_kept(id, photo) as name, writing(holding):
        purchase, _new = entry_write(
            Purchase,
            id=id,
            holding=holding,
            made_by=made_by,
            date=date,
            vat=NOTHING if vat is None else vat,
            sowing=sowing,
            lot=lot,
            photo=name,
            **said,
        )
    return purchase


def purchase_strike(*, id, holding, made_by, purchase, date, **said):
    """Strike out what was written wrong; what is right is written anew."""
    ours(holding, purchase)
    happened(holding, date, purchase.date, _("it was paid for"))
    with writing(holding):
        if PurchaseStruck.objects.filter(purchase=purchase).exclude(pk=id).exists():
            refuse("purchase", _("This was struck out already."))
        struck, _new = entry_write(
            PurchaseStruck,
            id=id,
            holding=holding,
            made_by=made_by,
            purchase=purchase,
            date=date,
            **said,
        )
    return struck
