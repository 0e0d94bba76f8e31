"""Which found things are mirror images of one another across the centreline, so that one stands for both."""

from collections.abc import Hashable, Sequence

import numpy as np

from stringerlab.geometry.graph import Array, Index


def images(chains: Sequence[Index], labels: Sequence[Hashable], mirror: Index) -> list[int]:
    """Return for each chain of vertices the one that is its mirror image: itself, another, or -1.

    Parameters
    ----------
    chains
        Vertices of each, in any order.
    labels
        What has to agree besides.
    mirror
        (v,) the vertex at each vertex's mirror image; -1 for none.
    """
    places: dict[Hashable, int] = {}
    for number, (chain, label) in enumerate(zip(chains, labels, strict=True)):
        places.setdefault((label, frozenset(chain.tolist())), number)
    found: list[int] = []
    for chain, label in zip(chains, labels, strict=True):
        across = mirror[chain]
        lacks = bool((across < 0).any())
        found.append(-1 if lacks else places.get((label, frozenset(across.tolist())), -1))
    return found


def judged_once(image: Sequence[int], middle: Array) -> list[tuple[int, ...]]:
    """Return the groups that are judged once, in order: one thing, or it and its image, to port first."""
    groups: list[tuple[int, ...]] = []
    done = np.zeros(len(image), bool)
    for number, other in enumerate(image):
        if done[number]:
            continue
        if other in (-1, number) or done[other] or image[other] != number:
            groups.append((number,))
        else:
            done[other] = True
            pair = (number, other)
            groups.append(pair if middle[number, 1] >= middle[other, 1] else (other, number))
        done[number] = True
    return groups
