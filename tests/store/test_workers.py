from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.crew import Absence, Qualification
from tests.store.means import OTHER_WORKER, WORKER, with_means
from tests.store.sample import LATER


def test_workers_come_back_with_languages_in_their_order_and_what_they_hold(put, read):
    put(with_means())
    assert read("workers") == (OTHER_WORKER, WORKER)


def test_a_renewed_certificate_stands_beside_the_old_one(put, read):
    put(with_means())
    renewed = Qualification(
        name="site induction", from_on=date(2026, 12, 1), expires_on=date(2027, 12, 31)
    )
    counts = put(Portfolio(workers=(replace(WORKER, qualifications=(renewed,)),)), now=LATER)
    assert (counts["qualifications"].added, counts["qualifications"].changed) == (1, 0)
    first, second, height = read("workers")[1].qualifications
    assert (first, second) == (WORKER.qualifications[0], renewed)
    assert height == WORKER.qualifications[1]


SICK = Absence(from_on=date(2026, 3, 2), to_on=date(2026, 3, 6), why="sick")


def test_an_absence_stands_beside_earlier_ones_by_day(put, read):
    put(with_means())
    counts = put(Portfolio(workers=(replace(WORKER, absences=(SICK,)),)), now=LATER)
    assert (counts["absences"].added, counts["workers"].unchanged) == (1, 1)
    assert read("workers")[1].absences == (*WORKER.absences, SICK)


def test_an_absence_noted_in_the_program_outranks_the_folders(put, read):
    put(with_means())
    longer = replace(WORKER.absences[0], to_on=date(2026, 2, 20))
    put(Portfolio(workers=(replace(WORKER, absences=(longer,)),)), now=LATER, origin="program")
    counts = put(Portfolio(workers=(WORKER,)), now=LATER)
    assert (counts["absences"].outranked, counts["absences"].changed) == (1, 0)
    assert read("workers")[1].absences == (longer,)


def test_a_worker_who_leaves_is_told_as_ended(put):
    put(with_means())
    leaves = replace(WORKER, to_on=date(2026, 6, 30))
    (change,) = put(Portfolio(workers=(leaves,)), now=LATER)["workers"].changes
    assert (change.key, change.what) == ("VALE", "ended")
    assert change.fields == (("to_on", "", "2026-06-30"),)


def test_a_branch_nobody_knows_is_told(put):
    with pytest.raises(NotKnown, match='worker VALE: branch "NORTHPOLE" is not known'):
        put(replace(with_means(), workers=(replace(WORKER, branch="NORTHPOLE"),)))
