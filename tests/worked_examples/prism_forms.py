"""Adapters for prism: Prentice and its inverse, combining and splitting, near imbalance, image jump."""

from typing import Any

from app.optics.differential_prism import NearImbalance, NearPortion, near_imbalance
from app.optics.eye import Eye, nasal_sign
from app.optics.prentice import (
    decentration_for_prism,
    optical_centre_for_prism,
    prism_at_point,
    prism_by_decentration,
)
from app.optics.prescription_algebra import Power, vertical_power
from app.optics.prism import (
    NamedPrism,
    Prism,
    deviation_from_prism_dioptres,
    named_prism,
    prism_amount,
    prism_base,
    prism_dioptres_from_deviation,
    prism_from_base,
    prism_from_names,
    rebalanced,
    split_prism,
)
from app.optics.prism_at_eye import centration_shift_for_prism, effective_prism_at_near
from app.optics.segment import Segment, image_jump, segment_from_words, unequal_round_segments
from tests.worked_examples.forms import Answer, form

OPPOSITE = {"in": "out", "out": "in", "up": "down", "down": "up"}


def eye_of(letter: str) -> Eye:
    """R or L as the word that the application uses."""
    return "right" if letter.upper().startswith("R") else "left"


def in_words(eye: Eye, prism: Prism, prefix: str = "") -> dict[str, Any]:
    """Amounts and bases under the names of the worked examples."""
    named = named_prism(eye, prism)
    return {
        f"{prefix}horizontal_pd": named.horizontal_prism_dioptres,
        f"{prefix}horizontal_base": named.horizontal_base,
        f"{prefix}vertical_pd": named.vertical_prism_dioptres,
        f"{prefix}vertical_base": named.vertical_base,
    }


@form("prentice", "F_D", "decentration_mm")
def prentice(F_D: float, decentration_mm: float) -> Answer:
    return {"prism_pd": abs(prism_by_decentration(F_D, decentration_mm))}


@form("prentice", "eye", "sphere_D", "cyl_D", "axis_deg", "point_below_oc_mm", "point_in_from_oc_mm")
def prentice_toric(
    eye: str,
    sphere_D: float,
    cyl_D: float,
    axis_deg: float,
    point_below_oc_mm: float,
    point_in_from_oc_mm: float,
) -> Answer:
    point = (nasal_sign(eye_of(eye)) * point_in_from_oc_mm, -point_below_oc_mm)
    return in_words(eye_of(eye), prism_at_point(Power(sphere_D, cyl_D, axis_deg), point_mm=point))


@form("prentice", "sphere_D", "cyl_D", "axis_deg", "point_right_of_oc_mm", "point_above_oc_mm")
def prentice_toric_front_view(
    sphere_D: float, cyl_D: float, axis_deg: float, point_right_of_oc_mm: float, point_above_oc_mm: float
) -> Answer:
    point = (point_right_of_oc_mm, point_above_oc_mm)
    return in_words("right", prism_at_point(Power(sphere_D, cyl_D, axis_deg), point_mm=point))


@form("prentice_inverse", "F_D", "prism_pd", "base")
def prentice_inverse(F_D: float, prism_pd: float, base: str) -> Answer:
    move = decentration_for_prism(F_D, prism_pd)
    return {"decentration_mm": abs(move), "direction": base if move >= 0 else OPPOSITE[base]}


@form(
    "prentice_inverse",
    "eye",
    "sphere_D",
    "cyl_D",
    "axis_deg",
    "vertical_pd",
    "vertical_base",
    "horizontal_pd",
    "horizontal_base",
)
def prentice_inverse_toric(eye: str, sphere_D: float, cyl_D: float, axis_deg: float, **prism: Any) -> Answer:
    side = eye_of(eye)
    wanted = prism_from_names(side, named(prism))
    x_mm, y_mm = optical_centre_for_prism(Power(sphere_D, cyl_D, axis_deg), wanted)
    return {"oc_up_mm": y_mm, "oc_out_mm": -nasal_sign(side) * x_mm}


