# SPDX-License-Identifier: GPL-3.0-or-later
"""Many cases of one network at once."""

import collections
import collections.abc
import concurrent.futures
import contextlib
import math
import os
import warnings

import numpy as np

from . import core
from ._address import Observable, Parameter, observable, own, own_all, parameter
from ._checks import common_shape, instance, numbers
from ._errors import ArgumentError, DomainWarning, OutOfMemory, from_record

BLOCK = 8192  # cases a thread takes at once; between blocks Ctrl-C is heard


class Sweep:
    """What came out of many cases.

    Made by `Network.sweep`. Indexed by an observable or its name it gives an array of the cases'
    shape.

    Attributes
    ----------
    parameters : tuple of Parameter
        What was varied.
    observables : tuple of Observable
        What was read.
    inputs : dict
        The array of each parameter, of the cases' shape.
    shape : tuple of int
        Of the cases.
    status : numpy.ndarray
        0 where a case was solved, else the status of the failure.
    failed : int
        How many cases failed; their results are NaN.
    message : str
        Why the first of them failed; empty if none did.

    Examples
    --------
    >>> q = net.sweep({riser.length: [5, 10, 20]}, observe=[riser.flow, pit.pressure])
    >>> bool(np.all(np.diff(q[riser.flow]) < 0)), q.failed
    (True, 0)
    >>> q["riser.flow"].shape
    (3,)
    """

    __slots__ = ("parameters", "observables", "inputs", "shape", "status", "failed", "message",
                 "_arrays", "_results")

    def __getitem__(self, address):
        for one, values in self._results.items():
            if one == address or one.name == address:
                return values
        raise KeyError(f"{address!s} was not observed; {', '.join(map(str, self._results))} were")

    def __iter__(self):
        return iter(self._results)

    def __len__(self):
        return len(self._results)

    def items(self):
        """Pairs of each observable and its array.

        Returns
        -------
        collections.abc.ItemsView

        Examples
        --------
        >>> q = net.sweep({riser.length: [5, 10, 20]}, observe=[riser.flow])
        >>> [(str(o), values.shape) for o, values in q.items()]
        [('riser.flow', (3,))]
        """
        return self._results.items()

    def _axes(self):
        """A name for each axis, and the parameter that alone varies along it, if one does."""
        names, along = [], []
        for axis in range(len(self.shape)):
            rank = axis - len(self.shape)
            own_axis = [p for p, a in self._arrays.items()
                        if a.ndim >= -rank and a.shape[rank] == self.shape[axis] and
                        a.size == self.shape[axis] and a.size > 1]
            names.append(own_axis[0].name if len(own_axis) == 1 else f"case_{axis}"
                         if len(self.shape) > 1 else "case")
            along.append(own_axis[0] if len(own_axis) == 1 else None)
        return names, along

    def to_frame(self):
        """The cases as a pandas DataFrame: a row each, parameters first.

        Returns
        -------
        pandas.DataFrame
            Columns are named as the addresses; their units are in `attrs["units"]`.

        Raises
        ------
        ImportError
            If pandas is not installed.

        Examples
        --------
        >>> list(net.sweep({riser.length: [5, 10]}, observe=[riser.flow]).to_frame().columns)
        ['riser.length', 'riser.flow']
        """
        import pandas
        columns = {**self.inputs, **self._results}
        frame = pandas.DataFrame({str(a): values.ravel() for a, values in columns.items()})
        frame.attrs["units"] = {str(a): a.unit for a in columns}
        return frame

    def to_xarray(self):
        """The cases as an xarray Dataset, with parameters that run along one axis as its coordinate.

        Returns
        -------
        xarray.Dataset
            Variables are named as the addresses and carry their units.

        Raises
        ------
        ImportError
            If xarray is not installed.

        Examples
        --------
        >>> q = net.sweep({riser.length: [[5], [10]], "pit.c": [1e-4, 4e-4, 1e-3]},
        ...               observe=[riser.flow])
        >>> try:
        ...     print(q.to_xarray()["riser.flow"].dims)
        ... except ImportError:
        ...     print("xarray is not installed")  # doctest: +SKIP
        """
        import xarray
        names, along = self._axes()
        coordinates = {name: (name, self._arrays[p].ravel(), {"units": p.unit})
                       for name, p in zip(names, along) if p is not None}
        data = {str(a): (names, values, {"units": a.unit})
                for a, values in {**self.inputs, **self._results}.items() if a not in along}
        return xarray.Dataset(data, coords=coordinates)

    def __repr__(self):
        return (f"<sweep of {' x '.join(map(str, self.shape)) or '1'} cases over "
                f"{', '.join(map(str, self.parameters)) or 'nothing'}: "
                f"{', '.join(map(str, self.observables))}; {self.failed} failed>")


