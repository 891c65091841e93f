"""The JSON Schema of an assessment: what was worked with, found, expected, and what the pairs are ordered with."""

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES
from app.fitting.field_paths import PAIR_NUMBERS
from app.fitting.schema_words import DIALECT, WORDS, Schema, closed_object, listed, one_of, or_null

ASSESSMENT_SCHEMA = "chair-to-bench/assessment/1"
SEVERITIES = ("note", "ask", "stop", "refer")
UNITS = ("mm", "cm", "deg")
ANY_NUMBER: Schema = {"type": "number"}
SIDE = or_null(one_of(SIDES))
LENS_LENGTHS = (
    *("centration", "near_centration", "decentration_in", "decentration_up", "smallest_blank"),
    *("centre_thickness", "edge_thickness_max", "edge_thickness_min", "weight_g", "segment_inset"),
    *("segment_top_above_centre_line", "prism_for_1mm"),
)
LENS_POWERS = ("power_at_worn_vertex", "worn_power")


def assessment_schema() -> Schema:
    """The schema of one assessment document."""
    return {
        "$schema": DIALECT,
        "$id": "/api/schema/assessment.json",
        "title": "What follows from one fitting",
        **closed_object(
            required={
                "schema": {"const": ASSESSMENT_SCHEMA},
                "working": listed(_working()),
                "findings": listed(_finding()),
                "expected": listed(_expected()),
                "pairs": listed(_pair()),
            },
            optional={"held_back": listed(_finding())},
        ),
    }


def _working() -> Schema:
    return closed_object(
        required={
            "measurement": one_of(MEASUREMENTS),
            "side": SIDE,
            "method": or_null(WORDS),
            "value": ANY_NUMBER,
            "unit": one_of(UNITS),
            "spread": {"type": "number", "minimum": 0},
            "from": {"type": "integer", "minimum": 1},
        },
        optional={
            "pair": one_of(PAIR_NUMBERS),
            "condition": WORDS,
            "state": one_of(("single", "agree", "third_needed", "median", "mean_of_closest")),
        },
    )


def _subject() -> Schema:
    return closed_object(
        required={"measurement": WORDS, "side": SIDE},
        optional={"pair": one_of(PAIR_NUMBERS), "method": WORDS},
    )


def _finding() -> Schema:
    correction = closed_object(
        required={"measurement": WORDS, "side": SIDE, "value": ANY_NUMBER},
        optional={"pair": one_of(PAIR_NUMBERS), "method": WORDS},
    )
    return closed_object(
        required={
            "check": WORDS,
            "severity": one_of(SEVERITIES),
            "about": listed(_subject()),
            "suspect": or_null(_subject()),
            "message": WORDS,
            "suggest": {"type": "string"},
            "source": {"type": "string"},
        },
        optional={
            "offers": listed(closed_object(required={"words": WORDS, "corrections": listed(correction)})),
            "held_back_by": WORDS,
        },
    )


def _expected() -> Schema:
    return closed_object(
        required={
            "measurement": one_of(MEASUREMENTS),
            "side": SIDE,
            "low": ANY_NUMBER,
            "mid": ANY_NUMBER,
            "high": ANY_NUMBER,
            "unit": one_of(UNITS),
            "level": {"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 1},
            "given": listed(WORDS),
        },
        optional={"deviation": ANY_NUMBER, "pair": one_of(PAIR_NUMBERS), "method": WORDS},
    )


def _pair() -> Schema:
    dimension = closed_object(
        required={
            "dimension": WORDS,
            "side": SIDE,
            "facial": or_null(ANY_NUMBER),
            "adjustment": or_null(ANY_NUMBER),
            "ordered": or_null(ANY_NUMBER),
            "unit": one_of(UNITS),
            "basis": WORDS,
        },
        optional={
            "uncertainty": ANY_NUMBER,
            "interval": {"type": "array", "items": ANY_NUMBER, "minItems": 2, "maxItems": 2},
            "dominated_by": WORDS,
            "words": WORDS,
            "missing": listed(WORDS),
        },
    )
    power = closed_object(required={"sphere": ANY_NUMBER, "cylinder": ANY_NUMBER, "axis": ANY_NUMBER})
    lens = closed_object(
        optional={
            **dict.fromkeys(LENS_LENGTHS, ANY_NUMBER),
            **dict.fromkeys(LENS_POWERS, power),
            "uncertainty": closed_object(optional=dict.fromkeys(LENS_LENGTHS, ANY_NUMBER)),
            "missing": closed_object(optional=dict.fromkeys((*LENS_LENGTHS, *LENS_POWERS), listed(WORDS))),
        }
    )
    return closed_object(
        required={
            "pair": one_of(PAIR_NUMBERS),
            "frame": listed(dimension),
            "lenses": closed_object(required=dict.fromkeys(SIDES, lens)),
        }
    )
