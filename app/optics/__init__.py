"""Optics of a spectacle lens: power, prism, centration, tilt and wrap, thickness, tolerances.

The one table of conventions. Every function of this package keeps to it, and
`tests/optics/test_right_and_left.py` proves that a mirrored right eye is a left eye.

=====================  ================================================================================
view                   The observer faces the wearer: x to the observer's right, y up, z from the
                       wearer's eye to the observer. The wearer's right eye is on the observer's left.
nasal ("in")           +x for the right eye, -x for the left eye.
cylinder axis          Degrees counter-clockwise from the observer's right, above 0 and up to 180 (ISO
                       8429); a sphere has the axis 180.
base of a prism        Degrees counter-clockwise from the observer's right, 0 up to below 360 (ISO
                       8429): 90 up, 270 down, 0 in for the right eye and out for the left, 180 out for
                       the right and in for the left.
decentration           + in (towards the nose), + up from the horizontal centre line.
prism of a lens point  (right, up) components of the base in prism dioptres; they do not depend on the
                       eye.
pantoscopic tilt       + when the lower rim is towards the face.
wrap (face form)       + when the temporal side is towards the face.
bridge projection      + when the crest is in front of the back plane of the lenses.
right and left         Mirror x: in stays in, up stays up, axis becomes 180 - axis, base becomes 180 -
                       base.
surface power          Front n - 1 over radius, back 1 - n over radius; the radius is + when the centre
                       of the curve is on the eye's side. A front surface is usually +, a back surface
                       usually -.
sag                    Depth of a surface from its vertex at a height, + towards the eye.
outline                Array of shape (n, 2): corner points of the lens shape in mm, front view, one
                       turn, not closed; the origin is the boxed centre unless the function says
                       otherwise.
units in names         `_mm` millimetres, `_deg` degrees, `_d` dioptres, `_prism_dioptres` prism
                       dioptres (cm/m), `_g` grams, `_mm3` cubic millimetres. Indices are for the
                       helium d line unless stated.
=====================  ================================================================================
"""