def _addresses(network, listed, kind, find, argument):
    found = own_all(network, listed, kind, find, argument)
    twice = [one for one, count in collections.Counter(found).items() if count > 1]
    if twice:
        raise ArgumentError(f"{argument} holds {twice[0].name!r} twice", argument=argument)
    return found


def _outputs(out, observables, shape, network):
    """Arrays of the caller's for some of the results."""
    found = {}
    for address, array in (out or {}).items():
        address = own(network, address, Observable, observable, "out")
        array = instance(array, np.ndarray, "out", "a dict of observables to arrays")
        what = f"out[{address.name!r}]"
        if address not in observables:
            raise ArgumentError(f"{what} is not observed", argument="out")
        if array.dtype != np.float64 or array.shape != shape:
            raise ArgumentError(f"{what} must be an array of float64 of the shape {shape}, not of "
                                f"{array.dtype} of {array.shape}", argument="out")
        if not array.flags.writeable:
            raise ArgumentError(f"{what} is read-only", argument="out")
        found[address] = array
    return found


def _refuse_overlap(outputs, arrays):
    for address, array in outputs.items():
        others = [*arrays.values(), *(a for o, a in outputs.items() if o != address)]
        if any(np.shares_memory(array, other) for other in others):
            raise ArgumentError(f"out[{address.name!r}] shares memory with another array",
                                argument="out")


def _refuse_too_much(needed):
    """An error, and not the end of the process, where results take more memory than there is."""
    try:
        there = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    except (AttributeError, OSError, ValueError):
        return
    if needed > 0.8 * there:
        raise OutOfMemory(f"the results take {needed / 1e9:.3g} GB, this machine has "
                          f"{there / 1e9:.3g} GB: sweep in parts, or write to arrays of your own "
                          "(out=), which may be files")


class _Run:
    """The blocks of one sweep, each solved by itself."""

    def __init__(self, picture, start, arrays, observables, outputs, shape):
        self.picture, self.start = picture, start
        self.parameters = [p._c for p in arrays]
        self.observables = [o._c for o in observables]
        self.flat = [np.broadcast_to(a, shape) for a in arrays.values()]
        self.flat = [a.reshape(-1) if a.flags.c_contiguous else a.flat for a in self.flat]
        cases = math.prod(shape)
        self.targets = {o: a.reshape(-1) for o, a in outputs.items() if a.flags.c_contiguous}
        own_rows = [o for o in observables if o not in self.targets]
        _refuse_too_much(cases * (8 * len(own_rows) + 1))
        self.targets.update((o, np.empty(cases)) for o in own_rows)
        self.rows = [self.targets[o] for o in observables]
        self.status = np.zeros(cases, dtype=np.int8)

    def block(self, first):
        """Solves the cases of one block: how many failed, and the first failure."""
        last = min(first + BLOCK, len(self.status))
        cases = last - first
        values = np.empty((len(self.flat), cases))
        for row, array in zip(values, self.flat):
            row[:] = array[first:last]
        results, status = np.empty((len(self.observables), cases)), np.empty(cases)
        failure = core.error()
        failed = core.network_sweep(self.picture, self.start, self.parameters, self.observables,
                                    values, results, status, failure)
        for row, found in zip(self.rows, results):
            row[first:last] = found
        self.status[first:last] = status
        return failed, first, failure

    def check(self):
        """Raises what is wrong with the addresses or the network."""
        core.network_sweep(self.picture, self.start, self.parameters, self.observables,
                           np.empty((len(self.flat), 0)), np.empty((len(self.observables), 0)),
                           np.empty(0), core.error())


