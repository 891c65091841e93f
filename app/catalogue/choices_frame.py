"""What an order for a handmade frame must say besides its measures."""

from app.catalogue.choice import Choice
from app.catalogue.choices_person import YES_NO

ORDER_HEAD: tuple[Choice, ...] = (
    Choice(
        key="kind",
        label="Frame",
        options=(("handmade", "Handmade"), ("own_frame", "Patient's own frame")),
        on_order=True,
        required=True,
    ),
    Choice(
        key="use",
        label="Use",
        options=(
            ("distance", "Distance"),
            ("near", "Near"),
            ("intermediate", "In between"),
            ("general", "Distance and near"),
            ("work", "Work"),
            ("sport", "Sport"),
        ),
        on_order=True,
    ),
    Choice(
        key="route",
        label="Route",
        options=(
            ("fit_up", "Frame back for a fit-up, then glazed"),
            ("straight_through", "Made and glazed in one go"),
        ),
        on_order=True,
        hint="Heights can only be measured once the frame exists.",
    ),
    Choice(
        key="order_type",
        label="Order",
        options=(("new", "New"), ("remake", "Remake"), ("repair", "Repair")),
        on_order=True,
    ),
    Choice(key="remake_of", label="Remake of which order, and why", on_order=True),
    Choice(key="needed_by", label="Needed by", hint="A date, such as 14 Nov 2026", date=True, on_order=True),
)

MATERIAL: tuple[Choice, ...] = (
    Choice(
        key="material",
        label="Material",
        options=(
            ("acetate", "Acetate sheet"),
            ("horn", "Horn"),
            ("wood", "Wood"),
            ("metal", "Metal"),
            ("plant_based", "Other plant-based sheet"),
            ("other", "Other"),
        ),
        on_order=True,
    ),
    Choice(key="sheet_mm", label="Sheet, front (mm)", hint="4, 5, 6 or 8 is usual", on_order=True),
    Choice(key="side_sheet_mm", label="Sheet, sides (mm)", hint="3 to 4 is usual", on_order=True),
    Choice(
        key="bridge_build",
        label="Bridge",
        options=(("from_sheet", "Cut from the sheet"), ("built_up", "Built up with a block")),
        on_order=True,
        hint="A deep inset or projection needs a thicker sheet or a block.",
    ),
    Choice(key="colour_front", label="Colour, front", hint="Code of the sheet", on_order=True),
    Choice(key="colour_sides", label="Colour, sides", hint="Code, or same", on_order=True),
    Choice(
        key="colour_sample",
        label="Colour sample",
        options=(("attached", "Attached"), ("held", "Held by the bench"), ("none", "None")),
        on_order=True,
        hint="A bench cannot match a word.",
    ),
    Choice(key="pattern_direction", label="Pattern runs", hint="Across, upright, mirrored", on_order=True),
    Choice(key="finish", label="Finish", options=(("polished", "Polished"), ("matt", "Matt")), on_order=True),
    Choice(key="second_choice", label="Second choice", hint="If the sheet is not to be had", on_order=True),
)

FRONT: tuple[Choice, ...] = (
    Choice(
        key="outline",
        label="Shape",
        options=(
            ("round", "Round"),
            ("oval", "Oval"),
            ("panto", "Round oval, flattened top (panto)"),
            ("square", "Square"),
            ("rectangle", "Oblong"),
            ("octagonal", "Octagonal"),
            ("upswept", "Upswept"),
            ("pilot", "Drop shape (pilot)"),
            ("as_traced", "As the tracing"),
        ),
        on_order=True,
    ),
    Choice(
        key="tracing",
        label="Tracing reference",
        hint="Number of the tracing: inside and outside, centre line and nasal side marked",
        on_order=True,
    ),
    Choice(
        key="bridge_style",
        label="Bridge",
        options=(
            ("regular", "Regular: rests all round"),
            ("pad", "Fixed pads"),
            ("pads_on_arms", "Pads on arms"),
            ("saddle", "Saddle"),
            ("keyhole", "Keyhole: clear of the crest"),
            ("inset_saddle", "Inset (W) bridge"),
        ),
        on_order=True,
    ),
    Choice(key="pad_shape", label="Pads: shape and size", hint="Length × width, mm", on_order=True),
    Choice(
        key="pad_centres",
        label="Pads: place",
        hint="Separation of centres, height from the centre line, set-back, mm",
        on_order=True,
    ),
    Choice(key="pad_material", label="Pads: material", on_order=True),
    Choice(
        key="rim_width_mm",
        label="Rim width (mm)",
        hint="From the lens outline outwards; 4 is usual in sheet",
        on_order=True,
    ),
    Choice(
        key="lug_width_mm",
        label="Lug width, each side (mm)",
        hint="From lens box to joint; 8 is usual",
        on_order=True,
    ),
    Choice(
        key="joint_type",
        label="Joint",
        options=(
            ("three_barrel", "3 barrels"),
            ("five_barrel", "5 barrels"),
            ("seven_barrel", "7 barrels"),
            ("sprung", "Sprung"),
        ),
        on_order=True,
    ),
    Choice(
        key="joint_fixing",
        label="Joint is",
        options=(("riveted", "Riveted"), ("heat_sunk", "Heat-sunk"), ("screwed", "Screwed")),
        on_order=True,
    ),
    Choice(
        key="joint_place",
        label="Joint stands",
        options=(("high", "High"), ("mid", "Between"), ("centre_line", "On the centre line")),
        hint="Its height in mm is read off the pair, or agreed.",
        on_order=True,
    ),
    Choice(
        key="front_curve",
        label="Front curve",
        options=(
            ("flat", "Flat"),
            ("lens_curve", "To match the base curve"),
            ("degrees", "As the face-form angle"),
        ),
        on_order=True,
    ),
    Choice(
        key="look_level",
        label="What should look level",
        options=(("brows", "Brows"), ("pupils", "Pupils"), ("centre_line", "The centre line of the front")),
        on_order=True,
        hint="When the face is uneven.",
    ),
    Choice(
        key="centred_on",
        label="Front centred on",
        options=(("eyes", "The eyes"), ("nose", "The nose")),
        on_order=True,
        hint="When the nose is off centre.",
    ),
    Choice(key="wire_trace", label="Wire trace reference", hint="Number, and where it lies", on_order=True),
)

