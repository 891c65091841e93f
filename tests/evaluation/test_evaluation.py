"""The evaluation: its slips are the catalogue's, its people whole, and the bands keep what they promise."""

import numpy as np
import pytest
from scipy.stats import binomtest

from app.evaluation.people import Surveyed, fitting_of, true_nodes
from app.evaluation.share import Share
from app.evaluation.slips import (
    KINDS,
    all_slips,
    box_of,
    draw_slip,
    exceeds_repeatability,
    values_of,
    with_slip,
)
from app.evaluation.whole import run
from app.plausibility.expectation_face import SURVEY_NODES
from app.plausibility.expectation_limits import critical_values
from app.reference import populations


def invented_people(count: int, draw: np.random.Generator) -> list[Surveyed]:
    """People drawn from the figures of the survey's odd half, since its table is not part of the app."""
    found = []
    for number in range(count):
        sex = populations.SEXES[number % 2]
        group = populations.survey_group(sex, "odd")
        dimensions = draw.multivariate_normal(group.mean, group.covariance)
        found.append(Surveyed(sex=sex, age=int(draw.integers(18, 58)), dimensions=dimensions))
    return found


def test_a_person_completed_keeps_the_surveyed_dimensions() -> None:
    draw = np.random.default_rng(3)
    (one,) = invented_people(1, draw)
    model, nodes = true_nodes(one, draw)
    assert [nodes[model.index[node]] for node in SURVEY_NODES] == pytest.approx(one.dimensions.tolist())


def test_curved_links_hold_exactly_in_a_completed_person() -> None:
    draw = np.random.default_rng(4)
    (one,) = invented_people(1, draw)
    model, nodes = true_nodes(one, draw)
    for link in model.curved:
        value = link.curve(nodes[list(link.parents)])[0]
        assert nodes[link.followers[0][0]] == pytest.approx(value)


def test_every_kind_of_slip_happens_and_changes_what_it_says() -> None:
    draw = np.random.default_rng(5)
    (one,) = invented_people(1, draw)
    fitting = fitting_of(one, draw)
    assert set(all_slips(fitting)) == set(KINDS)
    for kind in KINDS:
        slip = draw_slip(fitting, kind, draw)
        assert slip is not None
        assert exceeds_repeatability(fitting, slip)
        wrong = with_slip(fitting, slip)
        changed = {
            box_of(b) for a, b in zip(fitting.readings, wrong.readings, strict=True) if a.value != b.value
        }
        assert changed == slip.boxes


def test_a_slip_in_a_box_read_twice_leaves_the_repeats_in_agreement() -> None:
    draw = np.random.default_rng(6)
    (one,) = invented_people(1, draw)
    fitting = fitting_of(one, draw)
    slip = draw_slip(fitting, "near in the far box", draw)
    assert slip is not None
    (wrong,) = slip.boxes
    before = [each.value for each in fitting.readings if box_of(each) == wrong]
    after = [each.value for each in with_slip(fitting, slip).readings if box_of(each) == wrong]
    assert np.diff(before) == pytest.approx(np.diff(after))
    assert values_of(fitting)


def test_intervals_are_wilsons() -> None:
    # scipy.stats.binomtest(...).proportion_ci(method="wilson")
    for hits, of in ((0, 10), (3, 250), (97, 100)):
        expected = binomtest(hits, of).proportion_ci(method="wilson")
        assert Share(hits, of).interval == pytest.approx((expected.low, expected.high), abs=1e-6)


def test_few_honest_fittings_are_asked_about_and_large_slips_are_seen_and_named() -> None:
    draw = np.random.default_rng(7)
    found = run(invented_people(300, draw), honest=250, slips=250, critical=critical_values(), draw=draw)
    assert found.false_bands.share <= 0.03
    assert found.large.bands.of > 100
    assert found.large.bands.share >= 0.93
    assert found.large.named_by_bands.share >= 0.95
