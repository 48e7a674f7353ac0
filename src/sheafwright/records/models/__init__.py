"""The record, a module a kind of work; the material book is in ``material``."""

from sheafwright.records.models.correction import Correction
from sheafwright.records.models.crew import Breakdown, Shower
from sheafwright.records.models.crop import (
    Cut,
    MeterReading,
    Observation,
    PlantCount,
    Sowing,
    StookSet,
    WeedWalk,
)
from sheafwright.records.models.grading import (
    Bundles,
    GradeRule,
    HandGrade,
    StemSample,
)
from sheafwright.records.models.ground import (
    Field,
    FieldStatus,
    InputApplied,
    Ley,
    PastCrop,
)
from sheafwright.records.models.hands import (
    Briefing,
    Coming,
    Hand,
    HandTasks,
    Insurance,
    Machine,
    MachineCheck,
    MachineMove,
    Spare,
    Tying,
)
from sheafwright.records.models.inspection import (
    Certificate,
    Cleaning,
    Complaint,
    Derogation,
    VerminControl,
)
from sheafwright.records.models.material import (
    Balance,
    Line,
    Movement,
    Place,
    ToSettle,
)
from sheafwright.records.models.plan import AreaWanted, PlanFixed
from sheafwright.records.models.saved import SavedAnswer
from sheafwright.records.models.seed import GerminationTest, SeedHealthTest, SeedLot
from sheafwright.records.models.store import (
    CallList,
    Lot,
    LotStanding,
    LotTest,
    Rick,
    RickReading,
    Threshing,
)
from sheafwright.records.models.work import (
    GaugeReading,
    Labour,
    LabourRate,
    Loss,
    Sale,
    WeatherSource,
)

__all__ = [
    "AreaWanted",
    "Balance",
    "Breakdown",
    "Briefing",
    "Bundles",
    "CallList",
    "Certificate",
    "Cleaning",
    "Coming",
    "Complaint",
    "Correction",
    "Cut",
    "Derogation",
    "Field",
    "FieldStatus",
    "GaugeReading",
    "GerminationTest",
    "GradeRule",
    "Hand",
    "HandGrade",
    "HandTasks",
    "InputApplied",
    "Insurance",
    "Labour",
    "LabourRate",
    "Ley",
    "Line",
    "Loss",
    "Lot",
    "LotStanding",
    "LotTest",
    "Machine",
    "MachineCheck",
    "MachineMove",
    "MeterReading",
    "Movement",
    "Observation",
    "PastCrop",
    "Place",
    "PlanFixed",
    "PlantCount",
    "Rick",
    "RickReading",
    "Sale",
    "SavedAnswer",
    "SeedHealthTest",
    "SeedLot",
    "Shower",
    "Sowing",
    "Spare",
    "StemSample",
    "StookSet",
    "Threshing",
    "ToSettle",
    "Tying",
    "VerminControl",
    "WeatherSource",
    "WeedWalk",
]
