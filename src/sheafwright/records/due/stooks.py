"""When the stooks may be carted."""

from sheafwright.records.clock import day_of
from sheafwright.records.due import SEED, Due, files


def stooks_due(stook_set, source, common):
    holding = stook_set.holding
    readings = [
        (day_of(holding, r.at), _share(r.grain_pct), _share(r.straw_pct))
        for r in stook_set.readings.all()
    ]
    asks = common | {"cut": stook_set.cut.date, "readings": readings}

    def answer(folder):
        from sheafwright.answers.stooks import Reading, StooksQuestion, stooks
        from sheafwright.charts.stooks import stooks_chart

        said = stooks(
            StooksQuestion(
                **files(holding, source, common["gauge"], folder),
                cut=stook_set.cut.date,
                field=stook_set.cut.sowing.field.name,
                readings=tuple(Reading(*reading) for reading in readings),
                seed=SEED,
            )
        )
        return said, lambda: stooks_chart(said, titled=False)

    return Due("stooks", stook_set, asks, answer)


def _share(percent):
    return None if percent is None else percent / 100
