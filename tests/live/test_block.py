"""A block reads as words, escapes what it shows, and brings every error to the page."""

import base64

import pytest
from traitlets import TraitError

from gypsumkit.live.block import Block, Words, bar, paragraphs, text_area, verdict_bar
from gypsumkit.problems import Problem


class Plain(Block):
    """The smallest block."""

    def __init__(self, picture=None):
        self.picture = picture
        super().__init__([text_area("<p>hello</p>")])

    def words(self):
        return "hello in words"

    def picture_png(self):
        return self.picture


def test_the_bundle_holds_the_words_and_the_live_view():
    bundle = Plain()._repr_mimebundle_()
    assert bundle["text/plain"] == "hello in words"
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert "image/png" not in bundle


def test_the_bundle_holds_the_picture_when_there_is_one():
    bundle = Plain(b"\x89PNG picture")._repr_mimebundle_()
    assert base64.b64decode(bundle["image/png"]) == b"\x89PNG picture"


def test_the_style_is_added_once_when_shown():
    block = Plain()
    block._repr_mimebundle_()
    block._repr_mimebundle_()
    assert sum("<style>" in getattr(child, "value", "") for child in block.children) == 1
    block.show([text_area("new")])
    block._repr_mimebundle_()
    assert [getattr(child, "value", "")[:7] for child in block.children] == ["<style>", "new", ""]


def test_a_problem_is_shown_as_its_sentence_and_the_callback_goes_on():
    block = Plain()

    def refuse():
        raise Problem("Write <b>54 mL</b> & not 54.")
    assert block.guard(refuse)("the button that was clicked") is None
    assert "Write &lt;b&gt;54 mL&lt;/b&gt; &amp; not 54." in block.message.value
    assert 'role="status"' in block.message.value and 'aria-live="polite"' in block.message.value
    assert block.errors == []


@pytest.mark.parametrize("error", [ZeroDivisionError("division by zero"), KeyError("x"), OSError("disk"), TraitError("trait"), RecursionError("deep")])
def test_any_other_error_is_shown_and_kept_for_the_checks(error):
    block = Plain()

    def fail():
        raise error
    block.guard(fail)()
    assert type(error).__name__ in block.message.value and "What you entered is kept" in block.message.value
    assert block.errors == [error]


def test_a_success_clears_the_last_message_and_gives_its_result():
    block = Plain()
    block.show_message("old")
    assert block.guard(lambda: 7)() == 7
    assert block.message.value == ""


def test_stopping_the_program_is_not_swallowed():
    def stop():
        raise KeyboardInterrupt
    with pytest.raises(KeyboardInterrupt):
        Plain().guard(stop)()


def test_no_tag_survives():
    for shown in (paragraphs("<img src=x onerror=alert(1)>\n<script>"), bar("told", "●", "<b>x</b>\n<script>y</script>"), verdict_bar("Correct. <i>z</i>")):
        for tag in ("<img", "<script", "<b>", "<i>"):
            assert tag not in shown


def test_the_verdict_is_said_in_words_and_shown_by_more_than_colour():
    right, wrong = verdict_bar("Correct. Yes."), verdict_bar("Not yet. No.")
    assert "gypsumkit-correct" in right and "✓" in right and "Correct. Yes." in right
    assert "gypsumkit-not-yet" in wrong and "↻" in wrong and "Not yet. No." in wrong


def test_words_show_as_they_are():
    assert repr(Words("two\nlines")) == "two\nlines"
    assert Words("x")._repr_mimebundle_() == {"text/plain": "x"}
