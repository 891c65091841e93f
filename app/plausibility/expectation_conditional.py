"""Each reading given all the others: conditional means and variances from one inverse for each sex."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.plausibility.expectation_evidence import Evidence
from app.plausibility.expectation_model import Floats, Model

Places = NDArray[np.intp]
WITHIN_SDS = 3.0
"""A link's tangent is drawn no further than this many SDs from the mean, so that a slip cannot bend it."""


@dataclass(frozen=True, slots=True)
class Together:
    """The readings' joint distribution under each model: residuals and precision, models first.

    `residuals` (models, m); `precision` (models, m, m); `spread` SD of each reading before any other is
    known (m,).
    """

    values: Floats
    residuals: Floats
    precision: Floats
    spread: Floats


@dataclass(frozen=True, slots=True)
class Given:
    """For each reading its distribution given the others: mean, standard deviation, deviation in SDs; (m,) each.

    `log_density` of the reading as it is, of the whole mixture where there are two models.
    """

    mean: Floats
    sd: Floats
    deviation: Floats
    log_density: Floats


def together(evidence: Sequence[Evidence], models: Sequence[Model]) -> Together:
    """Joint distribution of the readings: covariance of what they show, and their errors on the diagonal.

    x = μ + W c + e with c standard normal, so Σ = W Wᵀ + diag(error variance). Error variances are above nought and
    W Wᵀ has no negative eigenvalue, so Σ cannot be singular. Links that are no straight lines are drawn as
    tangents at the readings themselves.
    """
    values = np.array([one.value for one in evidence])
    noise = np.array([one.variance for one in evidence])
    means, covariances = [], []
    for model in models:
        nodes = np.array([model.index[one.node] for one in evidence])
        mean, weights = _rows(model, nodes, values)
        covariance = weights @ weights.T
        covariance.flat[:: len(nodes) + 1] += noise
        means.append(mean)
        covariances.append(covariance)
    stack, centre = np.array(covariances), np.array(means)
    diagonal = np.diagonal(stack, axis1=1, axis2=2)
    variance = diagonal.mean(axis=0) + centre.var(axis=0)
    return Together(
        values=values,
        residuals=values - centre,
        precision=np.asarray(np.linalg.inv(stack), dtype=np.float64),
        spread=np.sqrt(variance),
    )


def _rows(model: Model, nodes: Places, values: Floats) -> tuple[Floats, Floats]:
    """Means and weights of the nodes, with every curved link drawn again at the readings of its parents."""
    means, weights = model.means[nodes].copy(), model.weights[nodes]
    place = {node: number for number, node in enumerate(nodes.tolist())}
    for link in model.curved:
        moved = [(place[node], weight) for node, weight in link.followers if node in place]
        seen = [(number, place[node]) for number, node in enumerate(link.parents) if node in place]
        if not moved or not seen:
            continue
        point = link.at_build.copy()
        for number, row in seen:
            room = WITHIN_SDS * np.sqrt(weights[row] @ weights[row])
            point[number] += min(max(values[row] - point[number], -room), room)
        value, gradient = link.curve(point)
        shift = value + gradient @ (link.at_build - point) - link.value
        turn = (gradient - link.gradient) @ model.weights[list(link.parents)]
        for row, weight in moved:
            means[row] += weight * shift
            weights[row] += weight * turn
    return means, weights


def leave_one_out(whole: Together) -> Given:
    """Each reading given all the others.

    With P = Σ⁻¹ and r the residuals: E = x − (P r)ᵢ / Pᵢᵢ, variance 1 / Pᵢᵢ (Gaussian conditioning; for example
    Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, eq. 5.12). Of two sexes the
    mixture, each weighted by how likely the other readings are under it; mean and variance of the mixture.
    """
    pulled = np.einsum("sij,sj->si", whole.precision, whole.residuals)
    diagonal = np.diagonal(whole.precision, axis1=1, axis2=2)
    return _mixed(whole, pulled / diagonal, 1 / diagonal, _log_likelihood(whole, pulled))


def _mixed(whole: Together, off: Floats, variance: Floats, log_likelihood: Floats) -> Given:
    """Mixture over the models of means value − off and the given variances; (models, m) each."""
    own = -0.5 * (np.log(2 * np.pi * variance) + off**2 / variance)
    if len(off) == 1:
        sd = np.sqrt(variance[0])
        return Given(whole.values - off[0], sd, off[0] / sd, own[0])
    return _moments(whole.values, log_likelihood[:, None] - own, off, variance, own)


def _moments(values: Floats, log_weight: Floats, off: Floats, variance: Floats, own: Floats) -> Given:
    """Mean, SD and density of a mixture of normal distributions; (models, m) each, all in logs till the end."""
    log_weight = log_weight - np.logaddexp.reduce(log_weight, axis=0)
    weight = np.exp(log_weight)
    mean_off = (weight * off).sum(axis=0)
    spread = (weight * (variance + off**2)).sum(axis=0) - mean_off**2
    sd = np.sqrt(spread)
    return Given(values - mean_off, sd, mean_off / sd, np.logaddexp.reduce(log_weight + own, axis=0))


def _log_likelihood(whole: Together, pulled: Floats) -> Floats:
    """Log density of the readings under each model, but for a constant."""
    if len(pulled) == 1:
        return np.zeros(1)
    misfit = np.einsum("si,si->s", whole.residuals, pulled)
    return np.asarray(0.5 * (np.linalg.slogdet(whole.precision)[1] - misfit))


def without(whole: Together, removed: Sequence[int]) -> Together:
    """The same readings without some of them: P_kk − P_kr P_rr⁻¹ P_rk is the precision of those kept."""
    kept = np.setdiff1d(np.arange(len(whole.values)), removed)
    gone = np.asarray(removed)
    across = whole.precision[:, kept[:, None], gone]
    inner = np.linalg.inv(whole.precision[:, gone[:, None], gone])
    return Together(
        values=whole.values[kept],
        residuals=whole.residuals[:, kept],
        precision=whole.precision[:, kept[:, None], kept] - across @ inner @ across.transpose(0, 2, 1),
        spread=whole.spread[kept],
    )


def removed_given_kept(whole: Together, removed: Sequence[int]) -> Given:
    """Readings set aside, each given those kept: covariance P_rr⁻¹, off the mean by P_rr⁻¹ (P r)_r."""
    gone = np.asarray(removed)
    pulled = np.einsum("sij,sj->si", whole.precision[:, gone], whole.residuals)
    inner = np.linalg.inv(whole.precision[:, gone[:, None], gone])
    off = np.einsum("sij,sj->si", inner, pulled)
    kept = without(whole, removed)
    log_likelihood = _log_likelihood(kept, np.einsum("sij,sj->si", kept.precision, kept.residuals))
    variance = np.diagonal(inner, axis1=1, axis2=2)
    own = -0.5 * (np.log(2 * np.pi * variance) + off**2 / variance)
    return _moments(
        whole.values[gone], np.broadcast_to(log_likelihood[:, None], off.shape), off, variance, own
    )


def influences(whole: Together) -> Floats:
    """How much each reading (column) moves the expectation of another (row): |Pᵢⱼ / Pᵢᵢ| × its SD; (m, m)."""
    precision = np.abs(whole.precision).mean(axis=0)
    moved = precision / np.diagonal(precision)[:, None] * whole.spread
    np.fill_diagonal(moved, 0.0)
    return np.asarray(moved)
