"""How the stage looks: what a projected block covers, its letters and lines, and a scene written large."""

from html import escape

from gypsumkit.figures.colours import colour_code, in_room
from gypsumkit.figures.differences import differences
from gypsumkit.figures.staging import HEIGHT, NARROW, PAIR_HEIGHT, large_number, large_numbers, staged
from gypsumkit.figures.svg_renderer import overlay_svg
from gypsumkit.figures.tables import reached_by_key, table_html
from gypsumkit.live.live_picture import back_html, front_html

ON_STAGE, DARK, LEAVES = "gypsumkit-on-stage", "gypsumkit-dark", "gypsumkit-leaves"
# Beside a picture that stands alone are the controls and the numbers, so that the whole picture is in the window.
BESIDE = ":is(.gypsumkit-explorer.gypsumkit-on-stage, .gypsumkit-on-stage .gypsumkit-explorer):has(.gypsumkit-alone)"
# A block whose kernel has gone lets the page free: its button that leaves would do nothing any more.
_ALIVE = ":where(:not(.jupyter-widgets-disconnected))"


def _of_room(room):
    """The colours of a room as variables of the page."""
    with in_room(room):
        names = {"paper": ("white", "fill"), "ink": ("black", "text"), "link": ("blue", "text"), "edge": ("dark grey", "line"), "faint": ("pale grey", "fill")}
        return "".join(f"--gypsumkit-{name}: {colour_code(*colour)}; " for name, colour in names.items())


