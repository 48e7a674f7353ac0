"""Every kind of entry that a page takes: its words, its fields, its service."""

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.models import Person
from sheafwright.accounts.rights import Right, Role
from sheafwright.answers.question import STAGES
from sheafwright.answers.wording import STAGE_NAMES
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.crop import sign_ladders, variety_classes
from sheafwright.feeds.telling import refusal
from sheafwright.records import models
from sheafwright.records.fill import fill_crew, fill_plan
from sheafwright.records.models import Lot
from sheafwright.records.models.plan import PlanCrop
from sheafwright.records.selectors.heat import ever_hot, hot_of
from sheafwright.records.selectors.runs import last_run_told
from sheafwright.records.selectors.seed import seed_cautions
from sheafwright.records.services.grading import stems_of_file
from sheafwright.records.services.stock import WAYS
from sheafwright.records.services.threshing import Outturn
from sheafwright.web.forms.fields import (
    BytesField,
    CountsField,
    QuantitiesField,
    QuantityField,
    StockField,
)
from sheafwright.web.forms.grain_kinds import GRAIN_KINDS, by_its_lot, of_the_flour
from sheafwright.web.forms.kind import Kind
from sheafwright.web.forms.kind import choice as _choice
from sheafwright.web.forms.kind import date as _date
from sheafwright.web.forms.kind import mass as _mass
from sheafwright.web.forms.kind import member as _member
from sheafwright.web.forms.kind import model_of as _model
from sheafwright.web.forms.kind import why as _why
from sheafwright.web.forms.money_kinds import MONEY_KINDS
from sheafwright.web.forms.trade_kinds import TRADE_KINDS, one_buyer


class Signs:
    """The signs of ripening, each a field, go to the service as one."""

    def said(self):
        said = super().said()
        chosen = {kind: said.pop(f"sign_{kind}") for kind in sign_ladders()}
        return said | {
            "signs": {kind: level for kind, level in chosen.items() if level}
        }


class Bulk:
    """What the drum gave, a row of fields a product, goes to the service as outturn."""

    def clean(self):
        """Of each product its weight and its lot: what has no weight would be waste."""
        said = super().clean()
        for kind in DRUM_LABELS:
            name, lot = f"{kind}_weight_kg", f"{kind}_lot"
            told_of = said.get(lot) or said.get(f"{kind}_moisture")
            if told_of and name in said and not said[name]:
                self.add_error(name, _("Say what it weighed, or nothing of it."))
            if said.get(name) and lot in said and not said[lot]:
                self.add_error(lot, _("Say which lot it is."))
        return said

    def said(self):
        said = super().said()
        came = []
        for kind in (*Lot.Kind.values, "waste"):
            kg, code = said.pop(f"{kind}_weight_kg", None), said.pop(f"{kind}_lot", "")
            moisture = said.pop(f"{kind}_moisture", None)
            if kg:
                came.append(Outturn(kind=kind, kg=kg, code=code, moisture_pct=moisture))
        return said | {"outturn": tuple(came)}


class OfAHotRick:
    """Asked only of a rick that was ever in danger: whether the fire service was."""

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        holding, rick = self.fields["rick"].holding, self["rick"].value()
        if not ever_hot(holding=holding, id=rick):
            del self.fields["fire_service"]


class Outlined:
    """A field's area is typed, or taken from its outline."""

    def clean(self):
        cleaned = super().clean()
        if not cleaned.get("area_ha") and not cleaned.get("outline_file"):
            self.add_error("area_ha", _("Type the area, or give the field's outline."))
        return cleaned


class MeasuredStems:
    """Stems of a file, or lengths that were typed, go to the service as rows."""

    def clean(self):
        cleaned = super().clean()
        file, lengths = cleaned.get("stems_file"), cleaned.get("lengths")
        if not self.errors and bool(file) == bool(lengths):
            self.add_error(
                "stems_file", _("Give the file of stems, or type their lengths.")
            )
        if file:
            try:
                cleaned["stems"] = stems_of_file(file)
            except SheafwrightError as error:
                self.add_error("stems_file", refusal(error))
        return cleaned

    def said(self):
        said = super().said()
        lengths = said.pop("lengths")
        del said["stems_file"]
        # Fields of a form are inside in cm, and stems in mm.
        return {"stems": [{"length_mm": round(10 * cm, 1)} for cm in lengths]} | said


