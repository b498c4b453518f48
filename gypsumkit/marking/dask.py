"""An optional extra: marking on the workers of a Dask scheduler, which is only loaded when asked for."""

import contextlib

from gypsumkit.problems import Problem

WAIT_S = 10


@contextlib.contextmanager
def executor_at(address, wait_s=WAIT_S):
    """Lend an executor whose work is done by the workers of a scheduler; each must have this course installed.

    Parameters
    ----------
    address : str
        Of the scheduler, such as ``"tcp://192.0.2.7:8786"``.
    wait_s : float
        How long to wait for an answer.

    Yields
    ------
    concurrent.futures.Executor

    Raises
    ------
    Problem
        When Dask is not installed here, or no scheduler answers at this address, or it has no worker.
    """
    try:
        from distributed import Client
    except ImportError:
        raise Problem("Marking with a scheduler needs the package distributed, which is not installed: add it to the course's Python, "
                      "or leave --scheduler out and all cores of this computer are used.") from None
    try:
        client = Client(address, timeout=wait_s)
    except (OSError, ValueError, TypeError, RuntimeError) as error:
        raise Problem(f"No scheduler answers at {str(address)[:80]} ({type(error).__name__}): start it, or look how its address is written.") from None
    with client:
        if not client.scheduler_info()["workers"]:
            raise Problem(f"The scheduler at {str(address)[:80]} has no worker yet: start some, then mark again.")
        with client.get_executor() as executor:
            yield executor