STYLE = """<style>
.gypsumkit-on-stage { LIGHT }
.gypsumkit-on-stage.gypsumkit-dark { DARK }
body:has(.gypsumkit-on-stage) :is(#jp-top-panel, #jp-menu-panel, #jp-bottom-panel, .jp-SideBar, #jp-left-stack, #jp-right-stack, .jp-Toolbar,
  .lm-DockPanel-tabBar, .jp-Cell:not(:has(.gypsumkit-on-stage)), .jp-Cell:has(.gypsumkit-on-stage) .jp-Cell-inputWrapper, .jp-cell-toolbar) { visibility: hidden; }
:is(.lm-Widget, .jp-WindowedPanel-outer, .jp-WindowedPanel-inner, .jp-WindowedPanel-viewport, .jp-OutputArea-child, .jp-Cell):has(.gypsumkit-on-stage) {
  contain: none !important; transform: none !important; will-change: auto !important; filter: none !important; z-index: auto !important; }
.gypsumkit-block.gypsumkit-on-stage { position: fixed; inset: 0; z-index: 9000; width: 100vw; height: 100vh; height: 100dvh; max-width: none; margin: 0; padding: 8px 16px 16px;
  overflow: auto; overflow-x: hidden; font-size: max(18px, 1.25vw); scroll-padding: 12px; display: flex; flex-flow: row wrap; align-content: flex-start; align-items: center; gap: 4px 22px; }
.gypsumkit-block.gypsumkit-on-stage > * { flex: none; margin: 0; max-width: 100%; }
.gypsumkit-block.gypsumkit-on-stage, .gypsumkit-on-stage .gypsumkit-block { color: var(--gypsumkit-ink); background: var(--gypsumkit-paper); max-width: none; }
.gypsumkit-on-stage :is(.widget-html-content, .widget-label, .widget-readout, label, input, select, textarea, button.jupyter-button, p, li, summary) {
  font-size: max(18px, 1.25vw) !important; color: var(--gypsumkit-ink) !important; line-height: 1.3; }
.gypsumkit-on-stage :is(input, select, textarea) { height: auto !important; min-height: 1.9em; background: var(--gypsumkit-paper) !important; border: 2px solid var(--gypsumkit-edge) !important; }
.gypsumkit-on-stage select { width: auto; max-width: 100%; appearance: auto; }
.gypsumkit-on-stage option { color: var(--gypsumkit-ink); background: var(--gypsumkit-paper); }
.gypsumkit-on-stage ::placeholder { color: var(--gypsumkit-edge) !important; opacity: 1; }
.gypsumkit-on-stage .gypsumkit-block button.jupyter-button, .gypsumkit-on-stage button.jupyter-button { color: var(--gypsumkit-link) !important; background: var(--gypsumkit-paper) !important;
  border: 2px solid var(--gypsumkit-link); padding: 2px 14px; min-height: 1.9em; }
.gypsumkit-on-stage .gypsumkit-bar { background: var(--gypsumkit-faint); }
.gypsumkit-on-stage > .gypsumkit-controls { display: contents; }
.gypsumkit-on-stage .gypsumkit-controls .widget-text input { width: 13ch; }
.gypsumkit-on-stage .gypsumkit-stage-bar .widget-text input { width: 17ch; max-width: 100%; }
.gypsumkit-on-stage .gypsumkit-stage-bar select { width: 10.5em; }
.gypsumkit-on-stage .gypsumkit-controls .widget-text { flex: 0 1 auto; }
.gypsumkit-on-stage input[type=checkbox] { min-height: 0; width: 1.3em; height: 1.3em !important; }
.gypsumkit-on-stage .gypsumkit-controls :is(.widget-inline-hbox, .widget-text, .widget-dropdown, .widget-slider) { height: auto; }
.gypsumkit-on-stage .gypsumkit-controls > .widget-hbox:has(.widget-slider) { flex: 1 1 40em !important; max-width: 60em; }
.gypsumkit-on-stage .gypsumkit-controls .widget-slider { flex: 1 1 25em !important; }
.gypsumkit-on-stage .widget-slider .slider-container { min-width: 6em; }
.gypsumkit-on-stage .noUi-target, .gypsumkit-on-stage .noUi-connects { background: var(--gypsumkit-edge) !important; }
.gypsumkit-on-stage .noUi-handle { border-color: var(--gypsumkit-link) !important; background: var(--gypsumkit-paper) !important; }
.gypsumkit-on-stage .noUi-handle:is(:focus, :hover) { background: var(--gypsumkit-link) !important; }
.gypsumkit-on-stage :is(button, input, select, textarea, summary, [tabindex]):focus-visible, .gypsumkit-on-stage :is(.noUi-handle, .widget-readout):focus {
  outline: 4px solid var(--gypsumkit-ink) !important; outline-offset: 3px; box-shadow: 0 0 0 3px var(--gypsumkit-paper) !important; }
.gypsumkit-block:not(.gypsumkit-on-stage) > .gypsumkit-stage-bar { display: none; }
.gypsumkit-stage-layer { display: flex; flex-flow: row wrap; gap: 0 16px; align-items: flex-start; }
.gypsumkit-stage-pictures { display: flex; flex-flow: row wrap; gap: 12px; line-height: 0; flex: none; }
.gypsumkit-stage-pictures > * { width: calc((100vw - 60px) / 2) !important; flex: none; }
.gypsumkit-stage-pictures.gypsumkit-many { gap: 4px; }
.gypsumkit-stage-pictures.gypsumkit-many > * { width: calc((100vw - 72px) / max(5, var(--pictures))) !important; }
@media (min-width: 901px) {
  BESIDE { padding-left: calc(50vw + 4px); min-height: min(100dvh, calc(50vw - 30px)); }
  .gypsumkit-on-stage BESIDE { position: relative; padding-left: calc(50vw - 12px); min-height: calc(50vw - 80px); }
  BESIDE :is(.gypsumkit-picture, .gypsumkit-picture *):has(.gypsumkit-alone) { position: static !important; overflow: visible !important; }
  BESIDE .gypsumkit-alone > .gypsumkit-stage-pictures { position: absolute; top: 8px; left: 16px; }
  .gypsumkit-on-stage BESIDE .gypsumkit-alone > .gypsumkit-stage-pictures { top: 0; left: 0; }
  BESIDE .gypsumkit-alone > .gypsumkit-stage-pictures > * { width: min(calc((100vw - 60px) / 2), calc((100dvh - var(--above, 20px)) * var(--shape))) !important; }
  .gypsumkit-on-stage .widget-readout { flex: none; width: auto; min-width: 4.5ch; }
  .gypsumkit-on-stage .gypsumkit-controls .widget-slider { min-width: min-content !important; }
  BESIDE .gypsumkit-controls .widget-slider { flex-basis: 14em !important; }
  .gypsumkit-on-stage .gypsumkit-explorer { --above: 12em; }
  .gypsumkit-on-stage .gypsumkit-explorer .gypsumkit-stage-pictures.gypsumkit-many > * { width: min(calc((100vw - 72px) / max(5, var(--pictures))), calc((100dvh - 17em) * var(--shape))) !important; }
  .gypsumkit-show-hands .gypsumkit-stage-pictures > * { width: min(calc((100vw - 60px) / 2), calc((100dvh - 15.5em) * var(--shape))) !important; }
}
.gypsumkit-stage-number { width: 100%; height: max(64px, 6.4vw); overflow: hidden; display: flex; flex-flow: row nowrap; gap: 0 1.2em; align-items: center; }
.gypsumkit-on-stage .gypsumkit-stage-side { flex: 1 1 22em; min-width: 0; padding: 0.4em 0 0; }
.gypsumkit-on-stage .gypsumkit-stage-side :is(table, th, td, caption, p) { font-size: max(18px, 1.46vw) !important; line-height: 1.3; }
.gypsumkit-on-stage .gypsumkit-stage-side table { border-collapse: collapse; font-variant-numeric: tabular-nums; overflow-wrap: normal; margin: 0 0 0.7em; }
.gypsumkit-on-stage .gypsumkit-stage-side :is(th, td) { padding: 0.1em 0.8em 0.1em 0; text-align: left; vertical-align: top; font-weight: normal; }
.gypsumkit-on-stage .gypsumkit-stage-side td { min-width: 5em; }
.gypsumkit-on-stage .gypsumkit-stage-side thead th { border-bottom: 3px solid var(--gypsumkit-edge); font-weight: bold; }
.gypsumkit-on-stage .gypsumkit-stage-side caption { text-align: left; font-weight: bold; }
.gypsumkit-stage-scroll { overflow-x: auto; }
.gypsumkit-on-stage .gypsumkit-large { font-weight: bold; line-height: 1.05; white-space: nowrap; font-size: min(7vw, calc(66vw / var(--letters))); }
.gypsumkit-on-stage .gypsumkit-stage-number .gypsumkit-large { font-size: min(6vw, calc(66vw / var(--letters))); }
.gypsumkit-on-stage .gypsumkit-large-name { font-size: max(20px, 1.8vw) !important; line-height: 1.2; }
@media (max-width: 900px) {
  .gypsumkit-block.gypsumkit-on-stage { padding: 6px; }
  .gypsumkit-stage-pictures, .gypsumkit-stage-pictures > * { width: 100% !important; }
  .gypsumkit-stage-pictures.gypsumkit-many > * { width: calc((100% - 4px) / 2) !important; }
  .gypsumkit-stage-number { height: 5.6em; flex-flow: column; align-items: flex-start; gap: 0; }
  .gypsumkit-on-stage .gypsumkit-large, .gypsumkit-on-stage .gypsumkit-stage-number .gypsumkit-large { font-size: min(13vw, calc(150vw / var(--letters))); }
  .gypsumkit-on-stage .widget-slider { flex-wrap: wrap; }
  .gypsumkit-on-stage .widget-slider > .widget-label { max-width: calc(100% - 8px) !important; }
}
</style>""".replace("BESIDE", BESIDE).replace("." + ON_STAGE, f".{ON_STAGE}{_ALIVE}").replace("LIGHT", _of_room("light room")).replace("DARK", _of_room("dark room"))