class Correcting:
    """Of a thing's facts, only those that were changed in the form go on."""

    def said(self):
        said = super().said()
        facts = {name for name in said if self.fields[name].show_hidden_initial}
        return {n: said[n] for n in said if n in self.changed_data or n not in facts}


def _area(label, required=True):
    return lambda membership: QuantityField(
        quantity="area",
        family=membership.person.units,
        label=label,
        required=required,
    )


def _number(label, **limits):
    return lambda membership: forms.FloatField(label=label, required=False, **limits)


def _text(label):
    return lambda membership: forms.CharField(
        label=label, required=False, max_length=20
    )


def _whole(label):
    return lambda membership: forms.IntegerField(
        label=label, required=False, min_value=1, max_value=1_000_000
    )


def _crop_or_free(membership):
    choices = [("", _("none: it is free again")), *PlanCrop.choices]
    return forms.ChoiceField(label=_("crop"), choices=choices, required=False)


def _buyer(membership):
    """Who may sign in and see what they bought."""
    buyers = Person.objects.filter(
        memberships__holding=membership.holding, memberships__role=Role.BUYER
    )
    return forms.ModelChoiceField(
        buyers, label=_("if they sign in here, as whom"), required=False
    )


def _stock(label):
    return lambda membership: StockField(holding=membership.holding, label=label)


def _of_the_seed(holding, said):
    return seed_cautions(holding=holding, seed_lot=said.get("seed_lot"))


def _of_the_rick(holding, said):
    """A rick in danger is told of before anyone climbs or opens it."""
    hot = hot_of(holding=holding, id=said.get("rick"))
    return [hot.heat.sentence] if hot else []


SIGN_LABELS = {
    "grain": _("grain under the nail"),
    "below_ear": _("stem below the ear"),
    "nodes": _("nodes"),
}
SIGN_FIELDS = {
    f"sign_{kind}": _choice(
        SIGN_LABELS[kind], [(seen, _(seen)) for seen in ladder.levels]
    )
    for kind, ladder in sign_ladders().items()
}
DRUM_LABELS = {kind.value: kind.label for kind in list(Lot.Kind)[:4]}
"""Of grains and straws, those that come from the drum."""
DRUM_FIELDS = {
    name: make
    for kind, label in DRUM_LABELS.items()
    for name, make in (
        (f"{kind}_weight_kg", _mass(label, required=False)),
        (f"{kind}_lot", _text(format_lazy("{}: {}", label, _("its lot")))),
    )
}
DRUM_FIELDS |= {
    "grain_moisture": _number(_("moisture of the grain, %"), min_value=5, max_value=60),
    "waste_weight_kg": _mass(_("cavings and waste"), required=False),
}

RICK_FACTS = (
    "length_m", "width_m", "eaves_m", "top_m", "capacity_kg", "value",
    "to_buildings_m", "to_road_m", "to_rick_m", "insurers_conditions",
)  # fmt: skip
"""What is said of a rick besides its name and cover."""

CARE_BINDER = _(
    "Stop the binder and its engine before you clear it. Keep people out of the "
    "standing corn. Local codes and trained people first."
)
CARE_DRUM = _(
    "Guards on belts and drum, feed mouth fenced, nobody alone, masks against dust, "
    "trousers tied. Local codes and trained people first."
)
CARE_CHECK = _(
    "Stop the engine, take the drive off and wait until every part stands still before "
    "you reach in. Guards go back on first. Local codes and trained people first."
)
CARE_RICK = _(
    "Keep off a hot rick: the crust can give way. Ring the fire service before anyone "
    "opens it. Local codes and trained people first."
)

CARE_MUSTY = _(
    "Musty straw is dusty with mould that harms the lungs: wear a mask, and don't "
    "shake it out indoors. Trained people and local rules come first."
)
STEM_FIELDS = {
    "stems_file": lambda m: BytesField(
        label=_("the file of measured stems, JSON or CSV"), required=False
    ),
    "lengths": lambda m: QuantitiesField(
        quantity="height",
        family=m.person.units,
        label=_("or their lengths alone"),
        required=False,
    ),
}

MAY_DO = ("may_bind", "may_stook", "may_cart", "may_thresh")

