"""The drawings against the specification that they are made from, as SVG and as DXF.

DXF is read twice: by ezdxf's audit, and by the plain pairs of group code and value (AutoCAD DXF, from memory:
0 entity, 8 layer, 10 and 20 point, 70 flags), which shapely then measures.
"""

import re
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
import shapely  # type: ignore[import-untyped]

from app.documents.drawing import Arc, CannotDraw, Line, Polyline
from app.documents.drawing_bridge import bridge_of, section_lines
from app.documents.drawing_dxf import to_dxf
from app.documents.drawing_extent import extent
from app.documents.drawing_front import front_of
from app.documents.drawing_lens import lenses_of
from app.documents.drawing_plan import plan_of
from app.documents.drawing_sides import middle_line, side_of
from app.documents.drawing_svg import to_svg
from app.documents.pair_drawings import sides_of
from app.documents.side_values import side_values
from app.frame.specification import PairSpecification
from tests.documents.made import HANDMADE, pair_of

WITHIN_MM = 0.01
MAKERS = (front_of, bridge_of, sides_of, lenses_of)
STYLES = ("regular", "pad", "pads_on_arms", "saddle", "keyhole", "inset_saddle")
Outlines = dict[str, list[shapely.Polygon]]


def closed_outlines(dxf: bytes) -> Outlines:
    """Closed light polylines by layer, read from the plain group codes; an open one fails."""
    lines = dxf.decode("cp1252").splitlines()
    found: Outlines = {}
    entity, layer, flags, across, up = "", "", 0, [], []

    def keep() -> None:
        if entity == "LWPOLYLINE" and layer in ("LENS", "RIM", "BOX", "PADS"):
            assert flags & 1, f"an open outline on {layer}"
            found.setdefault(layer, []).append(shapely.Polygon(zip(across, up, strict=True)))

    for code, value in zip(lines[::2], lines[1::2], strict=False):
        match int(code):
            case 0:
                keep()
                entity, layer, flags, across, up = value.strip(), "", 0, [], []
            case 8:
                layer = value.strip()
            case 70:
                flags = int(value)
            case 10:
                across.append(float(value))
            case 20:
                up.append(float(value))
    keep()
    return found


def ordered_outlines(made: PairSpecification) -> list[shapely.Polygon]:
    """Both lens outlines where the boxed system puts them: half of lens width and distance from the middle."""
    half = (made.sheet.lens_width.known + made.sheet.between_lenses.known) / 2
    shapes = ((made.outline.right_mm, -half), (made.outline.left_mm, half))
    return [shapely.Polygon(shape + np.array([across, 0.0])) for shape, across in shapes if shape is not None]


@pytest.mark.parametrize("number", [1, 2])
@pytest.mark.parametrize("name", HANDMADE)
def test_a_mill_gets_the_outlines_of_the_specification(name: str, number: int) -> None:
    made = pair_of(name, number)
    outlines = closed_outlines(to_dxf(front_of(made)))
    for cut, ordered in zip(outlines["LENS"], ordered_outlines(made), strict=True):
        assert shapely.hausdorff_distance(cut.exterior, ordered.exterior) < WITHIN_MM
        assert cut.is_valid, "no self-intersection"
    boxes = [box.bounds for box in outlines["BOX"]]
    width, height, between = (
        one.known for one in (made.sheet.lens_width, made.sheet.lens_height, made.sheet.between_lenses)
    )
    assert [right - left for left, _, right, _ in boxes] == pytest.approx([width] * 2, abs=WITHIN_MM)
    assert [top - foot for _, foot, _, top in boxes] == pytest.approx([height] * 2, abs=WITHIN_MM)
    assert boxes[1][0] - boxes[0][2] == pytest.approx(between, abs=WITHIN_MM)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", ["patient_1", "patient_5", "patient_7"])
