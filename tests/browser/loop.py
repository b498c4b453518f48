"""The one event loop on which the browser lives."""

import asyncio

_loop = asyncio.new_event_loop()


def in_loop(coroutine):
    """Return what a coroutine gives, run on the loop of the browser."""
    return _loop.run_until_complete(coroutine)
