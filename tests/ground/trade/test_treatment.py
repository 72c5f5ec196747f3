from floorcare.ground.trade.treatment import TREATMENTS, Work


def test_treatments_change_a_floor_and_looking_at_it_does_not() -> None:
    looking = {Work.READING_ROUND, Work.SLIP_TEST, Work.WALK, Work.CALL}
    assert set(TREATMENTS) == set(Work) - looking
    assert len(TREATMENTS) == len(set(TREATMENTS))


def test_the_mildest_treatments_come_first() -> None:
    order = [Work.CLEAN, Work.BURNISH, Work.FINE_BURNISH, Work.RECOAT, Work.REPOLISH]
    places = [TREATMENTS.index(work) for work in order]
    assert places == sorted(places)