def test_the_outside_of_the_front_is_one_closed_line_that_does_not_cross_itself(
    name: str, style: str
) -> None:
    made = pair_of(name, bridge_style=style)
    outlines = closed_outlines(to_dxf(front_of(made)))
    (rim,) = outlines["RIM"]
    assert rim.is_valid
    assert rim.bounds[2] - rim.bounds[0] == pytest.approx(
        made.dimension("joint_width").ordered, abs=WITHIN_MM
    )
    for lens in outlines["LENS"]:
        outside = lens.difference(rim).area
        room = min(made.right.nose_room.room_mm, made.left.nose_room.room_mm)
        assert (outside < 0.01) == (room > 0 if style not in ("pad", "pads_on_arms") else room > 1.5)


@pytest.mark.parametrize("name", HANDMADE)
def test_the_bridge_is_cut_to_the_fitted_nose(name: str) -> None:
    made = pair_of(name)
    crest = made.dimension("crest_height").ordered
    (rim,) = closed_outlines(to_dxf(front_of(made)))["RIM"]
    assert rim.distance(shapely.Point(0.0, crest)) < WITHIN_MM
    for depth in (10.0, 12.0):
        level = shapely.LineString([(-40.0, crest - depth), (40.0, crest - depth)]).intersection(rim)
        inner = max(x for x, _ in shapely.get_coordinates(level).tolist() if x < 0)
        flank = made.bridge.half_width("R", depth)
        assert -inner == pytest.approx(flank, abs=WITHIN_MM) or -inner > flank


def test_a_library_finds_nothing_to_mend_in_the_file(tmp_path: Path) -> None:
    place = tmp_path / "front.dxf"
    place.write_bytes(to_dxf(front_of(pair_of())))
    document = ezdxf.readfile(place)
    assert document.audit().errors == []
    assert document.units == 4, "millimetres: $INSUNITS 4"
    layers = {entity.dxf.layer for entity in document.modelspace()}
    assert {"LENS", "RIM", "BOX", "CENTRE_LINE", "CENTRATION", "SEGMENT", "DIMENSIONS", "TEXT"} <= layers
    assert layers <= {layer.dxf.name for layer in document.layers}
    words = {entity.dxf.text for entity in document.modelspace().query("TEXT")}
    assert {"wearer's right (R)", "seen from the front", "48", "18", "36"} <= words


@pytest.mark.parametrize("make", MAKERS)
@pytest.mark.parametrize("name", HANDMADE)
def test_the_same_pair_gives_the_same_bytes(name: str, make) -> None:
    first, second = make(pair_of(name)), make(pair_of(name))
    assert to_svg(first) == to_svg(second)
    assert to_dxf(first) == to_dxf(second)


@pytest.mark.parametrize("number", [1, 2])
@pytest.mark.parametrize("make", MAKERS)
def test_a_drawing_is_true_to_size_and_needs_no_style(make, number: int) -> None:
    svg = to_svg(make(pair_of(number=number)))
    root = ElementTree.fromstring(svg)
    width, height = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    assert root.get("viewBox") == f"0 0 {width:g} {height:g}" or root.get("viewBox") == (
        f"0 0 {root.get('width')[:-2]} {root.get('height')[:-2]}"
    )
    assert "style" not in svg, "the content policy of the pages forbids styles"
    numbers = [float(one) for path in root.iter() for one in re.findall(r"-?\d+\.?\d*", path.get("d", ""))]
    assert numbers
    assert min(numbers) >= 0
    assert max(numbers) <= max(width, height)


def lens_paths(svg: str) -> list[np.ndarray]:
    root = ElementTree.fromstring(svg)
    group = next(one for one in root if one.get("data-layer") == "LENS")
    return [
        np.array([[float(one) for one in point.split(" ")] for point in path.get("d")[1:-1].split("L")])
        for path in group
    ]


@pytest.mark.parametrize("name", HANDMADE)
def test_page_and_paper_show_the_lenses_at_the_ordered_size(name: str) -> None:
    made = pair_of(name)
    right, left = lens_paths(to_svg(front_of(made)))
    sizes = (made.sheet.lens_width.known, made.sheet.lens_height.known)
    assert np.ptp(right, axis=0) == pytest.approx(sizes, abs=WITHIN_MM)
    assert left[:, 0].min() - right[:, 0].max() == pytest.approx(
        made.sheet.between_lenses.known, abs=WITHIN_MM
    )


