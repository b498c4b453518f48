"""The glossary on the page: searched by typing, with a sentence where nothing is found."""

from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.glossary_panel import GlossaryPanel
from gypsumkit.quiz.glossary import ALL_TERMS


def test_it_is_found_by_its_name_and_shows_every_term():
    panel = panel_class("glossary")()
    assert isinstance(panel, GlossaryPanel) and panel.found == ALL_TERMS
    assert panel.words().count("(lesson ") == len(ALL_TERMS) and panel.shown.value.count("<tr>") == len(ALL_TERMS) + 1


def test_typing_searches_and_the_button_shows_all_again():
    panel = GlossaryPanel()
    panel.wanted.value = "Dihydrate"
    assert panel.found[0].name == "gypsum" and "water/powder ratio" not in panel.words()
    panel.all_button.click()
    assert panel.found == ALL_TERMS and panel.wanted.value == ""


def test_what_is_not_found_is_said_in_one_sentence_and_what_was_typed_stays():
    panel = GlossaryPanel()
    for typed, said in (("<b>xqz</b>", "type a shorter part"), ("q" * 500, "type a shorter part"), ("?!", "type a shorter part")):
        panel.wanted.value = typed
        assert said in panel.message.value and panel.wanted.value == typed and panel.errors == []
        assert "<b>xqz" not in panel.message.value
        assert panel.shown.value == ""
    panel.wanted.value = "temparature"
    assert "do you mean “setting temperature”?" in panel.message.value and panel.found[0].name == "heat of setting" and "heat of setting" in panel.shown.value
    panel.wanted.value = "porosty"
    assert panel.message.value == "" and panel.found[0].name == "porosity"
    panel.wanted.value = "set"
    assert panel.message.value == "" and panel.found


def test_what_is_typed_cannot_become_a_tag():
    panel = GlossaryPanel("</caption><b>")
    assert "<b>" not in panel.shown.value
