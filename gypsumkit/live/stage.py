"""The projector view of an explorer: one switch, and a bar with what a lecturer needs beside the controls."""

import ipywidgets as widgets

from gypsumkit.figures.colours import ROOMS
from gypsumkit.figures.mix_words import PIN_NAMES, recipe_words
from gypsumkit.figures.staging import large_numbers, shown_choices, staged
from gypsumkit.launch.workspace import work_folder
from gypsumkit.live.controls import button, choice, full_name
from gypsumkit.live.stage_view import DARK, ESCAPE, LEAVES, ON_STAGE, STYLE, StageView
from gypsumkit.stage.slides import numbers_csv, save_new, slide_png, slide_svg
from gypsumkit.studies.recipe_list import read_recipes

LIGHT_ROOM, DARK_ROOM = ROOMS
GO, LEAVE = "Projector view", "Leave projector view"
NO_NUMBER = "none"


class Cover:
    """The switch that lets a block cover the window, and the one for a dark room.

    Parameters
    ----------
    block : Block
        What is projected.
    changed : callable
        Called after either switch was used.
    """

    def __init__(self, block, changed):
        self.block, self.changed = block, changed
        self.on, self.room = False, LIGHT_ROOM
        self.style = widgets.HTML(layout=widgets.Layout(display="none"))
        self.button = button(GO, "Cover the window with this, in large letters; the same button or the key Esc leaves")
        self.room_button = button("Dark room", "White on black for a dark room, or black on white for a light one")
        self.button.on_click(block.guard(self.switch))
        self.room_button.on_click(block.guard(self.switch_room))

    def switch(self):
        """Cover the window, or leave it."""
        self.on = not self.on
        self.style.value = STYLE + ESCAPE
        self.button.description = LEAVE if self.on else GO
        for widget, name in ((self.block, ON_STAGE), (self.button, LEAVES)):
            (widget.add_class if self.on else widget.remove_class)(name)
        self.changed()

    def switch_room(self):
        """Draw for a dark room, or for a light one again."""
        self.room = DARK_ROOM if self.room == LIGHT_ROOM else LIGHT_ROOM
        self.room_button.description = LIGHT_ROOM.capitalize() if self.room == DARK_ROOM else DARK_ROOM.capitalize()
        (self.block.add_class if self.room == DARK_ROOM else self.block.remove_class)(DARK)
        self.changed()


