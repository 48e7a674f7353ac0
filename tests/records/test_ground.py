import datetime
import json
import uuid

import pytest
from django.core.exceptions import ValidationError

from sheafwright.core.errors import UnreadableInput
from sheafwright.records.errors import NotOurs, SaidOtherwise
from sheafwright.records.models import Field
from sheafwright.records.services.ground import (
    field_create,
    field_status_add,
    input_apply,
    ley_add,
)

DAY = datetime.date(2024, 3, 1)
SQUARE = {
    "type": "Polygon",
    "coordinates": [
        [[-2.0, 52.4], [-1.998, 52.4], [-1.998, 52.401], [-2.0, 52.401], [-2.0, 52.4]]
    ],
}


def test_ann_adds_a_field_by_its_area(write):
    assert write(field_create, name="Long Meadow", area_ha=2.0).area_ha == 2.0


def test_ann_adds_a_field_by_its_outline(write):
    outline = json.dumps(SQUARE).encode()
    field = write(field_create, name="The Slade", outline_file=outline)
    # 0.002° of longitude at 52.4° is 136 m, 0.001° of latitude 111 m.
    assert field.area_ha == pytest.approx(1.515, abs=0.005)
    assert field.outline["coordinates"][0][0][0] == [-2.0, 52.4]


def test_a_typed_area_stands_beside_an_outline(write):
    outline = json.dumps(SQUARE).encode()
    assert (
        write(field_create, name="The Slade", area_ha=1.4, outline_file=outline).area_ha
        == 1.4
    )


def test_an_outline_of_nothing_is_refused_in_words(write):
    with pytest.raises(UnreadableInput, match="should be GeoJSON or KML"):
        write(field_create, name="The Slade", outline_file=b"a long field")


def test_a_field_with_neither_area_nor_outline_is_refused(write):
    with pytest.raises(ValidationError, match="area_ha"):
        write(field_create, name="The Slade")


def test_a_field_sent_twice_is_one_field(write):
    id = uuid.uuid4()
    for _ in range(2):
        write(field_create, id=id, name="Long Meadow", area_ha=2.0)
    assert Field.objects.count() == 1


def test_a_field_sent_again_with_another_area_is_refused(write):
    id = uuid.uuid4()
    write(field_create, id=id, name="Long Meadow", area_ha=2.0)
    with pytest.raises(SaidOtherwise):
        write(field_create, id=id, name="Long Meadow", area_ha=3.0)


def test_nothing_is_said_of_another_holdings_field(write, long_meadow, other_holding):
    with pytest.raises(NotOurs):
        write(ley_add, holding=other_holding, field=long_meadow, what="clover")


def test_a_field_is_not_organic_before_it_is(write, long_meadow):
    with pytest.raises(ValidationError, match="still to come"):
        write(
            field_status_add,
            field=long_meadow,
            way="organic",
            since=datetime.date(2190, 1, 1),
        )


def test_a_ley_is_ploughed_after_it_is_sown(write, long_meadow):
    with pytest.raises(ValidationError, match=r"ploughed.*before 2024-03-01"):
        write(
            ley_add,
            field=long_meadow,
            what="red clover",
            sown=DAY,
            ploughed=datetime.date(2023, 9, 1),
        )


def test_what_is_put_on_needs_its_evidence(write, long_meadow):
    said = {"field": long_meadow, "date": DAY, "product": "lime", "quantity_kg": 4000}
    with pytest.raises(ValidationError, match="evidence"):
        write(input_apply, **said, evidence="")
    assert write(input_apply, **said, evidence="ground limestone").product == "lime"
