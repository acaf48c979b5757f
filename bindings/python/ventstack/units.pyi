# SPDX-License-Identifier: GPL-3.0-or-later
from typing import Any, Sequence, overload

import numpy as np
from numpy.typing import NDArray

from ._checks import MYPY

__all__ = [
    "Unit", "celsius", "centimetre", "cfm", "cm", "cubic_metre_per_hour", "cubic_metre_per_second",
    "degree", "fahrenheit", "feet", "foot", "fpm", "hectopascal", "inch", "inwc", "kilopascal",
    "litre_per_second", "metre", "metre_per_second", "millimetre", "mm", "pascal",
    "pound_per_cubic_foot", "to_celsius", "to_fahrenheit", "watt",
]

class Unit(float):
    symbol: str
    quantity: str
    __array_priority__: int
    def __new__(cls, value: float, symbol: str, quantity: str) -> Unit: ...
    # wider than float's own: a unit takes lists and arrays too
    @overload  # type: ignore[override]
    def __mul__(self, other: float) -> float: ...
    @overload
    def __mul__(self, other: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
    @overload  # type: ignore[override]
    def __rmul__(self, other: float) -> float: ...
    @overload
    def __rmul__(self, other: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
    @overload  # type: ignore[override]
    def __rtruediv__(self, other: float) -> float: ...
    @overload
    def __rtruediv__(self, other: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
    if MYPY:
        # Of a list literal times anything mypy asks list.__mul__ alone, never __rmul__.
        def __index__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

metre: Unit
centimetre: Unit
cm: Unit
millimetre: Unit
mm: Unit
inch: Unit
foot: Unit
feet: Unit
cubic_metre_per_second: Unit
cubic_metre_per_hour: Unit
litre_per_second: Unit
cfm: Unit
pascal: Unit
hectopascal: Unit
kilopascal: Unit
inwc: Unit
metre_per_second: Unit
fpm: Unit
pound_per_cubic_foot: Unit
degree: Unit
watt: Unit

@overload
def celsius(temperature: float) -> float: ...
@overload
def celsius(temperature: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
@overload
def fahrenheit(temperature: float) -> float: ...
@overload
def fahrenheit(temperature: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
@overload
def to_celsius(temperature: float) -> float: ...
@overload
def to_celsius(temperature: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
@overload
def to_fahrenheit(temperature: float) -> float: ...
@overload
def to_fahrenheit(temperature: Sequence[Any] | NDArray[Any]) -> NDArray[np.float64]: ...