def test_the_bench_view_is_the_front_turned_left_for_right_and_says_so() -> None:
    made = pair_of("patient_7")
    seen, turned = lens_paths(to_svg(front_of(made))), lens_paths(to_svg(front_of(made, bench_view=True)))
    width = float(ElementTree.fromstring(to_svg(front_of(made))).get("width")[:-2])
    assert len(turned) == len(seen)
    front, bench = front_of(made), front_of(made, bench_view=True)
    assert extent(bench.shapes).top == pytest.approx(extent(front.shapes).top)
    outlines = closed_outlines(to_dxf(front))["RIM"][0], closed_outlines(to_dxf(bench))["RIM"][0]
    mirrored = shapely.transform(outlines[0], lambda points: points * np.array([-1.0, 1.0]))
    assert mirrored.symmetric_difference(outlines[1]).area < 0.01
    assert outlines[0].symmetric_difference(outlines[1]).area > 1, "this nose is uneven"
    words = to_svg(bench)
    assert "BENCH VIEW, MIRRORED" in words
    assert "seen from the front" not in words
    assert words.index("wearer&apos;s right") if "&apos;" in words else "wearer's right (R)" in words
    assert width > 100


@pytest.mark.parametrize("name", HANDMADE)
def test_arc_and_flanks_of_the_bridge_touch_without_a_kink(name: str) -> None:
    """Tangent construction: at the point of touch the radius stands square on the flank."""
    fit = pair_of(name).bridge
    right, arc, left = section_lines(fit, 20.0)
    assert isinstance(arc, Arc)
    for flank, touch in ((right, right.end), (left, left.start)):
        along = np.subtract(flank.end, flank.start)
        radius = np.subtract(touch, arc.centre)
        assert np.hypot(*radius) == pytest.approx(fit.radius_mm)
        assert float(along @ radius) == pytest.approx(0, abs=1e-6)
    assert left.end[0] - right.start[0] == pytest.approx(
        fit.half_width("R", 20.0) + fit.half_width("L", 20.0)
    )


@pytest.mark.parametrize("side", ["R", "L"])
def test_a_side_s_straight_lines_have_the_ordered_lengths_and_angle(side) -> None:
    """demo/patient_7.json: length to tangent 101 and 98 less 10, drop 37, down 44 and 47 degrees."""
    values = side_values(pair_of("patient_7"), side)
    path = middle_line(values)
    bend = np.array([values.length_to_bend, 0.0])
    drop = np.subtract(path[-1], bend)
    assert values.length_to_bend == {"R": 91, "L": 88}[side]
    assert np.hypot(*drop) == pytest.approx(37)
    assert np.degrees(np.arctan2(-drop[1], drop[0])) == pytest.approx({"R": 44, "L": 47}[side])
    ways = [np.subtract(end, start) for start, end in pairwise(path)]
    turns = [
        abs(np.degrees(np.arctan2(*after[::-1]) - np.arctan2(*before[::-1])))
        for before, after in pairwise(ways)
    ]
    assert max(turns) < 5, "round the bend, never a corner"


def test_from_above_the_bends_are_the_ordered_head_width_apart() -> None:
    drawing = plan_of(pair_of())
    sides = [one for one in drawing.shapes if isinstance(one, Line) and one.layer.name == "SIDE"]
    bends = sorted(one.end for one in sides if one.start[1] == 10.0)
    assert bends[1][0] - bends[0][0] == pytest.approx(143), "148 less 5 for grip"
    joint = next(one.start for one in sides if one.end == bends[0])
    assert np.hypot(*np.subtract(bends[0], joint)) == pytest.approx(92), "length to bend"


def test_the_blank_covers_its_lens_and_the_edge_runs_all_round() -> None:
    made = pair_of("patient_2")
    drawing = lenses_of(made)
    blanks = [
        one for one in drawing.shapes if one.__class__.__name__ == "Circle" and one.layer.name == "BLANK"
    ]
    lenses = [one for one in drawing.shapes if isinstance(one, Polyline) and one.layer.name == "LENS"]
    strips = [one for one in drawing.shapes if isinstance(one, Polyline) and one.layer.name == "EDGE"]
    for blank, lens, strip, side in zip(blanks, lenses, strips, "RL", strict=True):
        from_centre = np.hypot(*(np.array(lens.points) - blank.centre).T)
        assert from_centre.max() < blank.radius
        body = made.lens(side).body
        around = shapely.Polygon(body.outline_mm).length
        assert np.ptp([x for x, _ in strip.points]) == pytest.approx(around, abs=WITHIN_MM)
        assert np.ptp([y for _, y in strip.points]) == pytest.approx(body.edge_thickest.known, abs=WITHIN_MM)


