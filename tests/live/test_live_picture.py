"""The live picture sends only what changed, and says in words what it shows."""

import re
from collections import OrderedDict

import pytest

from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Scene, Table
from gypsumkit.live.live_picture import LivePicture, front_html, pages_left_blank, scene_in_words, table_html
from tests.figures.demo_scene import demo_scene


@pytest.fixture(autouse=True)
def nothing_drawn_before(monkeypatch):
    """Pages are kept for all pictures: here each test begins without."""
    monkeypatch.setattr(LivePicture, "_pages", OrderedDict())


@pytest.fixture
def picture():
    return LivePicture(demo_scene(0.5))


def messages(picture, act):
    """Return which layers are sent to the page while something is done."""
    sent = []
    for name in ("_front", "_back"):
        getattr(picture, name).observe(lambda change, name=name: sent.append(name), "value")
    act()
    return sent


def test_both_layers_lie_in_one_cell_of_the_grid(picture):
    assert [layer.layout.grid_area for layer in picture.children] == ["1 / 1 / 2 / 2"] * 2


def test_a_move_sends_one_short_text(picture):
    assert messages(picture, lambda: picture.show(demo_scene(0.51))) == ["_front"]
    assert len(picture._front.value) < 30000
    assert "0.510" in picture._front.value and "0.500" not in picture._front.value


def test_the_page_is_sent_again_only_when_it_changes(picture):
    plaster = picture._back.value
    assert messages(picture, lambda: picture.show(demo_scene(0.5, powder="stone"))) == ["_back"]
    assert picture._back.value != plaster
    picture.show(demo_scene(0.5))
    assert picture._back.value == plaster


def test_a_page_drawn_before_is_not_drawn_again(picture, monkeypatch):
    drawn = []
    from gypsumkit.live import live_picture
    original = live_picture.backdrop_png
    monkeypatch.setattr(live_picture, "backdrop_png", lambda one: drawn.append(one.name) or original(one))
    picture.show(demo_scene(0.5, powder="stone"))
    assert drawn == ["flow"]  # only the picture whose title changed
    picture.show(demo_scene(0.6))
    picture.show(demo_scene(0.6, powder="stone"))
    assert drawn == ["flow"]


def test_of_two_pictures_that_begin_alike_the_page_is_drawn_once(picture, monkeypatch):
    from gypsumkit.live import live_picture
    monkeypatch.setattr(live_picture, "backdrop_png", lambda one: pytest.fail("it was drawn again"))
    assert LivePicture(demo_scene(0.5))._back.value == picture._back.value


def test_where_only_scenes_are_wanted_nothing_is_drawn_and_no_blank_page_is_kept(monkeypatch):
    from gypsumkit.live import live_picture
    with monkeypatch.context() as patched, pages_left_blank():
        patched.setattr(live_picture, "backdrop_png", lambda one: pytest.fail("it was drawn"))
        blank = LivePicture(demo_scene(0.5))
    assert "base64,\"" in blank._back.value and "base64,\"" not in LivePicture(demo_scene(0.5))._back.value


def test_few_pages_are_kept(picture, monkeypatch):
    from gypsumkit.live import live_picture
    monkeypatch.setattr(live_picture, "PAGES_KEPT", 4)
    for number in range(6):
        picture.show(demo_scene(0.5, powder="powder %d" % number))
    assert len(picture._pages) <= 4


def test_a_scene_that_cannot_be_drawn_leaves_the_old_one_in_place(picture):
    front, back, scene = picture._front.value, picture._back.value, picture.scene
    broken = Scene((Picture("one", (Panel("p", (0, 1), (0, 1), backdrop=("no mark",)),), ""),))
    with pytest.raises(KeyError):
        picture.show(broken)
    assert (picture._front.value, picture._back.value, picture.scene) == (front, back, scene)


def test_each_picture_has_its_words_and_the_still_page_has_none(picture):
    labels = re.findall(r'aria-label="([^"]*)"', picture._front.value)
    assert labels == [one.words for one in picture.scene.pictures]
    assert picture._back.value.count('alt=""') == 3


def test_the_words_hold_every_number_of_the_table(picture):
    words = picture.words()
    for row in picture.scene.numbers.rows:
        assert "{}: {}; plausible {}".format(*row) in words


def test_words_fall_back_on_those_of_the_pictures():
    scene = Scene((Picture("a", (), "First."), Picture("b", (), "Second.")))
    assert scene_in_words(scene) == "First.\nSecond."


def test_empty_cells_are_left_out_of_the_words():
    table = Table(("quantity", "now", "pinned"), (("spread", "92 mm", ""),))
    assert scene_in_words(Scene((Picture("a", (), "A."),), numbers=table)) == "A.\nspread: 92 mm"


def test_table_and_words_are_escaped():
    nasty = "<img src=x onerror=alert(1)>"
    table = Table((nasty, nasty), ((nasty, nasty),), caption=nasty)
    html = front_html(Scene((Picture("a", (), nasty),), words=nasty, numbers=table))
    assert "<img" not in html
    assert table_html(table).count("&lt;img") == 5


def test_a_table_names_its_rows_and_columns():
    html = table_html(Table(("quantity", "now"), (("spread", "92 mm"),)))
    assert re.search(r'<th scope="col"[^>]*>now</th>', html)
    assert re.search(r'<th scope="row"[^>]*>spread</th><td[^>]*>92 mm</td>', html)


def test_nothing_is_fetched(picture):
    sources = re.findall(r'(?:src|href)="([^"]{0,30})', picture._back.value + picture._front.value)
    assert sources and all(source.startswith("data:image/png;base64,") for source in sources)


def test_the_stored_picture_shows_what_is_on_the_screen(picture):
    before = picture.static_png()
    picture.show(demo_scene(0.7))
    assert before[:8] == b"\x89PNG\r\n\x1a\n"
    assert picture.static_png() != before


def test_one_picture_alone_does_not_grow_over_the_whole_screen():
    scene = Scene((Picture("a", (Panel("p", (0, 1), (0, 1), moving=(Marker(0.5, 0.5),),
                                       backdrop=(Line([0, 1], [0, 1]),)),), "A."),))
    assert "max-width:max(537px,min(684px,calc((100vh - 310px)*" in front_html(scene)


def test_a_high_picture_becomes_smaller_where_the_window_is_low():
    low, high = (front_html(Scene((Picture("a", (Panel("p", (0, 1), (0, 1), moving=(Marker(0.5, 0.5),), backdrop=(Line([0, 1], [0, 1]),)),), "A.", height=height),)))
                 for height in (420, 560))
    for html, shape in ((low, 1.0), (high, 0.75)):
        assert f"calc((100vh - 310px)*{shape:.4f})" in html
