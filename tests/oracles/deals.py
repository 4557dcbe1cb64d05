#!/usr/bin/env python3
"""Counts by hand what the exact log-rank test says of two small groups of lives: every way of dealing them to the two.

Plain Python, no libraries. Prints the numbers that tests/lives/sentences.rs holds the ledger to.
Lives are (age, end): F failed, P pulled good, R running on.
"""
from itertools import combinations

LEVEL = 0.10


def scores(lives):
    """Failed (1 or 0) less the pooled Nelson-Aalen sum up to the life's age."""
    ages = sorted({age for age, end in lives if end == "F"})
    step = {
        at: sum(age == at and end == "F" for age, end in lives) / sum(age >= at for age, _ in lives)
        for at in ages
    }
    return [(end == "F") - sum(step[at] for at in ages if at <= age) for age, end in lives]


def deals(first, second):
    """As uneven or more, all, and how many more of the second failed than were to be expected."""
    all_scores = scores(first + second)
    seen = sum(all_scores[len(first):])
    sums = [sum(one) for one in combinations(all_scores, len(second))]
    return sum(abs(one) >= abs(seen) - 1e-9 for one in sums), len(sums), seen


def needed(first, second):
    """The least further running of those of the second that run, in whole units, at which it comes out the better."""
    for more in range(0, 3 * max(age for age, _ in first + second) + 1):
        later = [(age + more, end) if end == "R" else (age, end) for age, end in second]
        uneven, ways, seen = deals(first, later)
        if seen < -1e-9 and uneven <= LEVEL * ways:
            return more
    return None


A = [(220, "F"), (260, "F"), (260, "F"), (210, "P")]
B = [(230, "P"), (170, "P"), (220, "P")]
for moved in [(310, "F"), (30, "F"), (30, "R"), (259, "R"), (260, "R"), (240, "P")]:
    uneven, ways, seen = deals(A, B + [moved])
    print(moved, f"{uneven} of {ways}, second less expected {seen:+.3f}, more needed: {needed(A, B + [moved])}")