# The key Esc presses the button that leaves, of what was covered last.
ESCAPE = """<img alt="" style="display:none" src="data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw==" onload="
if (!window.gypsumkitEscape) {
  window.gypsumkitEscape = true;
  window.addEventListener('keydown', event => {
    const leave = [...document.querySelectorAll('.ON_STAGE:not(.jupyter-widgets-disconnected) .LEAVES')].pop();
    if (event.key !== 'Escape' || !leave || document.querySelector('.jp-Dialog')) return;
    event.preventDefault();
    event.stopPropagation();
    leave.click();
  }, true);
}">""".replace("ON_STAGE", ON_STAGE).replace("LEAVES", LEAVES)


class RoomView:
    """A scene arranged as on the page, in the colours of a room.

    Parameters
    ----------
    room : str
        One of `gypsumkit.figures.colours.ROOMS`.
    """

    back_html, front_html = staticmethod(back_html), staticmethod(front_html)

    def __init__(self, room):
        self.room = room

    def arranged(self, scene):
        """Return the scene as it is."""
        return scene


class StageView:
    """A scene on the stage: which of its pictures, which number very large, for which room.

    Parameters
    ----------
    places : sequence of int
        Which pictures of the scene, from left to right.
    number : tuple of str and int, or None
        Name of the row whose number is shown very large, and its place for a scene without such a row.
    room : str
        One of `gypsumkit.figures.colours.ROOMS`.
    told : bool
        Whether tables and words stand beside the pictures.
    """

    def __init__(self, places=(0,), number=None, room="light room", told=True):
        self.places, self.number, self.room, self.told = tuple(places), number, room, told

    def arranged(self, scene):
        """Return the scene with the pictures that are shown, made ready for the stage."""
        return staged(scene, self.places, HEIGHT if len(self.places) == 1 else PAIR_HEIGHT)

    def back_html(self, scene, pages):
        """Return the layer that stands still, one image for each picture."""
        images = "".join(f'<img alt="" decoding="sync" draggable="false" width="{picture.width:g}" height="{picture.height:g}" '
                         f'style="display:block;height:auto;margin:0" src="data:image/png;base64,{page}">'
                         for picture, page in zip(scene.pictures, pages))
        return self._layer(scene, images)

    def front_html(self, scene):
        """Return the layer that moves: marks, the large number, the tables and the words."""
        return self._layer(scene, "".join(overlay_svg(picture) for picture in scene.pictures), self._large(scene), self._side(scene) if self.told else "")

    def _layer(self, scene, pictures, large="", side=""):
        count, narrow = len(scene.pictures), scene.pictures[0].width < NARROW
        shape = scene.pictures[0].width / scene.pictures[0].height
        row = f'<div class="gypsumkit-stage-pictures{" gypsumkit-many" if narrow else ""}" style="--pictures:{count};--shape:{shape:.4f}">{pictures}</div>'
        above = f'<div class="gypsumkit-stage-number">{large}</div>' if self.number is not None and count == 2 and not narrow else ""
        beside = f'<div class="gypsumkit-stage-side">{"" if above else large}{side}</div>' if side else ""
        alone = " gypsumkit-alone" if count == 1 and not narrow and self.told else ""
        return f'<div style="width:0;min-width:100%"><div class="gypsumkit-stage-layer{alone}">{above}{row}{beside}</div></div>'

    def _large(self, scene):
        if self.number is None:
            return ""
        row, place = self.number
        found = large_number(scene.numbers, large_numbers(scene.numbers).get(row, place))
        if found is None:
            return ""
        name, number, span = found
        beside = f"{name}, plausible range {span}" if span else name
        return (f'<div class="gypsumkit-large" style="--letters:{max(len(number), 4)}">{escape(number)}</div>'
                f'<p class="gypsumkit-large-name">{escape(beside)}</p>')

    def _side(self, scene):
        tables = [table for table in (differences(scene.numbers), scene.numbers) if table is not None]
        words = scene.words or " ".join(picture.words for picture in scene.pictures)
        return "".join(_table_html(table) for table in tables) + f"<p>{escape(words)}</p>"


def _table_html(table):
    return f'<div class="gypsumkit-stage-scroll" {reached_by_key(table.caption or "numbers")}>{table_html(table)}</div>'
