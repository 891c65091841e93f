"""Where the checks of bridge and lashes speak, and where they are silent, at their limits and beside them."""

from app.plausibility.finding import Severity
from tests.plausibility.case import case, handmade

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER

FIRES = {
    # “DBR10 must be less than DBR15”: teaching notes, knowt.com 9b6d31fb; 20 and 18 in the worked set of this rule.
    "bridge-widths-order": (
        (STOP, case(bridge_width_10=20, bridge_width_15=18)),
        (ASK, case(bridge_width_10=20, bridge_width_15=20)),
    ),
    # arctan((22 − 18) / 10) = 21.80°: plane geometry, recomputed by hand.
    "frontal-angle-widths": (
        (NOTE, case(bridge_width_10=18, bridge_width_15=22, frontal_angle=(27, 27))),
        (ASK, case(bridge_width_10=18, bridge_width_15=22, frontal_angle=(30, 30))),
        (ASK, case(bridge_width_10=18, bridge_width_15=22, frontal_angle=(44, 44))),
    ),
    # 18 wide with flanks at 21.80° implies a radius of 7.385: geometry of an arc tangent to both flanks.
    "radius-widths": (
        (NOTE, case(bridge_width_10=18, frontal_angle=(21.8014, 21.8014), apical_radius=10.5)),
        (ASK, case(bridge_width_10=18, frontal_angle=(21.8014, 21.8014), apical_radius=13.5)),
        # a diameter: half of it is the radius that is implied
        (ASK, case(bridge_width_10=17.5, frontal_angle=(21.8014, 21.8014), apical_radius=12.5)),
    ),
    "frontal-angle-sides": (
        (NOTE, case(frontal_angle=(20, 24.5))),
        (ASK, case(frontal_angle=(19, 28))),
    ),
    "splay-angle-sides": (
        (NOTE, case(splay_angle=(25, 30))),
        (ASK, case(splay_angle=(24, 34))),
    ),
    "projection-crest": (
        (ASK, case(bridge_projection=-0.5, crest_height=8.5)),
        (ASK, case(bridge_projection=4.5, crest_height=1.5)),
        (ASK, case(bridge_projection=4.5, crest_height=(1, 2))),
    ),
    "bridge-style-projection": (
        (ASK, case(bridge_projection=1.5, pairs=(handmade(bridge_style="inset_saddle"),))),
        (ASK, case(bridge_projection=3, pairs=(handmade(bridge_style="inset_saddle"),))),
    ),
    "sheet-projection": (
        (ASK, case(bridge_projection=-3, pairs=(handmade(sheet_mm=6),))),
        (ASK, case(bridge_projection=6, pairs=(handmade(sheet_mm=6),))),
    ),
    "keyhole-flat-nose": (
        (NOTE, case(bridge_projection=0, crest_height=2, pairs=(handmade(bridge_style="keyhole"),))),
    ),
    "pads-without-place": ((ASK, case(pairs=(handmade(bridge_style="pads_on_arms"),))),),
    "lash-room": (
        (NOTE, case(lash_projection=(7, 7), pairs=(handmade(vertex_mm=13.5),))),
        (ASK, case(lash_projection=(9, 9), pairs=(handmade(vertex_mm=10.5),))),
        (STOP, case(lash_projection=(9, 8), pairs=(handmade(vertex_mm=9.5),))),
    ),
    # Nobody of 1,063 adults differed by more than 2 mm: exophthalmometry in Tehran, PMID 18832980.
    "lash-projection-sides": (
        (NOTE, case(lash_projection=(9, 10))),
        (REFER, case(lash_projection=(9, 11))),
    ),
    "lashes-touch": ((ASK, case(history={"blink": "touch"})),),
}

QUIET = {
    "bridge-widths-order": (case(bridge_width_10=20, bridge_width_15=20.5), case(bridge_width_15=18)),
    "frontal-angle-widths": (
        case(bridge_width_10=18, bridge_width_15=22, frontal_angle=(26.8, 26.8)),
        case(bridge_width_10=18, bridge_width_15=22),
    ),
    "radius-widths": (
        case(bridge_width_10=18, frontal_angle=(21.8014, 21.8014), apical_radius=7.5),
        case(bridge_width_10=18, frontal_angle=(21.8014, 21.8014), apical_radius=10.38),
        case(bridge_width_10=18, frontal_angle=(90, 90), apical_radius=8),
    ),
    "frontal-angle-sides": (case(frontal_angle=(20, 24)), case(frontal_angle=(20, None))),
    "splay-angle-sides": (case(splay_angle=(25, 29)),),
    "projection-crest": (
        case(bridge_projection=-0.5, crest_height=8),
        case(bridge_projection=4, crest_height=1),
        case(bridge_projection=4.5, crest_height=2),
    ),
    "bridge-style-projection": (
        case(bridge_projection=1, pairs=(handmade(bridge_style="inset_saddle"),)),
        case(bridge_projection=3, pairs=(handmade(bridge_style="regular"),)),
    ),
    "sheet-projection": (
        case(bridge_projection=-2.5, pairs=(handmade(sheet_mm=6),)),
        case(bridge_projection=-3, pairs=(handmade(sheet_mm=6, choices={"bridge_build": "built_up"}),)),
        case(bridge_projection=-3, pairs=(handmade(),)),
    ),
    "keyhole-flat-nose": (
        case(bridge_projection=0, crest_height=2.5, pairs=(handmade(bridge_style="keyhole"),)),
        case(bridge_projection=1, crest_height=1, pairs=(handmade(bridge_style="keyhole"),)),
        case(bridge_projection=-2, crest_height=1, pairs=(handmade(bridge_style="regular"),)),
    ),
    "pads-without-place": (
        case(pairs=(handmade(bridge_style="pad", choices={"pad_centres": "16 apart, 4 down"}),)),
        case(pairs=(handmade(bridge_style="regular"),)),
    ),
    "lash-room": (
        case(lash_projection=(9, 9), pairs=(handmade(vertex_mm=11),)),
        case(lash_projection=(7, 7), pairs=(handmade(vertex_mm=13),)),
        case(lash_projection=(9, 9), pairs=(handmade(),)),
    ),
    "lash-projection-sides": (
        case(lash_projection=(9, 9.5)),
        case(lash_projection=(9, 12), history={"prosthetic_eye": "L"}),
    ),
    "lashes-touch": (case(history={"blink": "clear"}),),
}
