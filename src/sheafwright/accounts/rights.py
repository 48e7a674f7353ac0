"""What each role may do in a holding: the one table that every door asks."""

import enum

from django.db import models
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    OWNER = "owner", _("owner")
    HAND = "hand", _("hand")
    ADVISER = "adviser", _("adviser")
    INSPECTOR = "inspector", _("inspector")
    BUYER = "buyer", _("buyer")


class Right(enum.Enum):
    SEE_WORK = "see the fields, the crop and the advice"
    SEE_BOOK = "see the record book"
    SEE_TRADE = "see who asks for what, and at which price"
    SEE_OWN = "see what was sold to oneself"
    SEE_LOT = "walk a lot back, one's own if one is a buyer"
    DO_WORK = "write down the day's work"
    RUN = "change the holding, its people and its stock"


RIGHTS = {
    Role.OWNER: frozenset(
        {
            *(Right.SEE_WORK, Right.SEE_BOOK, Right.SEE_TRADE, Right.SEE_LOT),
            *(Right.DO_WORK, Right.RUN),
        }
    ),
    Role.HAND: frozenset({Right.SEE_WORK, Right.SEE_LOT, Right.DO_WORK}),
    Role.ADVISER: frozenset(
        {Right.SEE_WORK, Right.SEE_BOOK, Right.SEE_TRADE, Right.SEE_LOT}
    ),
    Role.INSPECTOR: frozenset({Right.SEE_BOOK, Right.SEE_LOT}),
    Role.BUYER: frozenset({Right.SEE_OWN, Right.SEE_LOT}),
}
