"""The JSON Schemas of the fitting file and of the assessment, made from the catalogue."""

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.choice import Choice
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import SIDES, Measurement
from app.catalogue.reasons import REASONS
from app.fitting.assessment_schema import assessment_schema as assessment_schema
from app.fitting.details import (
    COVER_DETAILS,
    EYE_DETAILS,
    PAIR_DETAILS,
    PRESCRIPTION_DETAILS,
    PRISM_DETAILS,
    SEGMENT_DETAILS,
    TAKEN_DETAILS,
)
from app.fitting.entry import UNITS_ENTERED, greatest_number_entered
from app.fitting.field_paths import DISTANCES, HISTORY_QUESTIONS, MOST_PRISMS, PAIR_NUMBERS, PAIR_QUESTIONS
from app.fitting.file_readings import READING_WORDS, ROLES, SOURCES
from app.fitting.file_value import LONGEST_REFERENCE
from app.fitting.fitting_file import FITTING_SCHEMA, SEXES
from app.fitting.schema_words import (
    DAY,
    DIALECT,
    FLAG,
    MOMENT,
    NAME,
    NOTHING,
    WORDS,
    Schema,
    any_case,
    closed_object,
    described,
    listed,
    of_details,
    of_question,
    one_of,
    or_null,
)
from app.fitting.written_number import UNIT_SPELLINGS

REFERENCE: Schema = WORDS | {"maxLength": LONGEST_REFERENCE}
PLAIN_NUMBER = r"([0-9]+ [0-9]+/[1-9][0-9]*|[0-9]+/[1-9][0-9]*|[0-9]+([.,][0-9]+)?|[.,][0-9]+)"


def fitting_schema() -> Schema:
    """The schema of the fitting file.

    It is as strict as the reader but for what a schema cannot say well: more than four decimals, an inch fraction
    finer than 1/16, a sign that contradicts its word, a text that contradicts its value, a correction of another
    box, and a key, a pair or an identity that is there twice.
    """
    return {
        "$schema": DIALECT,
        "$id": "/api/schema/fitting.json",
        "title": "One fitting",
        **closed_object(
            required={
                "schema": {"const": FITTING_SCHEMA},
                "person": _person(),
                "taken": _taken(),
                "readings": listed({"$ref": "#/$defs/face_reading"}),
            },
            optional={
                "history": closed_object(optional=_questions(HISTORY_QUESTIONS)),
                "not_taken": listed({"$ref": "#/$defs/not_taken"}),
                "cover_test": closed_object(optional=dict.fromkeys(DISTANCES, _cover_finding())),
                "prescription": {"$ref": "#/$defs/prescription"},
                "pairs": listed({"$ref": "#/$defs/pair"}),
            },
        ),
        "$defs": {
            "face_reading": _reading(on_pair=False),
            "pair_reading": _reading(on_pair=True),
            "not_taken": _not_taken(),
            "prescription": _prescription(),
            "pair": _pair(),
        },
    }


def value_pattern(measurement: Measurement) -> str:
    """The pattern of a value given as text, in plain characters; the reader also takes full-width ones."""
    allowed = UNITS_ENTERED[measurement.unit]
    units = "|".join(any_case(spelling) for spelling, unit in UNIT_SPELLINGS.items() if unit in allowed)
    sign = "[-+−]?" if measurement.signed else r"\+?"
    number = rf"{sign}\s*{PLAIN_NUMBER}\s*({units})?"
    words = measurement.sign_words
    if words is None:
        return rf"^\s*{number}\s*$"
    ways = "|".join(map(any_case, (words.plus, *words.plus_also, words.minus, *words.minus_also)))
    level = "|".join(map(any_case, (words.level, *words.level_also)))
    return rf"^\s*(({ways})?\s*{number}|{number}\s*({ways})|{level})\s*$"


def _questions(questions: dict[str, Choice]) -> dict[str, Schema]:
    return {key: of_question(choice) for key, choice in questions.items()}


def _person() -> Schema:
    return closed_object(
        required={"reference": described(REFERENCE, "How the practice knows the person; no name")},
        optional={"born": DAY, "sex": one_of(SEXES), "registered_sight_impaired": FLAG},
    )


def _taken() -> Schema:
    return closed_object(
        required={"on": DAY},
        optional={"by": NAME, "role": one_of(ROLES), "from_paper": FLAG, **of_details(TAKEN_DETAILS)},
    )


def _cover_finding() -> Schema:
    details = of_details(COVER_DETAILS)
    return closed_object(required={"finding": details.pop("finding")}, optional=details)


def _prescription() -> Schema:
    eye = of_details(EYE_DETAILS)
    prism = of_details(PRISM_DETAILS)
    prisms = closed_object(required={"amount": prism.pop("amount")}, optional=prism)
    one_eye = closed_object(
        required={"sphere": eye.pop("sphere")}, optional=eye | {"prism": listed(prisms, most=MOST_PRISMS)}
    )
    return closed_object(optional=of_details(PRESCRIPTION_DETAILS) | dict.fromkeys(SIDES, one_eye))


def _pair() -> Schema:
    return closed_object(
        required={"pair": one_of(PAIR_NUMBERS)},
        optional={
            **of_details(PAIR_DETAILS),
            "segment": closed_object(required=of_details(SEGMENT_DETAILS)),
            "prescription": {"$ref": "#/$defs/prescription"},
            "choices": closed_object(optional=_questions(PAIR_QUESTIONS)),
            "readings": listed({"$ref": "#/$defs/pair_reading"}),
        },
    )


def _not_taken() -> Schema:
    return closed_object(
        required={"measurement": one_of(MEASUREMENTS), "reason": one_of(REASONS)},
        optional={
            "side": one_of(SIDES),
            "pair": one_of(PAIR_NUMBERS),
            "detail": WORDS,
            "by": NAME,
            "at": MOMENT,
        },
    )


def _reading(*, on_pair: bool) -> Schema:
    known = [measurement for measurement in MEASUREMENTS.values() if measurement.off_pair == on_pair]
    error = closed_object(required={"by": NAME, "at": MOMENT, "reason": WORDS})
    members = closed_object(
        required={
            "measurement": one_of(measurement.key for measurement in known),
            "value": {"type": ["number", "string"]},
        },
        optional={
            **{key: WORDS | {"maxLength": longest} for key, longest in READING_WORDS.items()},
            "side": one_of(SIDES),
            "method": WORDS,
            "condition": one_of(CONDITIONS),
            "unit": WORDS,
            "role": one_of(ROLES),
            "at": MOMENT,
            "source": one_of(SOURCES),
            "proposed": FLAG,
            "entered_in_error": error,
        },
    )
    return members | {"allOf": [_of_measurement(measurement) for measurement in known]}


def _of_measurement(measurement: Measurement) -> Schema:
    methods = [method.key for method in measurement.methods]
    most = greatest_number_entered(measurement)
    number = {"type": "number", "minimum": -most if measurement.signed else 0, "maximum": most}
    text = {"type": "string", "pattern": value_pattern(measurement)}
    sides = {"one": NOTHING, "each": one_of(SIDES), "either": or_null(one_of(SIDES))}
    return {
        "if": {"properties": {"measurement": {"const": measurement.key}}},
        "then": {
            "title": measurement.label,
            "properties": {
                "value": described({"anyOf": [number, text]}, f"{measurement.unit} unless a unit is given"),
                "side": sides[measurement.sides],
                "method": or_null(one_of(methods)) if methods else NOTHING,
                "unit": or_null(one_of(UNITS_ENTERED[measurement.unit])),
            },
            "required": ["side"] if measurement.sides == "each" else [],
        },
    }
