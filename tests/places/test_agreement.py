"""Two ways of saying where: how far a rounded position may be off, and when two places cannot be one."""

from __future__ import annotations

import pytest

from reedmace.places.agreement import rounded_m


@pytest.mark.parametrize(
    ("latitude", "longitude", "metres"),
    [
        ("50.9", "-1.4", 7872),  # 0.05° each way: 5,566 m north and as much east at the equator
        ("51", "-1.4", 55939),
        ("50.90450", "-1.38770", 0.8),
    ],
)
def test_a_position_may_be_off_by_half_of_its_last_decimal(latitude: str, longitude: str, metres: float) -> None:
    """A degree of latitude is about 111.32 km (WGS 84: 110.57 at the equator, 111.69 at the poles)."""
    assert rounded_m(latitude, longitude) == pytest.approx(metres, rel=0.02)
