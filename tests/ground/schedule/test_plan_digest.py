from dataclasses import replace

from floorcare.ground.schedule.plan_digest import plan_digest
from floorcare.store.surfaces import load_surfaces
from tests.builders import polished


def digest(inputs=("2026-03-02", "EAST=3"), standing=("a:0", "b:1"), surfaces=None):
    return plan_digest(inputs, standing, surfaces or {"polished_concrete": polished()})


def test_the_same_inputs_have_the_same_digest_in_any_order_of_visits():
    assert digest() == digest(standing=("b:1", "a:0"))


def test_any_other_input_has_another():
    milder = replace(polished(), coat_limit=polished().coat_limit + 1)
    others = [
        digest(inputs=("2026-03-03", "EAST=3")),
        digest(inputs=("2026-03-02", "EAST=4")),
        digest(standing=("a:0", "b:2")),
        digest(surfaces={"polished_concrete": milder}),
    ]
    assert digest() not in others
    assert len(set(others)) == len(others)


def test_surfaces_read_twice_have_one_digest():
    assert digest(surfaces=load_surfaces()) == digest(surfaces=load_surfaces())