SIDES_AND_EXTRAS: tuple[Choice, ...] = (
    Choice(
        key="side_style",
        label="Sides",
        options=(
            ("drop_end", "Drop end"),
            ("curl", "Curl"),
            ("straight", "Straight"),
            ("loop_end", "Loop end"),
            ("strap", "Strap or bow"),
        ),
        on_order=True,
    ),
    Choice(
        key="side_taper", label="Taper", options=(("plain", "Plain"), ("tapered", "Tapered")), on_order=True
    ),
    Choice(
        key="side_core", label="Core", options=(("cored", "Cored"), ("uncored", "Uncored")), on_order=True
    ),
    Choice(
        key="side_section",
        label="Side width and thickness",
        hint="At the joint and at the tip, mm",
        on_order=True,
    ),
    Choice(
        key="tip_shape",
        label="Tip",
        options=(("paddle", "Paddle"), ("skull", "Skull"), ("slim", "Slim")),
        on_order=True,
    ),
    Choice(
        key="drop_finish",
        label="Drop",
        options=(("finished", "Finished by the bench"), ("left_long", "Left long for fitting")),
        on_order=True,
        hint="Left long where a hearing aid or healing skin decides.",
    ),
    Choice(key="engraving", label="Engraving", hint="Inside the side: size, initials", on_order=True),
    Choice(
        key="extras",
        label="Extras",
        options=(
            ("none", "None"),
            ("lid_crutch_right", "Lid crutch, right"),
            ("lid_crutch_left", "Lid crutch, left"),
            ("side_shields", "Side shields"),
            ("nose_extension", "Nose extension"),
            ("strap", "Strap"),
            ("clip", "Clip"),
        ),
        several=True,
        alone="none",
        on_order=True,
    ),
    Choice(
        key="difference_meant",
        label="Right and left differ on purpose",
        options=YES_NO,
        on_order=True,
        hint="Printed on the sheet, so that the bench need not ask.",
    ),
    Choice(
        key="tolerance_note",
        label="Tolerances agreed with the maker",
        hint="A handmade frame is made to what you agree.",
        on_order=True,
    ),
    Choice(key="note_to_bench", label="Note to the bench", hint="In your own words", on_order=True),
)

FRAME_CHOICES: tuple[Choice, ...] = (*ORDER_HEAD, *MATERIAL, *FRONT, *SIDES_AND_EXTRAS)
"""Everything for a handmade frame."""

OWN_FRAME_CHOICES: tuple[Choice, ...] = (
    Choice(
        key="trued_first",
        label="Trued up before measuring",
        options=YES_NO,
        hint="Then any tilt left on the face belongs to the face.",
    ),
    Choice(key="stamped_size", label="Stamped size", hint="As marked: it can be wrong", on_order=True),
    Choice(
        key="frame_condition",
        label="State of the frame",
        options=(("sound", "Sound"), ("worn", "Worn"), ("brittle", "Brittle"), ("repaired", "Repaired")),
        on_order=True,
        hint="Tell the patient before glazing.",
    ),
)
"""Only for a frame that the patient brings."""
