"""What an order for lenses must say besides powers and centration."""

from app.catalogue.choice import Choice

LENS: tuple[Choice, ...] = (
    Choice(
        key="lens_form",
        label="Lens form",
        options=(
            ("single_vision_distance", "Single vision, distance"),
            ("single_vision_near", "Single vision, near"),
            ("single_vision_intermediate", "Single vision, in between"),
            ("bifocal", "Bifocal"),
            ("trifocal", "Trifocal"),
            ("progressive", "Progressive"),
            ("degressive", "Degressive: near to in between"),
        ),
        on_order=True,
    ),
    Choice(
        key="segment_shape",
        label="Segment shape",
        options=(
            ("D", "D: straight top"),
            ("C", "C: curved top"),
            ("R", "R: round"),
            ("E", "E: right across"),
        ),
        on_order=True,
    ),
    Choice(
        key="segment_diameter", label="Segment diameter (mm)", hint="25, 28, 35 or 45 is usual", on_order=True
    ),
    Choice(
        key="lens_material",
        label="Lens material",
        options=(
            ("hard_resin", "Hard resin 1.50"),
            ("tough_resin", "Tough resin 1.53"),
            ("polycarbonate", "Polycarbonate 1.59"),
            ("resin_160", "Resin 1.60"),
            ("resin_167", "Resin 1.67"),
            ("resin_174", "Resin 1.74"),
            ("crown_glass", "Crown glass 1.523"),
            ("dense_glass", "High-index glass"),
        ),
        on_order=True,
    ),
    Choice(key="index", label="Refractive index", hint="1.50 to 1.90", on_order=True),
    Choice(
        key="impact_resistance",
        label="Impact resistance",
        options=(("ordinary", "Ordinary"), ("advised", "Advised and chosen"), ("required", "Required")),
        on_order=True,
        hint="One seeing eye, a child, or the work may ask for it.",
    ),
    Choice(
        key="coating",
        label="Coatings",
        options=(
            ("none", "None"),
            ("hard", "Hard"),
            ("anti_reflection", "Anti-reflection"),
            ("easy_clean", "Easy to clean"),
            ("ultraviolet", "Ultraviolet stop"),
        ),
        several=True,
        alone="none",
        on_order=True,
    ),
    Choice(
        key="tint",
        label="Tint",
        options=(
            ("none", "None"),
            ("full", "Full"),
            ("graded", "Graded"),
            ("photochromic", "Photochromic"),
            ("polarised", "Polarised"),
        ),
        on_order=True,
    ),
    Choice(
        key="tint_detail",
        label="Tint colour and depth",
        hint="Colour, % or category, sample or pair to match",
        on_order=True,
    ),
)

WORKING: tuple[Choice, ...] = (
    Choice(
        key="edge_finish",
        label="Edge",
        options=(
            ("usual", "Usual bevel"),
            ("front_third", "Bevel in the front third"),
            ("polished", "Polished"),
            ("groove", "Grooved for a cord"),
        ),
        on_order=True,
    ),
    Choice(
        key="glazing",
        label="Glazing",
        options=(
            ("enclosed_frame", "Glaze the frame enclosed"),
            ("edge_to_tracing", "Edge to the tracing"),
            ("uncut", "Send uncut"),
            ("dummy", "Dummy lenses for the fit-up"),
        ),
        on_order=True,
    ),
    Choice(
        key="thickness_limits",
        label="Thickness limits",
        hint="Least centre, greatest edge, mm",
        on_order=True,
    ),
    Choice(
        key="base_curve", label="Base curve wanted", hint="Match the other eye or the old pair", on_order=True
    ),
    Choice(key="blank_size", label="Blank", hint="Diameter, mm, where it matters", on_order=True),
    Choice(
        key="special_lens",
        label="Special",
        options=(
            ("none", "None"),
            ("bi_prism_right", "Bi-prism, right"),
            ("bi_prism_left", "Bi-prism, left"),
            ("dissimilar_segments", "Dissimilar segments"),
            ("balance_right", "Balance lens, right"),
            ("balance_left", "Balance lens, left"),
            ("frosted_right", "Frosted or occluded, right"),
            ("frosted_left", "Frosted or occluded, left"),
            ("prism_split", "Prism split between the eyes"),
            ("thinning_prism", "Thinning prism"),
        ),
        several=True,
        alone="none",
        on_order=True,
    ),
    Choice(
        key="special_detail",
        label="Special, in words",
        hint="Which eye, base, height of the line",
        on_order=True,
    ),
    Choice(key="note_to_lab", label="Note to the lens maker", hint="In your own words", on_order=True),
)

LENS_CHOICES: tuple[Choice, ...] = (*LENS, *WORKING)
"""Everything for the lenses of one pair."""
