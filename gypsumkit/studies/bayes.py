"""Which of several suspects, after what was seen: Bayes' rule, and how much a check would tell.

Plain arithmetic of shares; what the suspects are is said elsewhere. The signs are taken as independent once the cause is
given (naive Bayes), and exactly one of the suspects as the cause.
"""

import numpy as np

from gypsumkit.problems import Problem


def posterior(prior, likelihoods):
    """Return the share of each suspect after what was seen.

    Parameters
    ----------
    prior : array
        Share or weight of each suspect before, 0 or more, not all 0.
    likelihoods : array
        One row for each thing seen: how likely each suspect shows it, 0 to 1. No row leaves the prior.

    Returns
    -------
    array
        Shares that add up to 1.

    Raises
    ------
    Problem
        When no suspect can show all that was seen.
    """
    weights = np.asarray(prior, dtype=float) * np.prod(np.reshape(likelihoods, (-1, len(prior))), axis=0)
    total = weights.sum()
    if not total > 0:
        raise Problem("No suspect can show all of this together: take back one of the signs.")
    return weights / total


def doubt_bits(shares):
    """Return how much is still open, as the number of yes-or-no questions it stands for (entropy).

    Parameters
    ----------
    shares : array
        Shares that add up to 1.

    Returns
    -------
    float
        Bits: 0 when one suspect has it all, 1 for two equal ones, 2 for four.
    """
    shares = np.asarray(shares, dtype=float)
    some = shares[shares > 0]
    return float(np.sum(some * np.log2(1.0 / some)))


def information_bits(shares, outcomes):
    """Return by how much a check is expected to lessen the doubt (mutual information of suspects and outcomes).

    Parameters
    ----------
    shares : array
        Share of each suspect, adding up to 1.
    outcomes : array
        One row for each outcome of the check: how likely it is under each suspect; each column adds up to 1.

    Returns
    -------
    float
        Bits, 0 or more: the doubt before minus the mean doubt after.
    """
    joint = np.asarray(outcomes, dtype=float) * np.asarray(shares, dtype=float)
    chances = joint.sum(axis=1)
    after = sum(chance * doubt_bits(row / chance) for chance, row in zip(chances, joint) if chance > 0)
    return max(doubt_bits(shares) - float(after), 0.0)
