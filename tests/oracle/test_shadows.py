"""Shadows against plane geometry by shapely: a body is thrown along the sun's ray on to the level of each point."""

from itertools import product

import numpy as np
import pvlib
import pytest
from shapely import MultiPoint, Point, prepare

from ohmstead.site.sky import Array, Obstacle
from ohmstead.sun.dome import open_sky, sky_view
from ohmstead.sun.field import field_of
from ohmstead.sun.scene import body_of, may_meet, meets

EDGE_M = 0.02  # points nearer than this to the edge of a shadow are not judged: the outlines are drawn with chords


def surface(body):
    """Points whose hull is the body, from its own figures."""
    turn = np.linspace(0, 2 * np.pi, 121)[:-1]
    a, b, c = body.half
    if body.shape == "pole":
        ring = np.stack([a * np.cos(turn), a * np.sin(turn)], axis=-1)
        return np.concatenate([np.c_[ring, np.full(len(ring), z)] for z in (-c, c)]) + body.middle
    if body.shape == "box":
        t = np.radians(body.turned_deg)
        width, depth = np.array([np.sin(t), np.cos(t), 0]), np.array([np.cos(t), -np.sin(t), 0])
        signs = np.array(list(product((-1, 1), repeat=3)))
        return signs @ np.stack([a * width, b * depth, np.array([0.0, 0.0, c])]) + body.middle
    lift = np.linspace(-np.pi / 2, np.pi / 2, 61)
    around, up = np.meshgrid(turn, lift)
    ball = np.stack([a * np.cos(up) * np.cos(around), b * np.cos(up) * np.sin(around), c * np.sin(up)], axis=-1)
    return ball.reshape(-1, 3) + body.middle


def drawn(shape, dice):
    bottom = dice.uniform(2.0, 5.0)  # all of it above the array, so that nothing of it lies behind a point
    away, side = dice.uniform(2, 12), dice.uniform(0, 2 * np.pi)
    return Obstacle(
        name=shape, shape=shape, east_m=away * np.sin(side), north_m=away * np.cos(side), bottom_m=bottom,
        top_m=bottom + dice.uniform(0.5, 6), width_m=dice.uniform(0.2, 4), depth_m=dice.uniform(0.2, 4),
        turned_deg=dice.uniform(0, 360),
    )  # fmt: skip


@pytest.mark.parametrize("shape", ["box", "pole", "tree"])
def test_random_scenes(shape, outside):
    dice = np.random.default_rng(7)
    judged = wrong = hit = 0
    for _ in range(60):
        body = body_of(drawn(shape, dice), 50.0)
        array = Array(name="a", power_w=200.0, series=2, tilt_deg=dice.uniform(0, 80), azimuth_deg=dice.uniform(0, 360),
                      width_m=dice.uniform(1, 4), height_m=dice.uniform(0.5, 2))  # fmt: skip
        start = field_of(array).points.reshape(-1, 3)
        target = body.middle + dice.uniform(-1, 1, 3) * body.half * 1.3
        ray = target / np.linalg.norm(target)
        if ray[2] < 0.08:
            continue
        found = meets(body, start, ray[None, :])[0]
        assert may_meet(body, field_of(array).radius_m, ray[None, :])[0] or not found.any()
        outline = surface(body)
        shadow = MultiPoint(outline[:, :2] - ray[:2] * (outline[:, 2] / ray[2])[:, None]).convex_hull  # on level zero
        prepare(shadow)
        for point, ours in zip(start[::5], found[::5], strict=True):
            spot = Point(*(point[:2] - ray[:2] * (point[2] / ray[2])))
            if shadow.exterior.distance(spot) < EDGE_M:
                continue
            judged += 1
            hit += shadow.contains(spot)
            wrong += shadow.contains(spot) != ours
    outside(source="shapely", place="convex hull of a thrown outline", read="program", what=f"shadow of a {shape}",
            deviation=wrong / judged)  # fmt: skip
    assert judged > 800 and hit > 150
    assert wrong == 0


@pytest.mark.parametrize("angle", [5.0, 10.0, 20.0, 30.0])
def test_wall_along_one_side(angle, outside):
    """An endless wall of angular height a takes (1 - cos a) / 2 of the sky from a level plane."""
    azimuth = np.radians(np.arange(0.0, 360.0, 0.25))
    across = np.maximum(np.cos(azimuth), 0.0)
    line = np.c_[np.degrees(azimuth), np.degrees(np.arctan(np.tan(np.radians(angle)) * across))]
    found, expected = 1 - sky_view(0.0, 180.0, line), pvlib.shading.sky_diffuse_passias(angle)
    outside(source="pvlib", place="sky_diffuse_passias", read="program", what="sky taken by a wall",
            deviation=abs(found / expected - 1))  # fmt: skip
    assert expected == pytest.approx((1 - np.cos(np.radians(angle))) / 2)
    assert found == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("angle", [2.0, 15.0, 30.0, 70.0])
def test_skyline_all_round(angle, outside):
    """An even skyline of height h leaves cos² h of the sky to a level plane (integral of the dome)."""
    found, expected = sky_view(0.0, 0.0, np.array([[10.0, angle]])), np.cos(np.radians(angle)) ** 2
    outside(source="worked-examples", place="integral of the dome", read="computed", what="sky above an even skyline",
            deviation=abs(found / expected - 1))  # fmt: skip
    assert found == pytest.approx(expected, rel=1e-6)


def test_a_box_and_the_same_skyline_take_the_same_sky():
    """A ring of boxes far away against the skyline they make: two ways to the same figure."""
    field = field_of(Array(name="a", power_w=50.0, tilt_deg=20.0, azimuth_deg=180.0, width_m=0.02, height_m=0.02))
    away, top, n = 100.0, 40.0, 36
    boxes = []
    for a in np.arange(n) * 2 * np.pi / n:
        east, north, width = away * np.sin(a), away * np.cos(a), 2.2 * away * np.tan(np.pi / n)
        wall = Obstacle(name="wall", shape="box", east_m=east, north_m=north, top_m=top, width_m=width, depth_m=0.1,
                        turned_deg=(np.degrees(a) + 90) % 360)  # fmt: skip
        boxes.append(body_of(wall, 50.0))
    by_boxes = open_sky(field, boxes, None)
    by_line = open_sky(field, [], np.array([[0.0, np.degrees(np.arctan(top / away))]]))
    assert by_boxes == pytest.approx(by_line, rel=0.01)
    assert by_line[0] < 0.9
