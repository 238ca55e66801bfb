from functools import partial

from setwell.documents.drawing import LegendItem, legend, moved_apart, stacked, text_at, width_of
from setwell.documents.label_places import Box, box_around, label_places, least_covered

FRAME = Box(0.0, 0.0, 400.0, 300.0)


def sample(x: float, y: float, kind: str = "s") -> str:
    return text_at(x, y, kind, "s")


def test_a_legend_that_is_too_long_goes_on_in_a_next_row():
    items = [LegendItem("name of some length", partial(sample)) for _ in range(5)]
    _, narrow = legend(items, 0.0, 250.0, 0.0)
    _, wide = legend(items, 0.0, 5000.0, 0.0)
    assert narrow == 5 * wide
    assert legend([], 0.0, 100.0, 0.0) == ([], 0.0)


def test_names_over_near_marks_stand_in_rows_and_no_line_crosses_a_name():
    places = [40.0, 60.0, 150.0]
    names = ["a cold one", "another one", "warm"]
    found = stacked(places, names, 480.0)
    assert [anchor for _, anchor, _ in found] == ["start"] * 3
    # The leftmost mark is the highest, so its line passes left of the names below it.
    rows = [row for _, _, row in found]
    assert rows[0] > rows[1]
    for x, _, row in found:
        for other, name, (_, _, other_row) in zip(places, names, found, strict=True):
            passes = row > other_row and other < x < other + width_of(name)
            assert not passes


def test_a_name_near_the_right_end_reaches_to_the_left():
    ((_, anchor, row),) = stacked([470.0], ["late"], 480.0)
    assert (anchor, row) == ("end", 0)


def test_things_moved_apart_keep_their_order_and_distance():
    tops = moved_apart([10.0, 10.0, 12.0], [20.0, 20.0, 20.0], 0.0, 200.0, 3.0)
    assert tops == [10.0, 33.0, 56.0]
    assert moved_apart([90.0, 95.0], [20.0, 20.0], 0.0, 100.0, 4.0) == [56.0, 80.0]


def test_thirty_labels_cover_neither_marks_nor_each_other():
    marks = [(200.0 + 23.0 * (n % 6), 120.0 + 23.0 * (n // 6)) for n in range(30)]
    taken = [box_around(x, y, 12.0, 12.0) for x, y in marks]
    places = label_places(marks, [10.0] * 30, 12.0, taken, FRAME)
    boxes = [box_around(place.x, place.y, 10.0, 12.0) for place in places]
    for number, box in enumerate(boxes):
        others = boxes[:number] + boxes[number + 1 :]
        # A hundredth of a label is less than the air around its letter.
        assert all(box.overlap(other) < 0.01 * box.area for other in [*others, *taken])


def test_a_label_at_the_edge_stays_inside():
    (place,) = label_places([(399.0, 1.0)], [12.0], 14.0, [], FRAME)
    box = box_around(place.x, place.y, 12.0, 14.0)
    assert box.overlap(FRAME) == box.area


def test_only_a_far_label_has_a_leader():
    (near,) = label_places([(100.0, 100.0)], [10.0], 12.0, [], FRAME)
    (far,) = label_places([(100.0, 100.0)], [10.0], 12.0, [box_around(100, 100, 60, 60)], FRAME)
    assert not near.has_leader
    assert far.has_leader


def test_the_first_place_that_covers_nothing_is_taken():
    choices = [box_around(10, 10, 5, 5), box_around(50, 50, 5, 5), box_around(90, 90, 5, 5)]
    assert least_covered(choices, [box_around(12, 12, 5, 5)]) == choices[1]
