"""The shift and the projection against published worked examples, and against PROJ as a second witness."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Transformer

from reedmace.places.datum import from_grid, project, to_grid, unproject

# Ordnance Survey, "A guide to coordinate systems in Great Britain", annex C: worked examples.
ANNEX_C_LATITUDE = 52 + 39 / 60 + 27.2531 / 3600
ANNEX_C_LONGITUDE = 1 + 43 / 60 + 4.5177 / 3600
ANNEX_C_HELMERT = (53 + 36 / 60 + 43.1653 / 3600, -(1 + 39 / 60 + 51.9920 / 3600), 299.800)

# WGS84 latitude, longitude; grid, easting, northing; how near the shift should come, in metres.
# GB: points of Ordnance Survey's OSTN15 test file (2015).
# IE: points of the Ordnance Survey of Northern Ireland's OSGM15 test file (2015).
POINTS = [
    (49.92226393730, -6.29977752014, "GB", 91492.146, 11318.804, 5.0),
    (50.93127937910, -1.45051433700, "GB", 438710.920, 114792.250, 5.0),
    (51.37447025550, 1.44454730409, "GB", 639821.835, 169565.858, 5.0),
    (54.08666318080, -4.63452168212, "GB", 227778.330, 468847.388, 5.0),
    (57.81351838410, -8.57854456076, "GB", 9587.909, 899448.996, 5.0),
    (59.85409913890, -1.27486910356, "GB", 440725.073, 1107878.448, 5.0),
    (54.3137982272, -7.6372592247, "IE", 223657.156, 340618.902, 0.5),
    (54.2057987564, -6.6290263469, "IE", 289507.735, 329405.008, 0.5),
]


def test_the_projection_gives_the_worked_example():
    """The guide's worked example of the projection alone, to the millimetre."""
    assert project("GB", ANNEX_C_LATITUDE, ANNEX_C_LONGITUDE) == pytest.approx((651409.903, 313177.270), abs=0.001)


def test_the_projection_undone_gives_the_worked_example():
    """The same example backwards, to the guide's four decimals of a second."""
    latitude, longitude = unproject("GB", 651409.903, 313177.270)
    assert latitude == pytest.approx(ANNEX_C_LATITUDE, abs=0.0001 / 3600)
    assert longitude == pytest.approx(ANNEX_C_LONGITUDE, abs=0.0001 / 3600)


def test_the_shift_gives_the_worked_example():
    """The guide's worked example of the seven-parameter shift, within 2 mm, with its height and without."""
    latitude, longitude, height = ANNEX_C_HELMERT
    assert to_grid("GB", latitude, longitude, height) == pytest.approx((422297.792, 412878.741), abs=0.002)
    assert to_grid("GB", latitude, longitude) == pytest.approx((422297.798, 412878.740), abs=0.002)


@pytest.mark.parametrize(("latitude", "longitude", "system", "easting", "northing", "within"), POINTS)
def test_surveyed_points_come_within_the_stated_accuracy(latitude, longitude, system, easting, northing, within):
    """The shift is good to about 5 m in Great Britain and half a metre at the Irish test points."""
    found = to_grid(system, latitude, longitude)
    assert hypot(found[0] - easting, found[1] - northing) < within


def pipeline(system: str) -> Transformer:
    """PROJ's own arithmetic with the same published parameters and no shift grid."""
    helmert, projection = {
        "GB": (
            "+step +proj=helmert +x=-446.448 +y=125.157 +z=-542.06 +s=20.4894"
            " +rx=-0.1502 +ry=-0.247 +rz=-0.8421 +convention=position_vector",
            "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +a=6377563.396 +b=6356256.909",
        ),
        "IE": (
            "+step +inv +proj=helmert +x=482.5 +y=-130.6 +z=564.6 +s=8.15"
            " +rx=-1.042 +ry=-0.214 +rz=-0.631 +convention=position_vector",
            "+proj=tmerc +lat_0=53.5 +lon_0=-8 +k=1.000035 +x_0=200000 +y_0=250000 +a=6377340.189 +b=6356034.447",
        ),
    }[system]
    ellipsoid = projection.split("+y_0=")[1].split(" ", 1)[1]
    return Transformer.from_pipeline(
        "+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step +proj=push +v_3"
        f" +step +proj=cart +ellps=WGS84 {helmert} +step +inv +proj=cart {ellipsoid}"
        f" +step +proj=pop +v_3 +step {projection}"
    )


WITNESS = {"GB": pipeline("GB"), "IE": pipeline("IE")}
REGION = st.sampled_from(["GB", "IE"]).flatmap(
    lambda system: st.tuples(
        st.just(system),
        st.floats(49.8, 61.2) if system == "GB" else st.floats(51.3, 55.6),
        st.floats(-9.0, 2.2) if system == "GB" else st.floats(-10.8, -5.3),
    )
)


@given(point=REGION)
@settings(max_examples=200)
def test_a_second_witness_agrees_to_a_centimetre_both_ways(point):
    """PROJ, with the same parameters pinned and no shift grid, lands within 1 cm."""
    system, latitude, longitude = point
    ours = to_grid(system, latitude, longitude)
    theirs = WITNESS[system].transform(longitude, latitude)
    assert hypot(ours[0] - theirs[0], ours[1] - theirs[1]) < 0.01
    back = from_grid(system, *ours)
    witnessed = WITNESS[system].transform(*ours, direction="INVERSE")
    assert back == pytest.approx((witnessed[1], witnessed[0]), abs=1e-7)


@given(point=REGION)
def test_there_and_back_again_is_within_two_millimetres(point):
    """What is lost is the height, which is dropped between the two ellipsoids."""
    system, latitude, longitude = point
    back = from_grid(system, *to_grid(system, latitude, longitude))
    assert (back[0] - latitude) * 111_300 == pytest.approx(0, abs=0.002)
    assert (back[1] - longitude) * 111_300 == pytest.approx(0, abs=0.004)  # a degree is shorter up here


@given(easting=st.floats(0, 700_000), northing=st.floats(0, 1_300_000))
def test_the_projection_undoes_itself(easting, northing):
    """The projection alone loses nothing: a micrometre over the whole National Grid."""
    assert project("GB", *unproject("GB", easting, northing)) == pytest.approx((easting, northing), abs=1e-6)


def test_ignoring_the_shift_would_miss_the_square():
    """Why the shift is not optional: without it the point moves further than its 100 m square is wide."""
    latitude, longitude = 52.5, -1.5
    shifted, ignored = to_grid("GB", latitude, longitude), project("GB", latitude, longitude)
    assert hypot(shifted[0] - ignored[0], shifted[1] - ignored[1]) > 100
