"""An invented worked set: eight faces with the orders that a bench would get, worked out outside this app.

The eight people do not exist. Facial readings and pairs on the left, ordered values, decentrations and smallest
blanks on the right were worked out by a script of their own: lash clearance 1.5, grip 5, ease 2, front to joint
10, edging 2 (common practice).
"""

from dataclasses import dataclass

from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.reading import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One invented face and both pairs; right and left as (R, L). `lens` is a, b, DBL."""

    name: str
    widths: tuple[float, float]
    frontal: tuple[float, float]
    splay: tuple[float, float]
    projection: float
    lashes: tuple[float, float]
    radius: float
    crest: float
    single_eye: tuple[float, float]
    near: float
    away_cm: float
    side_angle: tuple[float, float]
    to_tangent: tuple[float, float]
    drop: tuple[float, float]
    drop_length: float
    head: float
    temples: float
    line: float
    vertex: float
    lens_1: tuple[float, float, float]
    lens_2: tuple[float, float, float]
    longest_2: float
    segment_2: tuple[float, float] | None
    to_bend_2: tuple[float, float]
    # the order
    frame_projection: float
    frame_crest: float
    frame_head: float
    frame_temples: float
    to_bend_1: tuple[float, float]
    overall: tuple[float, float]
    decentration_1: tuple[float, float]
    decentration_2: tuple[float, float]
    blank_2: float


FACES = (
    Face(
        name="first",
        widths=(19.5, 23.5), frontal=(24, 24), splay=(28, 28), projection=3, lashes=(9, 9), radius=8, crest=6,
        single_eye=(31.5, 31.5), near=59, away_cm=40, side_angle=(10, 10), to_tangent=(102, 102),
        drop=(45, 45), drop_length=38, head=148, temples=137, line=2, vertex=13,
        lens_1=(48, 36, 18), lens_2=(50, 36, 18), longest_2=52, segment_2=(16, 16), to_bend_2=(92, 92),
        frame_projection=1.5, frame_crest=4, frame_head=143, frame_temples=139, to_bend_1=(92, 92),
        overall=(130, 130), decentration_1=(1.5, 1.5), decentration_2=(2.5, 2.5), blank_2=59,
    ),
    Face(
        name="high minus",
        widths=(17, 21), frontal=(20, 21), splay=(25, 25), projection=4, lashes=(9, 9), radius=7, crest=7,
        single_eye=(30.5, 30.5), near=57, away_cm=40, side_angle=(9, 9), to_tangent=(100, 100),
        drop=(42, 42), drop_length=36, head=144, temples=134, line=2, vertex=12,
        lens_1=(43, 37, 18), lens_2=(46, 36, 18), longest_2=48, segment_2=None, to_bend_2=(90, 90),
        frame_projection=2.5, frame_crest=5, frame_head=139, frame_temples=136, to_bend_1=(90, 90),
        overall=(126, 126), decentration_1=(0, 0), decentration_2=(1.5, 1.5), blank_2=53,
    ),
    Face(
        name="two powers",
        widths=(20.5, 25.5), frontal=(26, 26), splay=(30, 29), projection=2, lashes=(8.5, 8.5), radius=8.5,
        crest=5, single_eye=(30, 30), near=56, away_cm=40, side_angle=(10, 10), to_tangent=(98, 99),
        drop=(44, 44), drop_length=37, head=142, temples=131, line=2, vertex=12,
        lens_1=(46, 36, 17), lens_2=(49, 37, 17), longest_2=51, segment_2=(17, 17), to_bend_2=(88, 89),
        frame_projection=0.5, frame_crest=3, frame_head=137, frame_temples=133, to_bend_1=(88, 89),
        overall=(125, 126), decentration_1=(1.5, 1.5), decentration_2=(3, 3), blank_2=59,
    ),
    Face(
        name="vertical prism",
        widths=(18, 22), frontal=(22, 22), splay=(27, 27), projection=4, lashes=(9, 9), radius=7.5, crest=7,
        single_eye=(33, 33), near=61.5, away_cm=35, side_angle=(8, 8), to_tangent=(108, 108),
        drop=(38, 38), drop_length=40, head=156, temples=143, line=2, vertex=13,
        lens_1=(50, 38, 19), lens_2=(52, 38, 18), longest_2=54, segment_2=(17, 17), to_bend_2=(98, 98),
        frame_projection=2.5, frame_crest=5, frame_head=151, frame_temples=145, to_bend_1=(98, 98),
        overall=(138, 138), decentration_1=(1.5, 1.5), decentration_2=(2, 2), blank_2=60,
    ),
    Face(
        name="child",
        widths=(23.5, 30), frontal=(33, 33), splay=(36, 36), projection=-2, lashes=(8, 8), radius=9.5, crest=1,
        single_eye=(25.5, 25.5), near=47, away_cm=33, side_angle=(4, 4), to_tangent=(84, 84),
        drop=(50, 50), drop_length=30, head=128, temples=118, line=0, vertex=12,
        lens_1=(40, 33, 15), lens_2=(41, 33, 15), longest_2=43, segment_2=None, to_bend_2=(76, 76),
        frame_projection=-3.5, frame_crest=1, frame_head=123, frame_temples=120, to_bend_1=(74, 74),
        overall=(104, 104), decentration_1=(2, 2), decentration_2=(2.5, 2.5), blank_2=50,
    ),
    Face(
        name="wide head",
        widths=(23, 28.5), frontal=(29, 29), splay=(33, 33), projection=1, lashes=(9.5, 9.5), radius=10,
        crest=5, single_eye=(37, 37), near=69.5, away_cm=40, side_angle=(9, 9), to_tangent=(112, 112),
        drop=(45, 45), drop_length=42, head=168, temples=154, line=2, vertex=13,
        lens_1=(56, 40, 21), lens_2=(56, 40, 20), longest_2=59, segment_2=(18, 18), to_bend_2=(102, 102),
        frame_projection=-0.5, frame_crest=3, frame_head=163, frame_temples=156, to_bend_1=(102, 102),
        overall=(144, 144), decentration_1=(1.5, 1.5), decentration_2=(1, 1), blank_2=63,
    ),
    Face(
        name="uneven",
        widths=(19.5, 23.5), frontal=(19, 28), splay=(24, 34), projection=3, lashes=(9, 9), radius=8, crest=6,
        single_eye=(33, 29.5), near=58.5, away_cm=40, side_angle=(9, 11.5), to_tangent=(101, 98),
        drop=(44, 47), drop_length=37, head=145, temples=134, line=2, vertex=13,
        lens_1=(48, 36, 18), lens_2=(50, 36, 17), longest_2=52, segment_2=None, to_bend_2=(91, 88),
        frame_projection=1.5, frame_crest=4, frame_head=140, frame_temples=136, to_bend_1=(91, 88),
        overall=(128, 125), decentration_1=(0, 3.5), decentration_2=(0.5, 4), blank_2=62,
    ),
    Face(
        name="squint",
        widths=(19, 23.5), frontal=(23, 23), splay=(28, 28), projection=3, lashes=(9, 9), radius=8, crest=6,
        single_eye=(31.5, 32), near=59.5, away_cm=40, side_angle=(10, 10), to_tangent=(104, 104),
        drop=(45, 45), drop_length=38, head=152, temples=140, line=2, vertex=13,
        lens_1=(50, 37, 18), lens_2=(51, 37, 18), longest_2=53, segment_2=None, to_bend_2=(94, 94),
        frame_projection=1.5, frame_crest=4, frame_head=147, frame_temples=142, to_bend_1=(94, 94),
        overall=(132, 132), decentration_1=(2.5, 2), decentration_2=(3, 2.5), blank_2=61,
    ),
)  # fmt: skip


def fitting_of(face: Face) -> Fitting:
    """The invented face as a fitting with both pairs."""
    form = "bifocal" if face.segment_2 else "single_vision_distance"
    a, b, between = face.lens_1
    return Fitting(
        person=Person(reference=face.name),
        taken=Taken(on="2026-10-02"),
        readings=(*_of_face(face), *_of_pair_2(face)),
        pairs=(
            Pair(
                pair=1,
                kind="handmade",
                lens_width=a,
                lens_height=b,
                distance_between_lenses=between,
                centre_line_above_lid_mm=face.line,
                vertex_mm=face.vertex,
                lens_form=form,  # type: ignore[arg-type]
            ),
            Pair(
                pair=2,
                kind="own_frame",
                longest_diameter_mm=face.longest_2,
                lens_form=form,  # type: ignore[arg-type]
            ),
        ),
    )


def reading(measurement: str, value: float, side: str | None = None, pair: int | None = None) -> Reading:
    """One reading, typed as its number."""
    return Reading(measurement=measurement, value=float(value), text=str(value), side=side, pair=pair)  # type: ignore[arg-type]


def both(measurement: str, values: tuple[float, float], pair: int | None = None) -> list[Reading]:
    """Right and left."""
    return [reading(measurement, value, side, pair) for side, value in zip("RL", values, strict=True)]


def _of_face(face: Face) -> list[Reading]:
    single = {
        "bridge_width_10": face.widths[0],
        "bridge_width_15": face.widths[1],
        "bridge_projection": face.projection,
        "apical_radius": face.radius,
        "crest_height": face.crest,
        "pd_near": face.near,
        "working_distance": face.away_cm,
        "head_width": face.head,
        "temple_width": face.temples,
    }
    sided = {
        "frontal_angle": face.frontal,
        "splay_angle": face.splay,
        "lash_projection": face.lashes,
        "pd_monocular": face.single_eye,
        "side_angle": face.side_angle,
        "length_to_tangent": face.to_tangent,
        "drop_angle": face.drop,
        "drop_length": (face.drop_length, face.drop_length),
    }
    ones = [reading(key, value) for key, value in single.items()]
    return ones + [one for key, values in sided.items() for one in both(key, values)]


def _of_pair_2(face: Face) -> list[Reading]:
    sizes = zip(("lens_width", "lens_height", "distance_between_lenses"), face.lens_2, strict=True)
    segments = both("segment_height", face.segment_2, 2) if face.segment_2 else []
    sides = both("length_to_bend", face.to_bend_2, 2)
    return [*(reading(key, value, pair=2) for key, value in sizes), *sides, *segments]