class Stage:
    """The projector view of one explorer.

    Parameters
    ----------
    explorer : Explorer
        Whose picture is projected.
    """

    def __init__(self, explorer):
        self.explorer = explorer
        self.cover = Cover(explorer, self.follow_switch)
        self.button = self.cover.button
        self.bar = widgets.Box([])
        self.bar.add_class("gypsumkit-controls")
        self.bar.add_class("gypsumkit-stage-bar")
        self._choices, self.outer_room, self._first = {}, None, explorer.stage_begins_with

    def follow_switch(self):
        """Show picture and bar as the switches say."""
        if self.cover.on and not self.bar.children:
            self._fill_bar()
        self.project(self.cover.room if self.cover.on else self.outer_room)

    def project(self, room):
        """Show the picture large for a room; None shows it as on the page.

        Parameters
        ----------
        room : str or None
            One of `gypsumkit.figures.colours.ROOMS`.
        """
        if room is None:
            self.explorer.picture.show_as(None)
            return
        if not self.bar.children:
            self._fill_bar()
        large = None if self.number.value is None else (self.number.label, self.number.value)
        self.explorer.picture.show_as(StageView(self.places, large, room))
        self.room = room

    def begin_with(self, picture=0, number=0):
        """Say which picture and which number of the table, by its place or its name, the stage shows at first."""
        self._first = picture, number

    @property
    def places(self):
        """Which pictures of the scene are shown."""
        return self._choices[self.shown.value]

    def _fill_bar(self):
        scene = self.explorer.picture.scene
        self.room = self.cover.room
        self._choices = shown_choices(scene)
        numbers = list(large_numbers(scene.numbers).items())
        self.shown = choice("Picture", self._choices, list(self._choices)[self._first[0]])
        alone = len(self._choices) > 1 or len(scene.pictures) == 1            # a row of narrow pictures has large numbers of its own
        names, wanted = [name for name, _ in numbers], self._first[1]
        place = names.index(wanted) if wanted in names else 0 if isinstance(wanted, str) else wanted
        self.number = choice("Large number", [*numbers, (NO_NUMBER, None)], numbers[place][1] if numbers and alone and place is not None else None)
        if self.number.value is None:
            self.number.index = len(numbers)          # or the list would show nothing at all
        self.recipes = widgets.Text(description="Compare recipes", placeholder="42, 50 of model plaster", continuous_update=False, **full_name())
        self.picture_button = button("Save picture", "As SVG and PNG, 1920 by 1080, in your work folder")
        self.numbers_button = button("Save numbers", "As a table (CSV) in your work folder")
        guard = self.explorer.guard
        self.shown.observe(guard(self.choose), "value")
        self.number.observe(guard(self.choose), "value")
        self.recipes.observe(guard(self.compare_recipes), "value")
        self.picture_button.on_click(guard(self.save_picture))
        self.numbers_button.on_click(guard(self.save_numbers))
        compares = [self.recipes] if self.explorer.can_pin and {"powder", "ratio"} <= set(self.explorer.controls) else []
        self.bar.children = [self.cover.room_button, *[self.shown] * (len(self._choices) > 1), *[self.number] * bool(numbers), *compares,
                             self.picture_button, self.numbers_button]

    def choose(self):
        """Show the pictures and the large number that are chosen."""
        self.project(self.room)

    # Compare and save --------------------------------------------------------------------------

    def compare_recipes(self):
        """Pin the recipes that were typed, up to three at once; the controls stay where they are.

        Raises
        ------
        Problem
            When one of them cannot be read or is no paste; then nothing is pinned or forgotten.
        """
        text = self.recipes.value.strip()
        if not text:
            return
        recipes = read_recipes(text, len(PIN_NAMES))
        self.explorer.pin_all([{"powder": each.powder, "ratio": each.water_powder_ratio} for each in recipes], [recipe_words(each) for each in recipes])

    def said(self):
        """Return, for a slide, what is set now and what is pinned."""
        lines = [f"Now: {settings_words(self.explorer)}."]
        if self.explorer.pins:
            lines += [f"Pinned {name}: {words}." for name, words in zip(PIN_NAMES, self.explorer.pinned_words)]
        return lines

    def save_picture(self):
        """Save what the stage shows as SVG and PNG; say where."""
        scene = staged(self.explorer.picture.scene, self.places)
        contents = {".svg": slide_svg(scene, self.said(), self.room), ".png": slide_png(scene, self.said(), self.room)}
        self._saved(contents, "picture")

    def save_numbers(self):
        """Save the numbers below the picture as a table; say where."""
        self._saved({".csv": numbers_csv(self.explorer.picture.scene, self.said())}, "numbers")

    def _saved(self, contents, what):
        name = type(self.explorer).__name__.removesuffix("Explorer")
        words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()
        files = save_new(contents, f"{words} {what}", work_folder())
        self.explorer.show_message(f"Saved in the folder “{files[0].parent.name}” of your work folder: {' and '.join(path.name for path in files)}.")


def settings_words(explorer):
    """Return the settings of an explorer in words, as its controls are named."""
    said = []
    for control in explorer.controls.values():
        if hasattr(control, "typed"):
            said.append(f"{control.slider.description}: {control.value:.4g}")
        elif isinstance(control.value, bool):
            said += [control.description] * control.value
        else:
            said.append(f"{control.description}: {getattr(control, 'label', None) or control.value}")
    return "; ".join(said)
