"""Evidence classes at their limits."""

import numpy as np
import pytest

from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.evidence import EvidenceClass, evidence_classes, evidence_of
from tests.ground.wear.fleets import LAW, make_fleet


@pytest.mark.parametrize(
    ("rounds", "since", "looked_at", "expected"),
    [
        (4, 120, False, EvidenceClass.MEASURED),
        (4, 121, True, EvidenceClass.SPARSE),
        (3, 1, True, EvidenceClass.SPARSE),
        (1, 900, False, EvidenceClass.SPARSE),
        (0, 1, True, EvidenceClass.LOOKED_AT),
        (0, 1, False, EvidenceClass.ASSUMED),
    ],
)
def test_a_zones_class_follows_rounds_age_and_grades(
    rounds: int, since: int, looked_at: bool, expected: EvidenceClass
) -> None:
    assert evidence_of(rounds, since, looked_at) is expected


def test_classes_of_a_fit_read_its_believed_rounds() -> None:
    columns = make_fleet(zones=3, days=300, ahead=1, seed=6, readings=9).columns
    fit = estimate(columns, LAW)
    classes = evidence_classes(fit, np.zeros(3, dtype=bool))
    since = 299 - fit.last_day
    assert classes == tuple(
        EvidenceClass.MEASURED if days <= 120 else EvidenceClass.SPARSE for days in since
    )
