/* The keys of a row of boxes. */
#include "files/stated/layout.h"

static const schema_key boxes_keys[] = {
    KEY_TEXT(stated_boxes, name, "name", "of a box, before its number; a seat is NAME 1-row-number",
             REQUIRED),
    KEY_TEXT(stated_boxes, level, "level", "that they are part of", .preset_note = "boxes"),
    KEY_POINTS(stated_boxes, front_m, n_front, "front",
               "line of their front edges on plan, from the left to the right of who sits there",
               REQUIRED, UNIT(LENGTH), .n_least = 2, .n_most = 2),
    KEY_INTEGER(stated_boxes, n_box, "count", "boxes side by side", REQUIRED, LIMITS(1, 100)),
    KEY_LENGTH(stated_boxes, depth_m, "depth", "from the front edge to the back", REQUIRED,
               LIMITS(0.8, 10)),
    KEY_LENGTH(stated_boxes, floor_m, "floor", "height of the floor", REQUIRED, LIMITS(-5, 60)),
    KEY_LENGTH(stated_boxes, thickness_m, "thickness", "of the floor", LIMITS(0.02, 3),
               PRESET(0.25)),
    KEY_INTEGER(stated_boxes, n_row, "rows", "of seats in each box", REQUIRED, LIMITS(1, 10)),
    KEY_INTEGER(stated_boxes, n_seat, "seats", "in each row of a box", REQUIRED, LIMITS(1, 50)),
    KEY_LENGTH(stated_boxes, seat_width_m, "seat_width", "from seat to seat", REQUIRED,
               LIMITS(0.4, 3)),
    KEY_LENGTH(stated_boxes, row_depth_m, "row_depth", "of every row", REQUIRED, LIMITS(0.4, 5)),
    KEY_LENGTH(stated_boxes, riser_m, "riser", "rise from row to row", LIMITS(0, 2)),
    KEY_LENGTH(stated_boxes, clear_m, "clear", "from the front edge to the first row's tread",
               LIMITS(0, 5), PRESET(0.3)),
    KEY_NUMBER(stated_boxes, turn_deg, "turn_deg",
               "chairs turned clockwise from the way the boxes face", UNIT(DEG), LIMITS(-90, 90)),
    KEY_LENGTH(stated_boxes, partition_m, "partition", "thickness of the walls at both sides",
               LIMITS(0.01, 2), PRESET(0.1)),
    KEY_LENGTH(stated_boxes, partition_height_m, "partition_height",
               "of these walls above the floor; 0: none", LIMITS(0, 20)),
    KEY_LENGTH(
        stated_boxes, parapet_m, "parapet",
        "height of the solid parapet above the floor; local code and a licensed professional "
        "decide",
        REQUIRED, LIMITS(0.1, 3)),
    KEY_LENGTH(stated_boxes, parapet_thickness_m, "parapet_thickness", "of the parapet",
               LIMITS(0.01, 0.5), PRESET(0.1))};
const schema_table boxes_table = {.name = "boxes",
                                  .meaning = "a row of boxes: floor, walls, parapet and seats",
                                  TABLE_(stated_boxes, boxes_keys),
                                  TABLE_AT(stated_boxes)};
