"""A practice's own reference: its own mean and spread of a reading in place of the survey's or the trade's."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from app.plausibility.expectation_model import Model
from app.reference.populations import Sex

OwnReference = Sequence[tuple[str, float, float]]
"""Measurement, mean and standard deviation of the practice's own adults, women and men together."""
NODE_OF_OWN = {
    "pd_distance": "pd",
    **{
        name: name
        for name in (
            *("head_width", "temple_width", "head_height", "head_circumference", "length_to_tangent"),
            *("bridge_width_10", "bridge_width_15", "frontal_angle", "splay_angle", "bridge_projection"),
            *("apical_radius", "crest_height", "side_angle", "drop_angle"),
        )
    },
}
"""What a practice may give its own figures for, and the model's node that they are about."""


def with_own(model: Model, node: str, *, mean: float, sd: float) -> Model:
    """The model with another mean and standard deviation (> 0) of one node; given that node, all others as before.

    With s the node's standard deviation, w its weights, u = w / s and c = W u the covariances of all nodes with it
    over s: means + c (mean − old mean) / s, W + (sd / s − 1) c uᵀ. Source: a joint normal distribution as the
    distribution of one variable times that of the others given it, the first of which is exchanged.
    """
    place = model.index[node]
    row = model.weights[place]
    old = float(np.linalg.norm(row))
    unit = row / old
    along = model.weights @ unit
    return replace(
        model,
        means=model.means + along * (mean - float(model.means[place])) / old,
        weights=model.weights + (sd / old - 1) * np.outer(along, unit),
    )


def with_own_reference(models: Mapping[Sex, Model], own: OwnReference) -> dict[Sex, Model]:
    """Women's and men's models moved and widened alike, so that both together have the practice's own figures.

    The difference of the sexes stays the survey's. Over both, mean m = (m₁ + m₂) / 2 and
    s² = (s₁² + s₂²) / 2 + ((m₁ − m₂) / 2)², widened as a whole by the same factor.
    """
    found = dict(models)
    for measurement, mean, sd in own:
        node = NODE_OF_OWN[measurement]
        means = {sex: float(one.means[one.index[node]]) for sex, one in found.items()}
        spreads = {sex: one.standard_deviation(node) for sex, one in found.items()}
        middle = float(np.mean(list(means.values())))
        within = np.mean(np.square(list(spreads.values())))
        factor = sd / float(np.sqrt(within + np.var(list(means.values()))))
        found = {
            sex: with_own(one, node, mean=mean + factor * (means[sex] - middle), sd=factor * spreads[sex])
            for sex, one in found.items()
        }
    return found
