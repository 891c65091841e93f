"""Random prescriptions, wears and outlines for the laws that the optics must keep."""

import numpy as np
from hypothesis import strategies as st

from app.optics.outline_size import Outline
from app.optics.prescription_algebra import Power
from app.optics.prism import Prism
from app.optics.tilt_and_wrap import Wear

sphere_d = st.floats(-20, 20).map(lambda value: round(value, 2))
cylinder_d = st.floats(-6, 6).map(lambda value: round(value, 2))
axis_deg = st.integers(1, 180).map(float)
tilt_deg = st.floats(-20, 20).map(lambda value: round(value, 1))
index = st.sampled_from((1.498, 1.523, 1.586, 1.6, 1.67, 1.74))
prism_part = st.floats(-10, 10).map(lambda value: round(value, 2))
eye = st.sampled_from(("right", "left"))

powers = st.builds(Power, sphere_d, cylinder_d, axis_deg)
prisms = st.builds(Prism, prism_part, prism_part)
wears = st.builds(Wear, eye, tilt_deg, tilt_deg, index)
points = st.tuples(st.floats(-20, 20), st.floats(-15, 15))


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """A smooth closed lens shape: a super-ellipse leaning a little, 180 points, centred on its box."""
    width, depth = draw(st.floats(36, 64)), draw(st.floats(24, 50))
    squareness, lean = draw(st.floats(1.6, 5)), draw(st.floats(-0.2, 0.2))
    turn = np.arange(180) * np.pi / 90
    x = width / 2 * np.sign(np.cos(turn)) * np.abs(np.cos(turn)) ** (2 / squareness)
    y = depth / 2 * np.sign(np.sin(turn)) * np.abs(np.sin(turn)) ** (2 / squareness)
    shape = np.column_stack((x + lean * y, y))
    return np.asarray(shape - (shape.min(axis=0) + shape.max(axis=0)) / 2)
