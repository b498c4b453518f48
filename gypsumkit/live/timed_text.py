"""HTML that holds a time: it is made anew each time it is sent, so that a page that is reloaded never gets an old one."""

import asyncio

import ipywidgets as widgets


class TimedText(widgets.HTML):
    """HTML made at the moment at which it is sent.

    Parameters
    ----------
    make : callable
        Returns the HTML of this moment; every string in it escaped.
    """

    def __init__(self, make):
        self._make = make
        super().__init__(make(), layout=widgets.Layout(width="100%"))

    def get_state(self, key=None, drop_defaults=False):
        """Return the state for the page, with the HTML of this moment."""
        state = super().get_state(key=key, drop_defaults=drop_defaults)
        if "value" in state:
            state["value"] = self._make()
        return state

    def send_now(self):
        """Send the HTML of this moment to every page that shows it."""
        self.send_state("value")


def running_loop():
    """Return the event loop that runs here, which can call a tick later; None outside a kernel."""
    try:
        return asyncio.get_running_loop()
    except RuntimeError:
        return None
