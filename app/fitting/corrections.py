"""Corrections: a reading that takes the place of an earlier one in the same box, and of nothing else."""

from collections.abc import Sequence

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.fitting.file_value import FileValue
from app.fitting.reading import Reading

Box = tuple[str, Side | None, int | None, str | None]
"""Measurement, side, pair, and the method where each method has a box of its own."""


def box_of(measurement: str, side: Side | None, pair: int | None, method: str | None) -> Box:
    """Where a reading stands: a correction must stand in the same box as the reading that it replaces.

    >>> box_of("head_width", None, None, "caliper")
    ('head_width', None, None, None)
    """
    return measurement, side, pair, method if MEASUREMENTS[measurement].each_method else None


def refuse_wrong_corrections(readings: Sequence[Reading], places: Sequence[str]) -> None:
    """Refuse identities that are there twice, and corrections of anything but an earlier reading of the same box.

    `places` says where each reading stands in its file. Raises NotAFitting. Since a correction comes after what
    it corrects, none corrects itself and none go in a circle.
    """
    earlier: dict[str, Box] = {}
    for reading, place in zip(readings, places, strict=True):
        box = box_of(reading.measurement, reading.side, reading.pair, reading.method)
        if reading.replaces is not None:
            _refuse_wrong_correction(reading, box, earlier, FileValue(reading.replaces, f"{place}.replaces"))
        if reading.identity is not None:
            if reading.identity in earlier:
                raise FileValue(None, f"{place}.identity").refused("is there twice in the file")
            earlier[reading.identity] = box


def _refuse_wrong_correction(reading: Reading, box: Box, earlier: dict[str, Box], value: FileValue) -> None:
    if reading.replaces == reading.identity:
        raise value.refused("a reading cannot correct itself")
    if reading.replaces not in earlier:
        raise value.refused("no earlier reading of the file has that identity; a correction comes after it")
    if earlier[reading.replaces] != box:
        raise value.refused("names a reading of another measurement, side, pair or method")