def named(prism: dict[str, Any]) -> NamedPrism:
    """The prism of a case's inputs."""
    return NamedPrism(
        prism["horizontal_pd"], prism["horizontal_base"], prism["vertical_pd"], prism["vertical_base"]
    )


@form("prism_combine", "eye", "horizontal_pd", "horizontal_base", "vertical_pd", "vertical_base")
def combine(eye: str, **prism: Any) -> Answer:
    total = prism_from_names(eye_of(eye), named(prism))
    return {"prism_pd": prism_amount(total), "base_deg_360": prism_base(total)}


@form("prism_resolve", "eye", "prism_pd", "base_deg_360")
def resolve(eye: str, prism_pd: float, base_deg_360: float) -> Answer:
    return in_words(eye_of(eye), prism_from_base(amount_prism_dioptres=prism_pd, base_deg=base_deg_360))


@form("prism_split", "total_vertical_pd", "total_vertical", "total_horizontal_pd", "horizontal")
def split(
    total_vertical_pd: float, total_vertical: str, total_horizontal_pd: float, horizontal: str
) -> Answer:
    written_for = eye_of(total_vertical.split()[0])
    total = prism_from_names(
        written_for,
        NamedPrism(total_horizontal_pd, last_word(horizontal), total_vertical_pd, last_word(total_vertical)),
    )
    written, fellow = split_prism(total)
    right, left = (written, fellow) if written_for == "right" else (fellow, written)
    return {**in_words("right", right, "r_"), **in_words("left", left, "l_")}


def last_word(words: str) -> Any:
    """The base at the end of words such as "R base up"."""
    return words.split()[-1]


@form("prism_split", "r_vertical", "l_vertical")
def split_again(r_vertical: str, l_vertical: str) -> Answer:
    amounts = (float(words.split()[0]) for words in (r_vertical, l_vertical))
    signs = (1 if last_word(words) == "up" else -1 for words in (r_vertical, l_vertical))
    right, left = (Prism(0.0, sign * amount) for sign, amount in zip(signs, amounts, strict=True))
    right, left = rebalanced(right=right, left=left)
    return {**in_words("right", right, "r_"), **in_words("left", left, "l_")}


@form("prism_units", "deviation_deg")
def units(deviation_deg: float) -> Answer:
    return {"prism_pd": prism_dioptres_from_deviation(deviation_deg)}


@form("prism_units", "prism_pd")
def units_back(prism_pd: float) -> Answer:
    return {"deviation_deg": deviation_from_prism_dioptres(prism_pd)}


@form(
    "prism_effective_near",
    "prism_pd",
    "distance_lens_to_centre_of_rotation_mm",
    "object_distance_from_lens_mm",
)
def effective(
    prism_pd: float, distance_lens_to_centre_of_rotation_mm: float, object_distance_from_lens_mm: float
) -> Answer:
    found = effective_prism_at_near(
        prism_dioptres=prism_pd,
        object_from_lens_mm=object_distance_from_lens_mm,
        lens_to_rotation_centre_mm=distance_lens_to_centre_of_rotation_mm,
    )
    return {"effective_pd": found}


@form("prism_centration", "prism_pd", "base", "s_mm")
def centration(prism_pd: float, base: str, s_mm: float) -> Answer:
    right, up = {"in": (1, 0), "out": (-1, 0), "up": (0, 1), "down": (0, -1)}[base]
    x_mm, y_mm = centration_shift_for_prism(Prism(right * prism_pd, up * prism_pd), s_mm)
    along = {"in": x_mm, "out": -x_mm, "up": y_mm, "down": -y_mm}
    direction = max(along, key=lambda word: along[word])
    return {"oc_shift_mm": along[direction], "direction": direction}


def as_answer(found: NearImbalance) -> Answer:
    """Sizes and bases of the vertical prism of both eyes, and the size of their difference."""
    right, left = found.right_prism_dioptres, found.left_prism_dioptres
    return {
        "r_vertical_pd": abs(right),
        "l_vertical_pd": abs(left),
        "r_net_pd": abs(right),
        "l_net_pd": abs(left),
        "r_base": "up" if right >= 0 else "down",
        "l_base": "up" if left >= 0 else "down",
        "differential_vertical_pd": abs(found.difference_prism_dioptres),
    }


