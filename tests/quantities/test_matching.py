"""The most pairs, against another library's matching of greatest size."""

import networkx
import numpy as np
import pytest

from budget.quantities.laid.matching import most_pairs


def graph(seed: int, most: int):
    """A random graph of up to so many points, sparse to dense."""
    lots = np.random.default_rng(seed)
    count = int(lots.integers(1, most))
    upper = np.triu(lots.random((count, count)) < lots.uniform(0.03, 0.6), 1)
    return upper | upper.T


def by_networkx(fits) -> int:
    found = networkx.from_numpy_array(fits)
    return len(networkx.max_weight_matching(found, maxcardinality=True))


def agrees(seeds: range, most: int) -> None:
    for seed in seeds:
        fits = graph(seed, most)
        assert most_pairs(fits) == by_networkx(fits), seed


def test_as_many_pairs_as_another_library_finds():
    agrees(range(150), 24)


@pytest.mark.thorough
def test_as_many_pairs_as_another_library_finds_in_many_graphs():
    agrees(range(150, 4000), 26)
    agrees(range(4000, 4020), 120)


def test_nothing_pairs_with_itself():
    assert most_pairs(np.eye(3, dtype=bool)) == 0
    assert most_pairs(np.zeros((3, 3), dtype=bool)) == 0
    assert most_pairs(np.zeros((0, 0), dtype=bool)) == 0


def test_a_ring_found_through_a_ring_found_before():
    """All but one of thirteen pair: 0, 8, 9 and 1, 10, 11 are rings, and 8 and 10 go together."""
    edges = [(0, 4), (0, 8), (0, 9), (1, 4), (1, 6), (1, 10), (1, 11), (2, 3), (4, 12), (5, 6),
             (8, 9), (8, 10), (10, 11), (7, 7)]  # fmt: skip
    fits = np.zeros((13, 13), dtype=bool)
    for a, b in edges:
        fits[a, b] = fits[b, a] = True
    pairs = [(0, 9), (8, 10), (1, 11), (2, 3), (4, 12), (5, 6)]
    assert {point for pair in pairs for point in pair} == set(range(13)) - {7}
    assert all(fits[pair] for pair in pairs)
    assert most_pairs(fits) == len(pairs)


def test_rings_of_odd_length_joined_by_a_bridge():
    """Two triangles and a bridge: three pairs, though pairing inside a triangle first finds two."""
    fits = np.zeros((6, 6), dtype=bool)
    for a, b in ((0, 1), (1, 2), (0, 2), (3, 4), (4, 5), (3, 5), (2, 3)):
        fits[a, b] = fits[b, a] = True
    assert most_pairs(fits) == 3


def test_rings_within_rings_hide_no_pair():
    """Ten things in five pairs: 0 and 8, 7 and 9, 1 and 3, 2 and 4, 5 and 6."""
    near = {0: (1, 3, 7, 8), 1: (2, 3), 2: (3, 4), 3: (9,), 4: (5, 6, 9), 5: (6, 9), 6: (9,),
            7: (9,)}  # fmt: skip
    fits = np.zeros((10, 10), dtype=bool)
    for one, others in near.items():
        for other in others:
            fits[one, other] = fits[other, one] = True
    assert most_pairs(fits) == 5 == by_networkx(fits)


def test_a_thing_that_goes_with_itself_is_one_thing():
    assert most_pairs(np.eye(5, dtype=bool)) == 0
    assert most_pairs(np.ones((5, 5), dtype=bool)) == 2
