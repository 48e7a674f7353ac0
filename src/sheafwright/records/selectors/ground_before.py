"""What a field bore and was given before a crop, as far as it tells of nitrogen."""

import dataclasses
import datetime
import enum

from sheafwright.answers.soil_supply import Ley
from sheafwright.records.models import PastCrop

CEREALS = "cereals"
AFTER = {
    PastCrop.Crop.WHEAT: CEREALS,
    PastCrop.Crop.OATS: CEREALS,
    PastCrop.Crop.BEANS: "beans",
    PastCrop.Crop.PEAS: "peas",
    PastCrop.Crop.ROOTS: "sugar_beet",
    PastCrop.Crop.POTATOES: "potatoes",
    PastCrop.Crop.FORAGE: "forage_cut",
    PastCrop.Crop.RAPE: "oilseed_rape",
    PastCrop.Crop.FALLOW: "uncropped",
}
"""A crop to what the tables of nitrogen call it."""
HARVEST = (8, 15)
"""Month and day by which a year's crop is taken to be off."""
MANURES, OTHERS = ("manure", "muck", "dung"), ("green", "hen", "poultry", "pig", "slur")
"""Words that say farmyard manure, and that say it is another."""


class Lacks(enum.Enum):
    """What must be said before it can be told."""

    SOIL = "soil"
    RAIN = "rain"
    LAST_CROP = "last_crop"
    LEY = "ley"


@dataclasses.dataclass(frozen=True)
class Before:
    """What stood before a crop."""

    last_crop: str | None
    """As the tables call it; None after a ley."""
    ley: Ley | None
    manure_t_per_ha: float
    lacks: frozenset[Lacks]


def before(field, harvest_year, day, is_sown=True):
    """`Before` a crop that was sown on a day, or that may yet be sown after it.

    Parameters
    ----------
    field : Field
        With ``sowings``, ``leys``, ``past_crops`` and ``inputs``.
    harvest_year : int
    day : datetime.date
    is_sown : bool, optional
    """
    crops, ley = _crops(field, harvest_year), _last_ley(field, day, is_sown)
    ended = ley and (ley.ploughed or day)
    since = [year for year in crops if ended and datetime.date(year, *HARVEST) > ended]
    last = max(crops, default=None)
    follows_ley = bool(ley and not since)
    known = ended.year if follows_ley else last
    lacks = set()
    if known is None or known < harvest_year - 1:
        lacks.add(Lacks.LAST_CROP)
    if ley and not _is_told(ley):
        lacks.add(Lacks.LEY)
    return Before(
        last_crop=None if follows_ley or last is None else crops[last],
        ley=_ley(ley, ended, len(since) + 1) if ley and _is_told(ley) else None,
        manure_t_per_ha=_manure(field, harvest_year, day),
        lacks=frozenset(lacks),
    )


def _crops(field, harvest_year):
    """Harvest to the crop, of those before one."""
    past = {each.harvest_year: AFTER[each.crop] for each in field.past_crops.all()}
    past |= {sowing.harvest_year: CEREALS for sowing in field.sowings.all()}
    return {year: crop for year, crop in past.items() if year < harvest_year}


def _last_ley(field, day, is_sown):
    """The last that was ploughed for it; one that lies still, for what may be sown."""
    leys = field.leys.all()
    ploughed = [ley for ley in leys if ley.ploughed and ley.ploughed <= day]
    last = max(ploughed, key=lambda ley: (ley.ploughed, ley.made_at), default=None)
    if is_sown:
        return last
    lies = [ley for ley in leys if not (ley.ploughed or _was_ploughed(ley, ploughed))]
    return max(lies, key=lambda ley: ley.made_at, default=last)


def _was_ploughed(ley, ploughed):
    """It was written down again when it was ploughed."""
    if ley.sown is None:
        return any(each.made_at > ley.made_at for each in ploughed)
    return any(each.ploughed >= ley.sown for each in ploughed)


def _is_told(ley):
    return bool(ley.sown and ley.sward and ley.use)


def _ley(ley, ended, crops_since):
    lay = max(1, round((ended - ley.sown).days / 365.25))
    return Ley(lay, ley.sward, ley.use, crops_since)


def _manure(field, harvest_year, until):
    since = datetime.date(harvest_year - 1, *HARVEST)
    spread = [
        i for i in field.inputs.all() if since < i.date <= until and _is_manure(i)
    ]
    return sum(each.quantity_kg for each in spread) / 1000 / field.area_ha


def _is_manure(applied):
    said = applied.product.lower()
    return any(w in said for w in MANURES) and not any(w in said for w in OTHERS)
