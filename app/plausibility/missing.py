"""What is missing: readings that are wanted and have neither a value nor a reason."""

from collections.abc import Container, Iterator

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF
from app.catalogue.measurement import SIDES, Measurement, Side
from app.fitting.fitting import Fitting
from app.fitting.working import current_readings
from app.plausibility.finding import Subject

COVER_TEST = "cover_test"

Taken = set[tuple[str, Side | None, int | None]]


def missing_subjects(fitting: Fitting, left_out: Container[str] = ()) -> tuple[Subject, ...]:
    """Every part of the record that is wanted and has neither a value nor a reason.

    Wanted are the measurements of the face that are not optional, those of a frame that exists, the cover test at
    both distances, and a prescription for a pair that is to have lenses; nothing of the steps that the practice
    leaves out (`left_out`, keys of steps).
    """
    taken: Taken = {(one.measurement, one.side, one.pair) for one in current_readings(fitting)}
    excused: Taken = {(one.measurement, one.side, one.pair) for one in fitting.not_taken}
    known = taken | excused
    return (
        *(_missing_cover_test(fitting, excused) if COVER_TEST not in left_out else ()),
        *(subject for subject in _wanted(fitting, left_out) if not _known(subject, known)),
        *(_missing_prescription(fitting) if "prescription" not in left_out else ()),
    )


def _wanted(fitting: Fitting, left_out: Container[str]) -> Iterator[Subject]:
    for measurement in MEASUREMENTS.values():
        if measurement.optional or STEP_OF[measurement.key].key in left_out:
            continue
        if not measurement.off_pair:
            yield from _of(measurement, None)
            continue
        for pair in fitting.pairs:
            if pair.kind == "own_frame":
                yield from _of(measurement, pair.pair)


def _of(measurement: Measurement, pair: int | None) -> Iterator[Subject]:
    for side in SIDES if measurement.sides == "each" else (None,):
        yield Subject(measurement=measurement.key, side=side, pair=pair)


def _known(subject: Subject, known: Taken) -> bool:
    """A reason for the whole measurement covers both sides; one side is enough where sides are optional."""
    key, pair = subject.measurement, subject.pair
    if (key, subject.side, pair) in known or (key, None, pair) in known:
        return True
    either = MEASUREMENTS[key].sides == "either" or subject.side is None
    return either and any((key, side, pair) in known for side in SIDES)


def _missing_cover_test(fitting: Fitting, excused: Taken) -> Iterator[Subject]:
    for distance, part in (("distance", fitting.cover_test.distance), ("near", fitting.cover_test.near)):
        reasons = {(COVER_TEST, None, None), (f"{COVER_TEST}.{distance}", None, None)}
        if part is None and not reasons & excused:
            yield Subject(measurement=f"{COVER_TEST}.{distance}.finding")


def _missing_prescription(fitting: Fitting) -> Iterator[Subject]:
    for pair in fitting.pairs:
        if pair.lens_form is not None and fitting.prescription_for(pair) is None:
            yield Subject(measurement="prescription.R.sphere")
            return
