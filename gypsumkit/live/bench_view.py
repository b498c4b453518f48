"""What to do with real powder, and what to write down, as one block."""

import html

from gypsumkit.live.block import Block, text_area


class BenchView(Block):
    """A bench task: cautions first, then the steps, then what to record.

    Parameters
    ----------
    task : BenchTask
        The task.
    """

    def __init__(self, task):
        self.task = task
        parts = [f"<p><strong>{html.escape(task.title)}</strong></p>"]
        parts += [_list("Take care", "ul", task.cautions)] if task.cautions else []
        parts += [_list("Do", "ol", task.do), _list("Write down", "ul", task.record)]
        super().__init__([text_area("".join(parts))])

    def words(self):
        """Return the task in plain words."""
        lines = [self.task.title]
        lines += [f"Take care: {caution}" for caution in self.task.cautions]
        lines += [f"{number}. {step}" for number, step in enumerate(self.task.do, 1)]
        lines += [f"Write down: {item}" for item in self.task.record]
        return "\n".join(lines)


def _list(title, tag, items):
    return f"<p>{title}:</p><{tag}>" + "".join(f"<li>{html.escape(item)}</li>" for item in items) + f"</{tag}>"
