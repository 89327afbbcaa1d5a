"""The example of the NREL solar position algorithm: 17 October 2003, 12:30:30, Golden, Colorado."""

import numpy as np

from ohmstead.sun.plane import cos_incidence
from ohmstead.sun.sky import sun_at

MOMENT = np.array([1_066_419_030])  # 19:30:30 UTC
ZENITH_DEG, AZIMUTH_DEG, INCIDENCE_DEG = 50.11162, 194.34024, 25.18700
AS_FINE_AS_DEG = 0.01  # what is claimed of the short formulae


def test_appendix_example(outside):
    sun = sun_at(MOMENT, 39.742476, -105.1786, 1830.14)
    off = max(abs(sun.zenith_deg[0] - ZENITH_DEG), abs(sun.azimuth_deg[0] - AZIMUTH_DEG))
    outside(source="nrel-560-34302", place="appendix A.5", read="from memory", what="zenith and azimuth of the sun",
            deviation=off / ZENITH_DEG)  # fmt: skip
    assert off < AS_FINE_AS_DEG


def test_appendix_incidence(outside):
    sun = sun_at(MOMENT, 39.742476, -105.1786, 1830.14)
    found = np.degrees(np.arccos(cos_incidence(sun.zenith_deg, sun.azimuth_deg, 30.0, 170.0)[0]))
    outside(source="nrel-560-34302", place="appendix A.5", read="from memory", what="incidence on a tilted plane",
            deviation=abs(found / INCIDENCE_DEG - 1))  # fmt: skip
    assert abs(found - INCIDENCE_DEG) < AS_FINE_AS_DEG
