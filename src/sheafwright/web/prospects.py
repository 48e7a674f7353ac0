"""What may be told of a standing crop, as parts of a page."""

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.answers.lodging_working import change_named
from sheafwright.records import crop_wording as wording
from sheafwright.records.selectors.ground_before import Lacks
from sheafwright.records.wording import being_worked_out, first_sentence
from sheafwright.web.sheets import Action, Fold, Section, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import (
    area,
    kg,
    money,
    odds,
    yield_per_area,
)

KG_PER_T = 1000
BAND = ("p10", "p50", "p90")
MOST_MEASURED = 0.5
"""Where fewer gusts were, the odds rest on those that were made."""
NOTHING_MORE = {"more": (), "table": None, "working": (), "made_at": None}


def prospect_sentences(request, prospect):
    """A sentence each, for a page of many crops."""
    parts = _stand(prospect), _yields(request, prospect)
    count, clean = prospect.counted, prospect.clean.sentence
    return (
        *([count.sentence] if prospect.is_count_fresh else []),
        *(part["sentence"] for part in parts),
        *([clean] if clean else []),
    )


def prospect_fold(request, prospect):
    """The rest of it, behind a summary; the whole stands on the field's page."""
    parts = _stand(prospect), _yields(request, prospect)
    holding, field = request.membership.holding, prospect.sowing.field
    return Fold(
        _("How sure that is, and against what"),
        sentences=tuple(" ".join(part["more"]) for part in parts if part["more"]),
        tables=tuple(part["table"] for part in parts if part["table"]),
        action=Action(
            wording.all_of(field), reverse("web:field", args=[holding.slug, field.pk])
        ),
    )


def prospect_sections(request, prospect):
    """A part each, for the page of its field."""
    sowing = prospect.sowing
    yield supply_section(
        request,
        sowing.field,
        sowing.harvest_year,
        prospect.grown.supplied,
        wording.ground_gives(sowing.harvest_year),
    )
    yield _plants(request, prospect)
    yield Section(
        heading=_("Will it stand?"),
        drawing=prospect.standing.chart if prospect.standing else "",
        **_stand(prospect),
    )
    yield Section(heading=_("What will it yield?"), **_yields(request, prospect))
    if prospect.clean.sentence:
        yield Section(
            heading=_("Weeds and clover"),
            sentence=prospect.clean.sentence,
            actions=write_action(request, "weed-walk", sowing=sowing.pk),
            working=prospect.clean.working,
        )


def supply_section(request, field, harvest_year, supplied, heading):
    """What nitrogen the ground gives, or what must be said before it can be told."""
    answer = supplied.answer
    if answer is None:
        return Section(
            heading=heading,
            sentence=_untold(supplied, harvest_year),
            actions=_to_say(request, field, harvest_year, supplied.lacks),
        )
    return Section(
        heading=heading,
        sentence=answer.sentence,
        is_danger=answer.beside_sound == "rich",
        working=answer.working,
    )


def _untold(supplied, harvest_year):
    """Why the ground can't be told of yet."""
    if supplied.lacks:
        lacks = {each.value for each in supplied.lacks}
        return wording.to_say_of_the_ground(lacks, harvest_year)
    return supplied.refused or being_worked_out()


def _to_say(request, field, harvest_year, lacks):
    """Buttons to what is lacking."""
    of_it = {"field": field.pk}
    forms = (
        (Lacks.SOIL, "field-correction", _("Say what kind of soil it is"), of_it),
        (
            Lacks.LAST_CROP,
            "past-crop",
            _("Say what it bore"),
            of_it | {"harvest_year": harvest_year - 1},
        ),
        (Lacks.LEY, "ley", _("Say of its ley"), of_it),
        (Lacks.RAIN, "weather", _("Give the weather record"), {}),
    )
    return tuple(
        action
        for lack, kind, says, given in forms
        if lack in lacks
        for action in write_action(request, kind, says, **given)
    )


def _plants(request, prospect):
    count, sowing = prospect.counted, prospect.sowing
    return Section(
        heading=_("Plants"),
        sentence=wording.counted_on(count) if count else wording.nothing_counted(),
        actions=write_action(request, "plant-count", sowing=sowing.pk),
        working=count.answer.working if count and count.answer else (),
    )


def _stand(prospect):
    """Whether it will stand: sentence, more of them, table, working and its time."""
    kept = prospect.standing
    told = kept is not None and "refused" not in kept.said
    more = [wording.known_by(prospect.grown)]
    if told:
        more.insert(0, first_sentence(kept.said["sentence"])[1])
    if told and kept.said["gusts_measured_share"] < MOST_MEASURED:
        more.append(wording.gusts_are_made())
    return {
        "sentence": wording.will_stand(prospect),
        "more": tuple(more),
        "table": _changes(kept.said) if told else None,
        "working": tuple(kept.said["working"]) if told else (),
        "made_at": kept and kept.made_at,
    }


def _changes(said):
    """Chances of this crop, of a usual field, and of what might be grown instead."""
    columns = (Column(_("Grown")), Column(_("That over a tenth goes down"), True))
    others = [(change_named(each), each) for each in said["changes"] if each["settled"]]
    rows = [
        (_("as it is"), said),
        (_("as on a usual field"), said["against_reference"]),
        *others,
    ]
    return Table(
        columns, tuple((name, odds(each["chance_over_tenth"])) for name, each in rows)
    )


def _yields(request, prospect):
    """What it will yield, in the same parts."""
    kept, sowing = prospect.yields, prospect.sowing
    supplied = prospect.grown.supplied
    if supplied.answer is None:
        return {"sentence": _untold(supplied, sowing.harvest_year)} | NOTHING_MORE
    if kept is None or "refused" in kept.said:
        says = kept.said["refused"] if kept else being_worked_out()
        return {"sentence": says} | NOTHING_MORE
    said, units = kept.said, request.user.units
    made, grain = (said[f"{n}_t_per_ha"] for n in ("product", "grain"))
    kilograms = [sowing.area_ha * KG_PER_T * band["p50"] for band in (made, grain)]
    return {
        "sentence": wording.will_yield(
            said, _by_area(made, units), _by_area(grain, units)
        ),
        "more": (
            wording.of_the_crop(
                said,
                area(sowing.area_ha, units),
                [kg(each, units) for each in kilograms],
                prospect.likely_gbp and money(prospect.likely_gbp),
            ),
            wording.yield_known_by(said),
        ),
        "table": _bands(said, units),
        "working": tuple(said["working"]),
        "made_at": kept.made_at,
    }


def _bands(said, units):
    columns = (
        Column(_("Gives")),
        Column(_("Likely"), True),
        Column(_("8 chances in 10"), True),
    )
    named = (
        (_("straw"), said["straw_t_per_ha"]),
        (wording.product(said), said["product_t_per_ha"]),
        (_("grain"), said["grain_t_per_ha"]),
    )
    each = [(name, _by_area(band, units)) for name, band in named]
    rows = tuple((n, band[1], wording.from_to(band[0], band[2])) for n, band in each)
    return Table(columns, rows)


def _by_area(band, units):
    return tuple(yield_per_area(KG_PER_T * band[p], units) for p in BAND)
