"""The examples in the docstrings of the computing core are true, and its parameters say their unit."""

import doctest
import importlib
import inspect
import pkgutil
from types import ModuleType

import pytest

PACKAGES = ("app.optics", "app.frame", "app.documents", "app.reference")
UNITS = ("_mm", "_deg", "_d", "prism_dioptres", "_mm3", "_mm2", "_y", "_lux", "_m", "_deg2", "_per_cm3")
UNITS_WITH_PER = ("_per_mm", "_per_m2", "_per_m2_deg2")
WITHOUT_UNIT = ("value", "reflectance", "abbe_number", "index_ratio")


def modules() -> list[ModuleType]:
    """Every module of the rooms above that this room's tests answer for."""
    found = []
    for package in PACKAGES:
        for module in pkgutil.iter_modules(importlib.import_module(package).__path__, f"{package}."):
            found.append(importlib.import_module(module.name))
    return found


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.__name__)
def test_every_docstring_example_comes_out_as_written(module: ModuleType) -> None:
    assert doctest.testmod(module).failed == 0


def optics_functions() -> list[tuple[str, inspect.Signature, str]]:
    """Public functions of the optics room with their signatures and docstrings."""
    return [
        (f"{module.__name__}.{name}", inspect.signature(function), function.__doc__ or "")
        for module in modules()
        if module.__name__.startswith("app.optics.")
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]


def test_every_public_function_of_optics_has_a_docstring_and_units_in_its_parameter_names() -> None:
    for name, signature, text in optics_functions():
        assert text, f"{name} says nothing about itself"
        for parameter in signature.parameters.values():
            if parameter.annotation is float and not parameter.name.endswith(UNITS + UNITS_WITH_PER):
                assert parameter.name in WITHOUT_UNIT or parameter.name.endswith("index"), (
                    f"{name}: {parameter.name} does not say its unit"
                )