def _in_threads(run, firsts, threads):
    """Each block as it is done; on Ctrl-C those not begun are dropped."""
    pool = concurrent.futures.ThreadPoolExecutor(threads)
    try:
        waiting = collections.deque()
        for first in firsts:
            waiting.append(pool.submit(run.block, first))
            if len(waiting) >= 4 * threads:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _bar(progress, cases):
    """A progress bar, where one is wanted and tqdm is installed."""
    if progress:
        with contextlib.suppress(ImportError):
            from tqdm.auto import tqdm
            return tqdm(total=cases, unit="case", unit_scale=True)
    return contextlib.nullcontext()


def _solve_blocks(run, threads, progress):
    """All blocks: how many cases failed, the number of the first and its failure."""
    cases, failures, failed = len(run.status), [], 0
    firsts = range(0, cases, BLOCK)
    done = map(run.block, firsts) if threads == 1 else _in_threads(run, firsts, threads)
    with _bar(progress, cases) as bar, contextlib.closing(done) if threads > 1 \
            else contextlib.nullcontext():
        for count, first, failure in done:
            failed += count
            if count:
                failures.append((first + failure.index, failure))
            if bar is not None:
                bar.update(min(BLOCK, cases - first))
    return failed, min(failures, key=lambda pair: pair[0], default=(None, None))


def sweep(network, parameters, observe, start, threads, progress, out):
    """Solves many cases, see `Network.sweep`."""
    parameters = instance(parameters, collections.abc.Mapping, "parameters",
                          "a dict of parameters to arrays")
    threads = instance(threads, (int, np.integer), "threads", "an int")
    if not 1 <= threads <= 1024:
        raise ArgumentError(f"threads is {threads}; it must be between 1 and 1024",
                            argument="threads")
    varied = _addresses(network, parameters, Parameter, parameter, "parameters")
    observables = _addresses(network, observe, Observable, observable, "observe")
    arrays = {p: numbers(values, p.name) for p, values in zip(varied, parameters.values())}
    shape = common_shape({p.name: array for p, array in arrays.items()})
    outputs = _outputs(out, observables, shape, network)
    _refuse_overlap(outputs, arrays)
    picture = core.network_copy(network._c)
    run = _Run(picture, start._c if start is not None else None, arrays, observables, outputs,
               shape)
    run.check()
    failed, (index, failure) = _solve_blocks(run, threads, progress)
    found = Sweep()
    found.parameters, found.observables = tuple(varied), tuple(observables)
    found.shape, found.failed = shape, failed
    found.status = run.status.reshape(shape)
    found.message = failure.message if failed else ""
    found._arrays = arrays
    found.inputs = {p: np.broadcast_to(a, shape) for p, a in arrays.items()}
    found._results = {}
    for address, row in zip(observables, run.rows):
        found._results[address] = outputs.get(address, row.reshape(shape))
        if address in outputs and not outputs[address].flags.c_contiguous:
            outputs[address][...] = row.reshape(shape)
    if failed:
        error = from_record(failure.status, failure.function, failure.argument, index,
                            failure.value, failure.low, failure.high, failure.message)
        warnings.warn(f"{failed} of {run.status.size} cases failed and are NaN; the first is case "
                      f"{index}: {type(error).__name__}: {error}", DomainWarning, stacklevel=3)
    return found
