"""A generative model of a fitting: every dimension as a mean and its weights on independent standard causes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Curve = Callable[[Floats], tuple[float, Floats]]
"""Value and gradient of a link that is not a straight line, at given values of its parents."""
MOST_NODES = 320
MOST_CAUSES = 192
"""Room for independent causes; the largest model (two pairs) needs about 140."""


@dataclass(frozen=True, slots=True)
class CurvedLink:
    """A node that follows from its parents by a curve, drawn as its tangent at a point that can be moved."""

    parents: tuple[int, ...]
    curve: Curve
    at_build: Floats
    value: float
    gradient: Floats
    followers: tuple[tuple[int, float], ...]
    """Nodes that contain this one, with the weight they do so, itself among them."""


@dataclass(frozen=True, slots=True)
class Model:
    """Nodes with means (n,) and weights (n, causes): covariance of nodes = weights · weightsᵀ."""

    index: Mapping[str, int]
    means: Floats
    weights: Floats
    curved: tuple[CurvedLink, ...]

    def standard_deviation(self, node: str) -> float:
        """Standard deviation of one node between people, in its own unit."""
        return float(np.sqrt(self.weights[self.index[node]] @ self.weights[self.index[node]]))

    def covariance(self, first: str, second: str) -> float:
        """Covariance of two nodes."""
        return float(self.weights[self.index[first]] @ self.weights[self.index[second]])


@dataclass(slots=True)
class Blueprint:
    """Nodes put down one after the other, each from those before it and a cause of its own."""

    index: dict[str, int] = field(default_factory=dict)
    means: list[float] = field(default_factory=list)
    weights: Floats = field(default_factory=lambda: np.zeros((MOST_NODES, MOST_CAUSES)))
    causes: int = 0
    curved: list[tuple[str, tuple[str, ...], Curve]] = field(default_factory=list)
    followers: dict[str, dict[str, float]] = field(default_factory=dict)

    def mean(self, node: str) -> float:
        """Mean of a node already put down."""
        return self.means[self.index[node]]

    def weight(self, node: str) -> Floats:
        """Weights of a node already put down."""
        return np.asarray(self.weights[self.index[node]])

    def standard_deviation(self, node: str) -> float:
        """Standard deviation of a node already put down."""
        return float(np.linalg.norm(self.weight(node)))

    def put(self, node: str, *, mean: float = 0.0, sd: float = 0.0, **parents: float) -> None:
        """A node: mean + Σ weight · (parent − its mean) + a cause of its own with standard deviation sd.

        Parents are named with double underscores for dots: `length_to_tangent__R=1.0`.
        """
        self.put_from(
            node, mean=mean, sd=sd, parents={name.replace("__", "."): w for name, w in parents.items()}
        )

    def put_from(self, node: str, *, mean: float, sd: float, parents: Mapping[str, float]) -> None:
        """As `put`, parents by their own names."""
        row = np.zeros(MOST_CAUSES)
        for parent, weight in parents.items():
            row += weight * self.weight(parent)
        if sd > 0:
            row[self.causes] = sd
            self.causes += 1
        for followers in self.followers.values():
            through = sum(weight * followers.get(parent, 0.0) for parent, weight in parents.items())
            if through:
                followers[node] = through
        self._enter(node, mean, row)

    def put_sum(self, node: str, *, offset: float = 0.0, sd: float = 0.0, **parents: float) -> None:
        """A node whose mean follows its parents too: offset + Σ weight · parent + its own cause."""
        named = {name.replace("__", "."): weight for name, weight in parents.items()}
        mean = offset + sum(weight * self.mean(parent) for parent, weight in named.items())
        self.put_from(node, mean=mean, sd=sd, parents=named)

    def put_block(self, means: Mapping[str, float], covariance: Floats) -> None:
        """Nodes with a given covariance, by its Cholesky factor. Raises LinAlgError where it is singular."""
        factor = np.linalg.cholesky(covariance)
        size = len(means)
        for number, (node, mean) in enumerate(means.items()):
            row = np.zeros(MOST_CAUSES)
            row[self.causes : self.causes + size] = factor[number]
            self._enter(node, mean, row)
        self.causes += size

    def put_curve(self, node: str, parents: tuple[str, ...], curve: Curve) -> None:
        """A node that follows from its parents by a curve: the tangent at their means."""
        value, gradient = curve(np.array([self.mean(parent) for parent in parents]))
        row = gradient @ np.array([self.weight(parent) for parent in parents])
        self._enter(node, value, row)
        self.curved.append((node, parents, curve))
        self.followers[node] = {node: 1.0}

    def put_sides(
        self, name: str, *, half_difference_sd: float, with_half: Mapping[str, float] | None = None
    ) -> None:
        """Right and left of a node already put down: it ± half of what the two differ by."""
        half = f"{name}.half"
        self.put_from(half, mean=0.0, sd=half_difference_sd, parents=with_half or {})
        for side, sign in (("R", 1.0), ("L", -1.0)):
            self.put_from(f"{name}.{side}", mean=self.mean(name), sd=0.0, parents={name: 1.0, half: sign})

    def model(self) -> Model:
        """The finished model."""
        size = len(self.means)
        links = []
        for node, parents, curve in self.curved:
            at = np.array([self.mean(parent) for parent in parents])
            value, gradient = curve(at)
            links.append(
                CurvedLink(
                    parents=tuple(self.index[parent] for parent in parents),
                    curve=curve,
                    at_build=at,
                    value=value,
                    gradient=gradient,
                    followers=tuple((self.index[name], w) for name, w in self.followers[node].items()),
                )
            )
        weights = np.ascontiguousarray(self.weights[:size, : self.causes])
        return Model(index=dict(self.index), means=np.array(self.means), weights=weights, curved=tuple(links))

    def _enter(self, node: str, mean: float, row: Floats) -> None:
        if node in self.index:
            raise ValueError(f"there are two nodes named {node}")
        place = len(self.means)
        self.index[node] = place
        self.means.append(mean)
        self.weights[place] = row
