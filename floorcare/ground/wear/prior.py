"""What is believed of a zone's rates before its own readings."""

from dataclasses import dataclass, fields

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.model import Flags, Floats, Whole


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prior:
    """Mean and spread of (u_h, u_r), one value a zone or a class of zones.

    mean_haze, mean_rest : ln of the factor on the surface's rates.
    sd_haze, sd_rest : their sd, > 0.
    correlation : between the two, -1 < c < 1.
    """

    mean_haze: Floats
    mean_rest: Floats
    sd_haze: Floats
    sd_rest: Floats
    correlation: Floats

    def __post_init__(self) -> None:
        if len({getattr(self, field.name).shape for field in fields(self)}) != 1:
            raise ValueError("a prior's columns must be of one length")
        if not (np.all(self.sd_haze > 0) and np.all(self.sd_rest > 0)):
            raise ValueError("a prior's sd must be above 0")
        if not np.all(np.abs(self.correlation) < 1):
            raise ValueError("a prior's correlation must lie between -1 and 1")

    def of(self, zone_class: Whole) -> "Prior":
        """The prior of each zone, from one of each class.

        Assumption: a zone belongs to one class.
        """
        return Prior(
            mean_haze=self.mean_haze[zone_class],
            mean_rest=self.mean_rest[zone_class],
            sd_haze=self.sd_haze[zone_class],
            sd_rest=self.sd_rest[zone_class],
            correlation=self.correlation[zone_class],
        )

    def covariance(self) -> Floats:
        """(…, 2, 2) covariance of (u_h, u_r).

        Assumption: the two are jointly normal.
        """
        cross = self.correlation * self.sd_haze * self.sd_rest
        rows = ((self.sd_haze**2, cross), (cross, self.sd_rest**2))
        return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)


def prior_from(law: WearLaw, counted: Flags) -> Prior:
    """The surface's own starting belief, wider where footfall was not counted.

    Parameters
    ----------
    counted : (Z,), footfall from a counter.

    Assumption: rate sd 0.35 with a counter, 0.55 without, correlation 0.5, until learned.
    """
    sd = np.where(counted, law.rate_sd_counted, law.rate_sd_assumed)
    zero = np.zeros(counted.shape)
    return Prior(
        mean_haze=zero,
        mean_rest=zero,
        sd_haze=sd,
        sd_rest=sd,
        correlation=np.full(counted.shape, law.rate_correlation),
    )
