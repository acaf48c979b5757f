# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds fault finding to random stacks whose fault is known, and writes faults.md and its picture.

    PYTHONPATH=BUILD/bindings/python python3 docs/calibration/faults.py [SYSTEMS]

500 systems with one fault each and 100 sound ones take some minutes. The systems are drawn by
bindings/python/tests/faulty_systems.py, of which the tests ask the first 60. Why a case failed was
looked up by hand and stands in REASONS; a failure without a reason there is written as such.
"""

import collections
import pathlib
import sys

import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "bindings" / "python" / "tests"))

import faulty_systems  # noqa: E402

SOUND = 100
EDGES = (0, 0.01, 0.03, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.91, 0.99, 1)

# Of the claims that failed, by seed.
REASONS = {
    71: "At this flow the slowed fan makes just the pressure of the other one. One fan that had to give these "
        "readings speaks louder than a weak one that might have given any.",
    350: "The two taps differ by 1.5 Pa, one uncertainty: nothing can tell.",
    420: "At this flow the other fan makes just the pressure that the water leaves. Water fits as well, at 1 %: a "
         "coincidence that one in a hundred such answers must meet.",
    434: "The two taps differ by 3 Pa, two uncertainties: nothing can tell.",
}


def share(part, whole):
    return f"{part} of {whole} ({100 * part / whole:.1f} %)" if whole else "none"


def calibration(cases):
    """Of each step of claimed probability: its mean, how often it was the truth, how many."""
    claimed, true = np.array([pair for one in cases for pair in one.probabilities]).T
    rows = []
    for low, high in zip(EDGES, EDGES[1:]):
        inside = (claimed >= low) & ((claimed < high) | (high == 1))
        if inside.any():
            rows.append((low, high, claimed[inside].mean(), true[inside].mean(), int(inside.sum())))
    return rows


def summary(cases):
    told = [one for one in cases if one.claim == "TOLD"]
    group = [one for one in cases if one.claim == "GROUP"]
    both = told + group
    yield "| what | measured | wanted |"
    yield "| --- | --- | --- |"
    yield f"| claims to tell the fault | {share(len(told), len(cases))} | |"
    yield (f"| where it does, the true fault is first | "
           f"{share(sum(one.rank == 0 for one in told), len(told))} | 85 % |")
    yield (f"| where it does, it is in the top two | "
           f"{share(sum(one.rank < 2 for one in told), len(told))} | 97 % |")
    yield f"| claims to tell a group of faults that look alike | {share(len(group), len(cases))} | |"
    yield (f"| where it does, the true fault is in the group | "
           f"{share(sum(one.inside for one in group), len(group))} | |")
    yield (f"| either claim holds | "
           f"{share(sum(one.inside for one in both), len(both))} | |")
    yield (f"| of all, claim or not, the true fault is first | "
           f"{share(sum(one.rank == 0 for one in cases), len(cases))} | |")
    yield (f"| of all, it is in the top two | "
           f"{share(sum(one.rank < 2 for one in cases), len(cases))} | |")


def by_fault(cases):
    kinds = collections.defaultdict(list)
    for one in cases:
        kinds[one.fault].append(one)
    yield "| true fault | systems | told | of these right | group | of these right | open | first of all |"
    yield "| --- | --- | --- | --- | --- | --- | --- | --- |"
    for kind in faulty_systems.FAULTS:
        mine = kinds[kind]
        told = [one for one in mine if one.claim == "TOLD"]
        group = [one for one in mine if one.claim == "GROUP"]
        yield (f"| {kind} | {len(mine)} | {len(told)} | {sum(one.rank == 0 for one in told)} | "
               f"{len(group)} | {sum(one.inside for one in group)} | "
               f"{len(mine) - len(told) - len(group)} | {sum(one.rank == 0 for one in mine)} |")


def truth_in_words(one):
    size = "" if one.size is None else f", {one.size:.3g}"
    place = "" if one.place is None else f" at {one.place}"
    return f"{one.fault}{place}{size}" + (f", read at {one.swapped}" if one.swapped else "")


def failures(cases):
    wrong = [one for one in cases if (one.claim == "TOLD" and one.rank > 0)
             or (one.claim == "GROUP" and not one.inside)]
    yield "| seed | truth | claim | first finding | rank of the truth | why |"
    yield "| --- | --- | --- | --- | --- | --- |"
    for one in wrong:
        rank = "not asked about" if one.rank >= len(one.probabilities) else one.rank + 1
        yield (f"| {one.seed} | {truth_in_words(one)} | {one.claim.lower()} | {one.first} | {rank} | "
               f"{REASONS.get(one.seed, 'not looked up yet')} |")


def picture(rows):
    import matplotlib
    matplotlib.use("svg")
    import matplotlib.pyplot as plt
    plt.rcParams.update({"svg.hashsalt": "faults", "svg.fonttype": "none"})
    figure, ax = plt.subplots(figsize=(5.2, 4.6), layout="constrained")
    ax.plot([0, 1], [0, 1], color="#b9b9b9", linewidth=1.2, label="as claimed")
    claimed, true, count = (np.array([row[i] for row in rows]) for i in (2, 3, 4))
    error = np.sqrt(np.maximum(true * (1 - true), 1 / count) / count)
    ax.errorbar(claimed, true, yerr=2 * error, fmt="o", color="#1b3a6b", capsize=3,
                label="findings, with twice the chance error")
    ax.set_xlabel("probability claimed")
    ax.set_ylabel("share that was the truth")
    ax.set_xlim(-0.02, 1.02)
    ax.set_ylim(-0.02, 1.02)
    ax.grid(color="#e4e4e4", linewidth=0.8)
    ax.set_axisbelow(True)
    ax.spines[["top", "right"]].set_visible(False)
    ax.legend(frameon=False, loc="upper left")
    figure.savefig(HERE / "faults.svg", metadata={"Date": None, "Creator": None})


def page(cases, sound):
    rows = calibration(cases)
    alarms = [one for one in sound if one.claim == "TOLD" and one.rank > 0]
    yield "# Fault finding held to random stacks"
    yield ""
    yield (f"{len(cases)} random stacks of one to three suction points, each with one random fault, read in "
           "3 to 10 places with instruments that err within their data sheets' limits, while gusts shake "
           "pressures by 1 Pa. All of it is invented. The truth is drawn without the diagnosis' own tables: "
           "sizes come from other ranges, water is a slide gate, a weak fan runs slowly, what leaks in is "
           "warm room air. `faults.py` beside this page makes it; the tests ask the first 60 systems.")
    yield ""
    yield from summary(cases)
    yield ""
    yield ("The true fault is the right kind at the right place: the right one of three pits, water in "
           "the pit and not behind the first pipe.")
    yield ""
    yield "## By fault"
    yield ""
    yield from by_fault(cases)
    yield ""
    yield ("A weak fan, a blocked end and water above the fan are the same thing to whoever reads only below "
           "it, so they come out as groups. A reading taken elsewhere is often within the uncertainties of "
           "the place it should have been taken at: then nothing is wrong, as far as anyone can tell.")
    yield ""
    yield "## Is a probability what it says?"
    yield ""
    yield ("![calibration](faults.svg) Every finding of every system counts here, from the most to the least "
           "probable.")
    yield ""
    yield "| probability claimed | mean | share that was the truth | findings |"
    yield "| --- | --- | --- | --- |"
    for low, high, claimed, true, count in rows:
        yield f"| {low:g} to {high:g} | {claimed:.3f} | {true:.3f} | {count} |"
    yield ""
    yield "## Sound stacks"
    yield ""
    yield (f"Of {len(sound)} stacks with nothing wrong, {sum(one.rank == 0 for one in sound)} came out first as "
           f"such, and in {len(alarms)} a fault was claimed that was not there.")
    yield ""
    yield "## Claims that failed"
    yield ""
    yield from failures(cases)


def main():
    systems = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    cases = [faulty_systems.judge(seed) for seed in range(systems)]
    sound = [faulty_systems.judge(seed, "nothing") for seed in range(min(SOUND, systems))]
    (HERE / "faults.md").write_text("\n".join(page(cases, sound)) + "\n")
    picture(calibration(cases))
    print("\n".join(summary(cases)))


if __name__ == "__main__":
    main()