KINDS = {
    "field": Kind(
        _("Add a field"), models.Field, "ground:field_create",
        (
            "name", "soil", "soil_kind", "aspect", "stays_grass", "to_rick_m", "note",
        ),
        "ground", Right.RUN,
        {
            "area_ha": _area(_("area"), required=False),
            "outline_file": lambda m: BytesField(
                label=_("or its outline, GeoJSON or KML"), required=False
            ),
        },
        (Outlined,),
    ),
    "field-correction": Kind(
        _("Put a field's facts right"), models.Field, "ground:field_correct",
        (
            "name", "soil", "soil_kind", "aspect", "stays_grass", "to_rick_m", "note",
        ),
        "ground", Right.RUN,
        {
            "field": _model(models.Field, _("field")),
            "area_ha": _area(_("area"), required=False),
            "outline_file": lambda m: BytesField(
                label=_("a new outline, GeoJSON or KML"), required=False
            ),
            "why": _why,
        },
        (Correcting,), corrects="field",
    ),
    "field-status": Kind(
        _("How a field is farmed"), models.FieldStatus, "ground:field_status_add",
        ("field", "way", "since", "note"), "ground", Right.RUN,
    ),
    "ley": Kind(
        _("A ley, and when it was ploughed"), models.Ley, "ground:ley_add",
        ("field", "what", "sward", "use", "sown", "ploughed", "note"), "ground",
        Right.RUN,
    ),
    "past-crop": Kind(
        _("What a field bore before"), models.PastCrop, "ground:past_crop_add",
        ("field", "harvest_year", "crop", "note"), "ground", Right.RUN,
    ),
    "plan-fixed": Kind(
        _("Pin what a field bears in a year"), models.PlanFixed, "plan:plan_fix",
        ("field", "harvest_year", "crop", "note"), "ground", Right.RUN,
        {"crop": _crop_or_free}, then=fill_plan,
    ),
    "area-wanted": Kind(
        _("How much of a crop you want in a year"), models.AreaWanted,
        "plan:area_want", ("harvest_year", "crop", "least_ha", "most_ha", "note"),
        "ground", Right.RUN, then=fill_plan,
    ),
    "input": Kind(
        _("Something put on a field"), models.InputApplied, "ground:input_apply",
        ("field", "date", "product", "quantity_kg", "supplier", "evidence", "note"),
        "ground", Right.RUN,
    ),
    "seed-lot": Kind(
        _("Add a seed lot"), models.SeedLot, "seed:seed_lot_add",
        (
            "name", "variety", "came", "supplier", "grown_as", "standing",
            "derogation", "thousand_grain_weight_g", "note",
        ),
        "seed", Right.RUN,
    ),
    "seed-lot-correction": Kind(
        _("Put a seed lot's facts right"), models.SeedLot, "seed:seed_lot_correct",
        (
            "name", "variety", "came", "supplier", "grown_as", "standing",
            "derogation", "thousand_grain_weight_g", "note",
        ),
        "seed", Right.RUN,
        {"seed_lot": _model(models.SeedLot, _("seed lot")), "why": _why},
        (Correcting,), corrects="seed_lot",
    ),
    "germination": Kind(
        _("A germination test"), models.GerminationTest, "seed:germination_test_add",
        ("seed_lot", "date", "seeds_each", "note"), "seed", Right.DO_WORK,
        {
            "came_up": lambda m: CountsField(
                label=_("came up, tray by tray"), help_text=_("As 84 79 88 81.")
            )
        },
    ),
    "seed-health": Kind(
        _("A test for bunt, smut or ergot"), models.SeedHealthTest,
        "seed:seed_health_test_add",
        ("seed_lot", "date", "sickness", "found", "share_pct", "laboratory", "note"),
        "seed", Right.RUN,
    ),
    "sowing": Kind(
        _("Record a sowing"), models.Sowing, "crop:sowing_record",
        (
            "field", "seed_lot", "date", "harvest_year", "area_ha", "rate_kg_per_ha",
            "row_spacing_mm", "note",
        ),
        "seed", Right.DO_WORK,
        {
            "variety_class": _choice(
                _("sown safely as late as"), [(c, _(c)) for c in variety_classes()]
            )
        },
        warns=_of_the_seed,
    ),
    "observation": Kind(
        _("Record what you saw"), models.Observation, "crop:observation_record",
        (
            "sowing", "date", "height_cm", "stems_per_m2", "lodged_pct", "photo",
            "note",
        ),
        "growing", Right.DO_WORK,
        {"stage": _choice(_("stage"), [(s, _(STAGE_NAMES[s])) for s in STAGES])}
        | SIGN_FIELDS,
        (Signs,),
    ),
    "plant-count": Kind(
        _("Count the plants"), models.PlantCount, "crop:plant_count_record",
        ("sowing", "date", "place_m2", "note"), "growing", Right.DO_WORK,
        {
            "counts": lambda m: CountsField(
                label=_("plants, place by place"), help_text=_("As 31 24 28 35 22.")
            )
        },
    ),
    "weed-walk": Kind(
        _("A walk for weeds"), models.WeedWalk, "crop:weed_walk_record",
        ("sowing", "date", "weeds", "clover_height_cm", "rogued", "note"), "growing",
    ),
    "expect": Kind(
        _("What the crop is expected to weigh"), models.Movement,
        "harvest:crop_expect", ("date", "note"), "growing", Right.RUN,
        {
            "sowing": _model(models.Sowing, _("field")),
            "kg": _mass(_("straw and ears together")),
        },
    ),
    "cut": Kind(
        _("Record what is cut"), models.Cut, "harvest:cut_record",
        ("sowing", "date", "area_ha", "sheaves", "contractor", "note"), "cutting",
        Right.DO_WORK,
        {
            "stooks": _whole(_("stooks")),
            "sheaves_each": _number(
                _("sheaves in a stook"), min_value=2, max_value=24
            ),
            "kg_per_sheaf": _mass(_("weight of a sheaf, if you weighed some"), False),
        },
        care=CARE_BINDER,
    ),
    "breakdown": Kind(
        _("A machine is broken, or mended"), models.Breakdown,
        "crew:breakdown_record", ("machine", "date", "half", "state", "note"),
        "cutting", care=CARE_BINDER, then=fill_crew,
    ),
    "shower": Kind(
        _("A shower came"), models.Shower, "crew:shower_record",
        ("date", "half", "note"), "cutting", then=fill_crew,
    ),
    "meter": Kind(
        _("A meter reading"), models.MeterReading, "crop:meter_reading_record",
        ("stook_set", "at", "grain_pct", "straw_pct", "note"), "stooks",
    ),
    "sheaf-count": Kind(
        _("Sheaves counted"), models.Movement, "sheaves:sheaves_count",
        ("date", "note"), "stooks", Right.DO_WORK,
        {
            "stook_set": _model(models.StookSet, _("in the stooks")),
            "sheaves": lambda membership: forms.IntegerField(
                label=_("sheaves"), min_value=1, max_value=1_000_000
            ),
            "kg_per_sheaf": _mass(_("weight of a sheaf, if you weighed some"), False),
        },
    ),
    "carting": Kind(
        _("Record what is carted"), models.Movement, "harvest:carting_record",
        ("date", "note"), "stooks", Right.DO_WORK,
        {
            "stook_set": _model(models.StookSet, _("from the stooks")),
            "rick": _model(models.Rick, _("to the rick")),
            "kg": _mass(_("how much; all of it if you don't say"), False),
        },
        warns=_of_the_rick,
    ),
    "rick": Kind(
        _("Build a rick"), models.Rick, "store:rick_build",
        (
            "name", "built", "cover", "fit_to_comb", "shape", *RICK_FACTS, "note",
        ),
        "ricks", folded=(*RICK_FACTS[4:], "note"),
    ),
    "rick-correction": Kind(
        _("Say more of a rick, or put it right"), models.Rick, "store:rick_correct",
        ("name", "cover", "fit_to_comb", "shape", *RICK_FACTS, "note"), "ricks",
        Right.DO_WORK,
        {"rick": _model(models.Rick, _("rick")), "why": _why},
        (Correcting,), corrects="rick",
    ),
    "call-list": Kind(
        _("Who is rung when a rick heats"), models.CallList, "store:call_list_write",
        ("rick", "note"), "ricks", Right.DO_WORK,
        {
            "who": lambda membership: forms.CharField(
                label=_("who is rung, in this order"),
                help_text=_(
                    "A name and a telephone number on each line, the fire service "
                    "first."
                ),
                max_length=500,
                widget=forms.Textarea(attrs={"rows": 5}),
            )
        },
    ),
    "rick-empty": Kind(
        _("A rick is empty"), models.Movement, "store:rick_empty", ("note",), "ricks",
        Right.DO_WORK,
        {"rick": _model(models.Rick, _("rick")), "emptied": _date(_("emptied on"))},
    ),
    "rick-reading": Kind(
        _("A rick's temperature"), models.RickReading, "store:rick_reading_record",
        ("rick", "temperature_c", "at", "depth_m", "note"), "ricks", care=CARE_RICK,
    ),
    "threshing": Kind(
        _("Record a threshing"), models.Threshing, "threshing:threshing_record",
        (
            "date", "rick", "fire_service", "stook_set", "combed", "smelt_of_fish",
            "note",
        ),
        "threshing", Right.DO_WORK,
        {"kg": _mass(_("sheaves threshed; all of it if you don't say"), False)}
        | DRUM_FIELDS,
        (OfAHotRick, Bulk), CARE_DRUM, warns=_of_the_rick, then=last_run_told,
    ),
    "lot-test": Kind(
        _("A test of a lot"), models.LotTest, "store:lot_test_record",
        (
            "lot", "date", "laboratory", "moisture_pct", "protein_pct", "hagberg_s",
            "specific_weight_kg_per_hl", "admixture_pct", "note",
        ),
        "grain", Right.RUN,
    ),
    "lot-apart": Kind(
        _("Set a lot apart"), models.LotStanding, "store:lot_set_apart",
        ("lot", "date", "why", "note"), "threshing",
    ),
    "lot-clear": Kind(
        _("Clear a lot that was set apart"), models.LotStanding, "store:lot_clear",
        ("lot", "date", "why", "note"), "threshing", Right.RUN,
    ),
    "hand-grade": Kind(
        _("Grade a handful"), models.HandGrade, "grading:hand_grade_record",
        (
            "lot", "date", "twist", "colour", "smell", "stems", "length_cm", "fit_for",
            "note",
        ),
        "straw", care=CARE_MUSTY,
    ),
    "stem-sample": Kind(
        _("Stems that were measured"), models.StemSample, "grading:stem_sample_record",
        ("lot", "date", "bundle", "note"), "straw", Right.DO_WORK,
        STEM_FIELDS, (MeasuredStems,),
    ),
    "bundles": Kind(
        _("Bundles tied"), models.Bundles, "grading:bundles_record",
        (
            "lot", "date", "count", "tied_as", "girth_cm", "bundle_kg", "moisture_pct",
            "note",
        ),
        "straw",
    ),
    "grade-rule": Kind(
        _("What a grade asks of its stems"), models.GradeRule,
        "grading:grade_rule_set",
        (
            "use", "buyer_name", "length_least_cm", "length_most_cm", "butt_least_mm",
            "butt_most_mm", "bends_most", "damage_most", "first_pct", "second_pct",
            "note",
        ),
        "straw", Right.RUN, {"buyer_name": one_buyer},
    ),
    "sale": Kind(
        _("Record a sale"), models.Sale, "stock:sale_record",
        ("lot", "date", "buyer_name", "bundles", "price", "note"), "straw", Right.RUN,
        {"kg": _mass(_("weight")), "buyer": _buyer}, warns=of_the_flour,
        goes=by_its_lot,
    ),
    "grain-move": Kind(
        _("Grain to the mill, for seed, to feed, or to the seed's owner"),
        models.Movement, "stock:grain_move", ("date", "note"), "grain", Right.RUN,
        {
            "lot": _model(Lot, _("lot")),
            "to": _choice(
                _("where to"),
                [(to, place.label) for to, (place, _kind) in WAYS.items()],
                required=True,
            ),
            "kg": _mass(_("how much")),
        },
    ),
    "loss": Kind(
        _("Record a loss"), models.Loss, "stock:loss_record",
        ("date", "by", "counted_as", "sowing", "note"), "book", Right.DO_WORK,
        {
            "place": _stock(_("lost from")),
            "kg": _mass(_("how much")),
        },
    ),
    "weight": Kind(
        _("Put a weighed figure for a guess"), models.Movement, "stock:weight_adjust",
        ("date", "note"), "book", Right.RUN,
        {
            "place": _stock(_("what was weighed")),
            "kg": _mass(_("what is really there")),
        },
    ),
    "gauge": Kind(
        _("Rain-gauge and thermometer"), models.GaugeReading,
        "work:gauge_reading_record",
        ("date", "rain_mm", "tmin_c", "tmax_c", "note"), "growing",
    ),
    "labour": Kind(
        _("Hours worked"), models.Labour, "work:labour_record",
        ("date", "who", "hours", "task", "job", "sowing", "lot", "owed", "note"),
        "hands",
    ),
    "labour-rate": Kind(
        _("What an hour costs"), models.LabourRate, "work:labour_rate_set",
        ("since", "who", "task", "rate", "note"), "labour", Right.RUN,
    ),
    "weather": Kind(
        _("The weather record"), models.WeatherSource, "work:weather_source_set",
        ("name", "record", "columns", "forecast", "note"), "settings", Right.RUN,
    ),
    "certificate": Kind(
        _("Add a certificate"), models.Certificate, "inspection:certificate_add",
        (
            "holder", "is_own", "body", "code", "number", "scope", "covers_straw",
            "since", "expires", "note",
        ),
        "book", Right.RUN,
    ),
    "certificate-correction": Kind(
        _("Put a certificate's facts right"), models.Certificate,
        "inspection:certificate_correct",
        (
            "holder", "is_own", "body", "code", "number", "scope", "covers_straw",
            "since", "expires", "note",
        ),
        "book", Right.RUN,
        {"certificate": _model(models.Certificate, _("certificate")), "why": _why},
        (Correcting,), corrects="certificate",
    ),
    "derogation": Kind(
        _("A derogation for seed"), models.Derogation, "inspection:derogation_add",
        ("date", "variety", "reason", "reference", "note"), "book", Right.RUN,
    ),
    "cleaning": Kind(
        _("Something cleaned down"), models.Cleaning, "inspection:cleaning_record",
        ("date", "what", "machine", "how", "by", "note"), "book",
    ),
    "complaint": Kind(
        _("A complaint"), models.Complaint, "inspection:complaint_record",
        ("date", "who", "lot", "what", "done", "note"), "book", Right.RUN,
    ),
    "vermin": Kind(
        _("Against rats and mice"), models.VerminControl,
        "inspection:vermin_control_record",
        ("date", "where", "what", "note"), "book",
    ),
    "hand": Kind(
        _("Somebody who may come to work"), models.Hand, "hands:hand_add",
        ("name", "farm", *MAY_DO, "note"), "hands", Right.RUN, {"person": _member},
    ),
    "hand-tasks": Kind(
        _("What a hand may do from now on"), models.HandTasks, "hands:hand_tasks_set",
        ("hand", "since", *MAY_DO, "gone", "note"), "hands", Right.RUN,
    ),
    "coming": Kind(
        _("Who can come, and who can't"), models.Coming, "hands:coming_say",
        ("hand", "date", "until", "when", "can_come", "note"), "hands",
    ),
    "machine": Kind(
        _("Add a machine"), models.Machine, "hands:machine_add",
        (
            "kind", "name", "cut_width_m", "speed_km_per_h", "deck_length_m",
            "deck_width_m", "payload_kg", "shared_with", "holder", "stands", "note",
        ),
        "hands", Right.RUN,
    ),
    "machine-correction": Kind(
        _("Say more of a machine, or put it right"), models.Machine,
        "hands:machine_correct",
        (
            "name", "cut_width_m", "speed_km_per_h", "deck_length_m", "deck_width_m",
            "payload_kg", "shared_with", "note",
        ),
        "hands", Right.RUN,
        {"machine": _model(models.Machine, _("machine")), "why": _why},
        (Correcting,), corrects="machine",
    ),
    "machine-move": Kind(
        _("A machine goes to somebody, or comes back"), models.MachineMove,
        "hands:machine_move",
        ("machine", "since", "holder", "stands", "gone", "note"), "hands",
    ),
    "machine-check": Kind(
        _("Look a machine over"), models.MachineCheck, "hands:machine_check_record",
        (
            "machine", "date", "canvas", "knotter", "knife", "belts", "guards", "note",
        ),
        "hands", care=CARE_CHECK,
    ),
    "spare": Kind(
        _("Count spares"), models.Spare, "hands:spare_count",
        ("machine", "date", "part", "what", "count", "holder", "note"), "hands",
    ),
    "briefing": Kind(
        _("Somebody is shown a machine"), models.Briefing, "hands:briefing_record",
        ("hand", "machine", "date", "by", "signed", "note"), "hands", Right.RUN,
        care=CARE_BINDER,
    ),
    "tying": Kind(
        _("Sheaves untied, and twine used"), models.Tying, "hands:tying_record",
        (
            "machine", "date", "cut", "sheaves", "mis_ties", "twine_kg", "area_ha",
            "note",
        ),
        "hands", care=CARE_BINDER,
    ),
    "insurance": Kind(
        _("Insurance, and until when it runs"), models.Insurance,
        "hands:insurance_add",
        ("covers", "insurer", "number", "since", "runs_to", "note"), "hands", Right.RUN,
    ),
}  # fmt: skip
KINDS |= TRADE_KINDS | MONEY_KINDS | GRAIN_KINDS
