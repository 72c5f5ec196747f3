"""The filter against the plain matrix formulas of a joint normal, written out without recursion."""

from dataclasses import dataclass

import numpy as np
import pytest

from floorcare.ground.wear.filter import Filtered, filter_walks, weigh
from floorcare.ground.wear.history import Lineup, Transit, line_up
from tests.ground.wear.joint import Joint, joint_of

ZONES, COLUMNS, LEVEL_VAR = 3, 4, 1.7
ZONE = np.array([0, 0, 0, 0, 0, 2, 2])
LEVEL_MEAN = np.array([0.8, 0.0, -0.3, 0.0])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    lineup: Lineup
    target: np.ndarray
    variance: np.ndarray
    to_reading: Transit
    to_today: Transit

    def filtered(self) -> Filtered:
        return filter_walks(
            self.lineup,
            target=self.target,
            variance=self.variance,
            to_reading=self.to_reading,
            to_today=self.to_today,
            level_mean=LEVEL_MEAN,
            level_var=LEVEL_VAR,
        )

    def joint(self, zone: int) -> tuple[np.ndarray, Joint, np.ndarray]:
        """The zone's readings, their joint law, and their covariance with errors."""
        own = np.flatnonzero(zone == ZONE)
        joint = joint_of(LEVEL_VAR, self.to_reading.rows(own), self.to_today.rows(np.array([zone])))
        return own, joint, joint.among + np.diag(self.variance[own])


def _case() -> Case:
    random = np.random.default_rng(5)

    def way(count: int) -> Transit:
        return Transit(
            drift_var=random.uniform(0.0, 0.5, count),
            shock_kept=random.choice([1.0, 0.3, 0.0], count),
            shock_var=random.uniform(0.0, 0.5, count),
        )

    return Case(
        lineup=line_up(ZONE, ZONES),
        target=random.standard_normal((COLUMNS, ZONE.size)),
        variance=random.uniform(0.1, 1.0, ZONE.size),
        to_reading=way(ZONE.size),
        to_today=way(ZONES),
    )


CASE = _case()


def test_the_filter_equals_conditioning_a_joint_normal() -> None:
    filtered = CASE.filtered()
    assert filtered.mean.shape == (2, COLUMNS, ZONES)
    for zone in range(ZONES):
        own, joint, among = CASE.joint(zone)
        pull = np.linalg.solve(among, (CASE.target[:, own] - LEVEL_MEAN[:, None]).T)
        mean = np.stack([LEVEL_MEAN, np.zeros(COLUMNS)]) + joint.with_today.T @ pull
        covariance = joint.today - joint.with_today.T @ np.linalg.solve(among, joint.with_today)
        assert filtered.mean[:, :, zone] == pytest.approx(mean, abs=1e-10)
        assert filtered.covariance[:, :, zone] == pytest.approx(covariance, abs=1e-10)


def test_each_reading_surprises_by_what_those_before_it_did_not_say() -> None:
    filtered = CASE.filtered()
    for zone in (0, 2):
        own, _, among = CASE.joint(zone)
        off = CASE.target[:, own] - LEVEL_MEAN[:, None]
        for place in range(own.size):
            by = np.linalg.solve(among[:place, :place], among[:place, place])
            surprise = off[:, place] - off[:, :place] @ by
            left = among[place, place] - by @ among[:place, place]
            assert filtered.innovation[:, own[place]] == pytest.approx(surprise, abs=1e-10)
            assert filtered.innovation_var[own[place]] == pytest.approx(left, abs=1e-10)


def test_the_readings_are_weighed_by_the_inverse_of_their_covariance() -> None:
    pull, diagonal = weigh(CASE.lineup, to_reading=CASE.to_reading, filtered=CASE.filtered())
    for zone in (0, 2):
        own, _, among = CASE.joint(zone)
        inverse = np.linalg.inv(among)
        expected = (CASE.target[:, own] - LEVEL_MEAN[:, None]) @ inverse
        assert pull[:, own] == pytest.approx(expected, abs=1e-10)
        assert diagonal[own] == pytest.approx(np.diag(inverse), abs=1e-10)


def test_what_the_others_say_equals_leaving_the_reading_out() -> None:
    pull, diagonal = weigh(CASE.lineup, to_reading=CASE.to_reading, filtered=CASE.filtered())
    for zone in (0, 2):
        own, _, among = CASE.joint(zone)
        residual = CASE.target[:, own] - LEVEL_MEAN[:, None]
        for place in range(own.size):
            rest = np.arange(own.size) != place
            by = np.linalg.solve(among[np.ix_(rest, rest)], among[rest, place])
            off = pull[:, own[place]] / diagonal[own[place]]
            assert off == pytest.approx(residual[:, place] - residual[:, rest] @ by)
            assert 1.0 / diagonal[own[place]] == pytest.approx(
                among[place, place] - by @ among[rest, place]
            )


def test_no_reading_at_all_leaves_the_walks_to_grow() -> None:
    case = CASE
    filtered = filter_walks(
        line_up(ZONE[:0], ZONES),
        target=case.target[:, :0],
        variance=case.variance[:0],
        to_reading=case.to_reading.rows(ZONE[:0]),
        to_today=case.to_today,
        level_mean=LEVEL_MEAN,
        level_var=LEVEL_VAR,
    )
    assert filtered.mean[0] == pytest.approx(np.repeat(LEVEL_MEAN[:, None], ZONES, axis=1))
    assert filtered.covariance[0, 0] == pytest.approx(LEVEL_VAR + case.to_today.drift_var)
    assert filtered.covariance[1, 1] == pytest.approx(case.to_today.shock_var)