@form("differential_prism", "r", "l", "point_below_oc_mm")
def imbalance_of_distance_powers(r: list[float], l: list[float], point_below_oc_mm: float) -> Answer:  # noqa: E741
    right, left = Power(*r), Power(*l)
    found = near_imbalance(right=right, left=left, level_mm=point_below_oc_mm)
    powers = {"r_vertical_power_D": vertical_power(right), "l_vertical_power_D": vertical_power(left)}
    return {**as_answer(found), **powers}


@form("differential_prism", "r", "l", "point_below_oc_mm", "identical_segments")
def imbalance_with_equal_segments(identical_segments: bool, **inputs: Any) -> Answer:
    assert identical_segments, "which segments?"
    return imbalance_of_distance_powers(**inputs)


@form(
    "differential_prism",
    "r",
    "l",
    "add_D",
    "point_below_doc_mm",
    "seg_tops_below_doc_mm",
    "r_seg",
    "l_seg",
)
def imbalance_with_unlike_segments(**case: Any) -> Answer:
    tops, addition = case["seg_tops_below_doc_mm"], case["add_D"]
    right, left = (NearPortion(segment_from_words(case[seg]), addition, tops) for seg in ("r_seg", "l_seg"))
    found = near_imbalance(
        right=Power(*case["r"]),
        left=Power(*case["l"]),
        level_mm=case["point_below_doc_mm"],
        right_portion=right,
        left_portion=left,
    )
    return as_answer(found)


@form("differential_prism", "r", "l", "add_D", "point_below_doc_mm", "point_above_seg_oc_mm")
def imbalance_above_segment_centre(**case: Any) -> Answer:
    level = case["point_below_doc_mm"]
    centre_on_top = Segment("any", 0.0)
    portion = NearPortion(centre_on_top, case["add_D"], level + case["point_above_seg_oc_mm"])
    found = near_imbalance(
        right=Power(*case["r"]),
        left=Power(*case["l"]),
        level_mm=level,
        right_portion=portion,
        left_portion=portion,
    )
    return as_answer(found)


@form(
    "differential_prism",
    "r",
    "l",
    "add_r_D",
    "add_l_D",
    "segment",
    "seg_top_below_doc_mm",
    "reading_level_below_doc_mm",
)
def imbalance_with_unequal_additions(**case: Any) -> Answer:
    segment, top = segment_from_words(case["segment"]), case["seg_top_below_doc_mm"]
    found = near_imbalance(
        right=Power(*case["r"]),
        left=Power(*case["l"]),
        level_mm=case["reading_level_below_doc_mm"],
        right_portion=NearPortion(segment, case["add_r_D"], top),
        left_portion=NearPortion(segment, case["add_l_D"], top),
    )
    return as_answer(found)


@form("unequal_segments", "differential_pd", "add_D", "nominal_segment_diameter_mm")
def unequal(differential_pd: float, add_D: float, nominal_segment_diameter_mm: float) -> Answer:
    smaller, larger = unequal_round_segments(
        imbalance_prism_dioptres=differential_pd,
        addition_d=add_D,
        nominal_diameter_mm=nominal_segment_diameter_mm,
    )
    right, left = (smaller, larger) if differential_pd >= 0 else (larger, smaller)
    shift = (larger - smaller) / 4
    return {"shift_each_mm": shift, "r_segment_diameter_mm": right, "l_segment_diameter_mm": left}


@form("image_jump", "segment", "seg_top_to_seg_oc_mm", "add_D")
def jump(segment: str, seg_top_to_seg_oc_mm: float, add_D: float) -> Answer:
    found = image_jump(segment=Segment(segment, seg_top_to_seg_oc_mm), addition_d=add_D)
    return {"jump_pd": found, "base": "down"}
