"""The instruments, named neutrally, with what each reads to and how it is looked after."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """A kind of tool. A practice's own tool is a name typed with the reading."""

    key: str
    label: str
    what: str
    reads_to: str
    care: str
    day_start_check: str = ""


INSTRUMENTS: dict[str, Instrument] = {
    instrument.key: instrument
    for instrument in (
        Instrument(
            key="rule",
            label="Rule",
            what="A flat millimetre rule with smooth ends, one edge in half millimetres.",
            reads_to="0.5 to 1 mm",
            care=(
                "Look for a worn scale. Know whether its zero lies at the very end. Edge parallel to the"
                " face."
            ),
            day_start_check="Lay it against a second rule.",
        ),
        Instrument(
            key="caliper",
            label="Caliper",
            what="A small sliding tool with rounded tips.",
            reads_to="0.5 mm; a tenth on the display is more than a nose can give",
            care="Rounded tips only. Read on the right pair of faces: inside or outside.",
            day_start_check="Close it and see that it reads zero.",
        ),
        Instrument(
            key="wide_caliper",
            label="Wide caliper",
            what="A bow or long sliding tool with rounded ends for the head.",
            reads_to="1 mm",
            care="Lock it before lifting it off. Never carry it open.",
            day_start_check="Close it and see that it reads zero.",
        ),
        Instrument(
            key="bridge_gauge",
            label="Stepped bridge gauge",
            what="Notches or trial fronts of known width.",
            reads_to="1 mm",
            care="Clean between patients. Good for children who will not keep still.",
        ),
        Instrument(
            key="protractor",
            label="Protractor scale",
            what="A flat or hinged scale of degrees.",
            reads_to="1° shown, 2° to 3° real",
            care="Mark on it which way is zero.",
        ),
        Instrument(
            key="trial_disc",
            label="Trial disc",
            what="Discs of known radius on a handle.",
            reads_to="0.5 to 1 mm of radius",
            care="Marked in radius, not diameter. Cover or clean between patients.",
        ),
        Instrument(
            key="depth_gauge",
            label="Depth gauge",
            what="A small slide with a foot.",
            reads_to="0.5 mm",
            care="The foot rests on the brow. It never points at the eye.",
        ),
        Instrument(
            key="tape",
            label="Tape",
            what="A soft tape that does not stretch.",
            reads_to="1 mm",
            care="Wipe it or use paper tape.",
            day_start_check="Lay it against the rule once a month: tapes stretch.",
        ),
        Instrument(
            key="soft_wire",
            label="Soft wire",
            what="Covered soft wire that keeps the shape it is pressed to.",
            reads_to="a trace",
            care="A fresh cover for each patient. Trace it at once, before it is bent.",
        ),
        Instrument(
            key="pupil_gauge",
            label="Corneal-reflection pupil gauge",
            what="Held to the brow; reads to the light reflex, each eye with the other shut off.",
            reads_to="0.5 mm",
            care="Forehead bar in even contact, or the two single-eye values shift against each other.",
            day_start_check="Read its test block.",
        ),
        Instrument(
            key="pupil_scale",
            label="Pupil scale",
            what="A row of filled half circles of known diameter.",
            reads_to="0.5 mm",
            care="Held beside the eye, never in front of it.",
        ),
        Instrument(
            key="vertex_gauge",
            label="Closed-lid vertex gauge",
            what="A slim tool used over the closed lid, or a side rule.",
            reads_to="1 mm",
            care="Say which thickness of lid it allows for.",
        ),
        Instrument(
            key="cover_paddle",
            label="Cover paddle",
            what="An opaque or frosted cover for one eye.",
            reads_to="nothing: it covers",
            care="Wipe it between patients.",
        ),
        Instrument(
            key="near_target",
            label="Near target",
            what="Letters or a picture at the working distance.",
            reads_to="nothing: it is looked at",
            care="Keep a picture or toy for children.",
        ),
        Instrument(
            key="worn_pair",
            label="The worn pair",
            what="A pair that fits, used to read a value that cannot be taken on the face.",
            reads_to="as the tool used on it",
            care="True it up first, and write that the value is estimated.",
        ),
        Instrument(
            key="trace_board",
            label="Trace board",
            what="Card and pen with the horizontal centre line printed.",
            reads_to="0.5 mm",
            care="Mark the nasal side on every trace.",
        ),
    )
}