@pytest.mark.parametrize(
    ("make", "without", "parts", "named"),
    [
        (front_of, (), {"lens_width": None}, "Lens width"),
        (front_of, (), {"outline": None, "longest_diameter_mm": None}, "Lens shape or longest diameter"),
        (front_of, ("crest_height",), {}, "Crest height"),
        (bridge_of, ("bridge_width_15", "apical_radius"), {}, "Bridge width, 15 below crest"),
        (sides_of, ("length_to_tangent",), {}, "Length to tangent"),
        (plan_of, ("head_width",), {}, "Head width"),
        (lenses_of, (), {"index": None}, "Refractive index"),
        (lenses_of, ("pd_monocular",), {}, "Single-eye PD"),
    ],
)
def test_a_drawing_that_cannot_be_made_says_what_is_missing(make, without, parts, named: str) -> None:
    with pytest.raises(CannotDraw, match=re.escape(named)) as refused:
        make(pair_of(without=without, **parts))
    assert refused.value.missing


@pytest.mark.parametrize("side", ["R", "L"])
def test_a_side_without_a_drop_is_drawn_straight_and_says_so(side: str) -> None:
    words = to_svg(side_of(pair_of(without=("drop_length",)), side))
    assert "drop length not given" in words


def test_a_tracing_is_drawn_as_it_is() -> None:
    """A circle of 44 mm as 72 equal radii of 22.00 mm in the plain-number form of ISO 16284."""
    record = "TRCFMT=1;72;E;R;F\n" + "\n".join(f"R={';'.join(['2200'] * 12)}" for _ in range(6))
    made = pair_of(tracing=record, outline="as_traced", lens_width=44, lens_height=44)
    for lens in closed_outlines(to_dxf(front_of(made)))["LENS"]:
        radii = np.hypot(*(shapely.get_coordinates(lens.exterior) - lens.centroid.coords[0]).T)
        assert radii == pytest.approx(22.0, abs=0.05)
    assert "from the tracing" in to_svg(front_of(made))


def test_a_tracing_of_another_size_than_chosen_is_pointed_out() -> None:
    record = "TRCFMT=1;36;E;R;F\n" + "\n".join(f"R={';'.join(['2200'] * 12)}" for _ in range(3))
    assert "CHECK: the tracing measures 44.0 × 44.0" in to_svg(front_of(pair_of(tracing=record)))


@pytest.mark.parametrize(
    ("record", "words"),
    [
        ("TRCFMT=1;40;E;R;F\nR=2400;2400", "line 1: The header announces 40 radii, 2 came"),
        ("TRCFMT=1;4;E;R;F\nR=2400;2400\nR=2400;2400", "line 1: An outline needs at least 8 points"),
        ("TRCFMT=1;12;E;R;F\nR=2400;2400\nR=24o0", "line 3: A radius or angle is not a whole number"),
        (
            "TRCFMT=1;12;U;R;F\nR="
            + ";".join(["2400"] * 12)
            + "\nA=0;3000;9000;6000;12000;15000;18000;21000;24000;27000"
            ";30000;33000",
            "line 1: radius 4 is out of order",
        ),
    ],
)
def test_a_tracing_that_is_none_is_refused_with_its_line(record: str, words: str) -> None:
    for make in (front_of, lenses_of):
        with pytest.raises(CannotDraw, match=re.escape(words)):
            make(pair_of(tracing=record))


def test_the_number_and_place_of_a_paper_tracing_are_printed() -> None:
    words = to_svg(
        front_of(pair_of(tracing="T 114, drawer 3", choices={"wire_trace": "W 9, with the order"}))
    )
    assert "T 114, drawer 3" in words
    assert "W 9, with the order" in words
