# SPDX-License-Identifier: GPL-3.0-or-later
"""Value objects: frozen, compared and pickled by what they hold."""

import functools
import operator

from ._errors import ArgumentError


@functools.cache
def _fields(kind):
    """Names of a C struct's members, in the order of its header."""
    return [name for name, member in vars(kind).items() if isinstance(member, property)
            and name not in ("thisown", "reserved")]


def _restored(kind, state):
    """The value a pickle holds."""
    struct = kind._struct()
    for name, value in zip(_fields(kind._struct), state):
        setattr(struct, name, value)
    return kind._of(struct)


class Bound:
    """What belongs to this process: it does not pickle. It says what does, in `_instead`.

    What never changes is its own copy; else `_frozen` is false and it does not copy either."""

    __slots__ = ()
    _instead, _frozen = "", True

    def __copy__(self):
        return self if self._frozen else self.__reduce_ex__(4)

    def __deepcopy__(self, memo):
        return self.__copy__()

    def __reduce_ex__(self, protocol):
        name = type(self).__name__
        raise TypeError(f"{'an' if name[0] in 'AEIOU' else 'a'} {name} cannot be pickled"
                        f"{'' if self._frozen else ' or copied'}: {self._instead}")


class Value:
    """A frozen C struct with the manners of a Python value; the struct is `_c`."""

    __slots__ = ("_c",)
    _struct = None

    @classmethod
    def _of(cls, struct):
        value = object.__new__(cls)
        object.__setattr__(value, "_c", struct)
        return value

    def _state(self):
        return tuple(getattr(self._c, name) for name in _fields(self._struct))

    def _with(self, **changes):
        """A copy with other members."""
        state = dict(zip(_fields(self._struct), self._state()), **changes)
        return _restored(type(self), state.values())

    def __setattr__(self, name, value):
        raise AttributeError(f"{type(self).__name__} is frozen: make another one")

    def __delattr__(self, name):
        raise AttributeError(f"{type(self).__name__} is frozen")

    def __eq__(self, other):
        return type(other) is type(self) and other._state() == self._state()

    def __hash__(self):
        return hash((type(self), self._state()))

    def __reduce__(self):
        return _restored, (type(self), self._state())


class Scaled(Value):
    """A value whose coefficient may be multiplied by a factor of its user's."""

    __slots__ = ()

    def with_factor(self, factor):
        """The same with a known deviation from what is published.

        Parameters
        ----------
        factor : float
            Multiplies the coefficient, of a termination except an exit's own 1 [-]; 0 to 1000.

        Returns
        -------
        Fitting, Termination or Junction

        Raises
        ------
        ArgumentError
            If factor is outside its bounds.

        Examples
        --------
        >>> vs.entry_flush().with_factor(1.2).factor
        1.2
        """
        changed = self._with(factor=factor)
        if not 0 <= changed.factor <= 1000:
            raise ArgumentError(f"factor is {changed.factor:g}; it must lie between 0 and 1000",
                                argument="factor", value=changed.factor, low=0.0, high=1000.0)
        return changed


def quantity(name, unit, text):
    """A read-only property that is a member of the struct."""
    return property(operator.attrgetter("_c." + name), doc=f"float : {text} [{unit}].")
