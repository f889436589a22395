/* Labels of a crowded cut never overlap and stay within the section. */
#include "render/section/cut_page.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

enum { N_ROW = 60, N_PART = 30 };

static gradin_arena *arena;
static gradin_model model;
static gradin_sight sight;
static gradin_cut cut;
static label_boxes labels;

/* Rows 0.3 m apart, two storeys over each other, long names of rows and rails. */
static void make_crowd(void) {
    static gradin_cut_row row[N_ROW];
    static gradin_cut_part part[N_PART];
    static gradin_rail rail[N_PART];
    static double c_m[N_ROW], visible[N_ROW], hidden[N_ROW * GRADIN_N_CAUSE];
    static gradin_vec3 eye[N_ROW], floor[N_ROW];
    static const char *id[N_ROW], *label[N_ROW], *block[] = {"Stalls with a long name"};
    static int zero[N_ROW], number[N_ROW];
    for (int i = 0; i < N_ROW; i++) {
        double z = i % 2 ? 4.2 : 0.02 * i;
        row[i] = (gradin_cut_row){i, 1.0 + 0.3 * i, 0.0, 1.0};
        floor[i] = (gradin_vec3){0.0, 0.0, z};
        eye[i] = (gradin_vec3){0.0, 0.0, z + 1.2};
        id[i] = "Stalls with a long name-1-1";
        label[i] = i % 3 ? "AA" : "long row";
        c_m[i] = i % 5 ? 0.0123 * i : NAN;
        number[i] = i + 1;
    }
    for (int i = 0; i < N_PART; i++) {
        rail[i].name = "rail at the front of the upper side balcony";
        part[i] = (gradin_cut_part){
            GRADIN_CUT_RAIL, rail[i].name, {2.0 + 0.5 * i, 2.1 + 0.5 * i}, {4.2, 5.3}};
    }
    for (int i = 0; i < N_PART; i++) { /* names differ by where they lie, not by their letters */
        char *name = gradin_arena_print(arena, "rail %d at the front of the balcony", i);
        rail[i].name = part[i].name = name;
    }
    model = (gradin_model){.layout_name = "Crowd",
                           .venue_name = "Invented",
                           .units = "m",
                           .ceiling_m = 8.0,
                           .block_name = block,
                           .n_block = 1,
                           .rail = rail,
                           .n_rail = N_PART};
    model.audience.crown_m = 0.12;
    model.audience.head_height_m = 0.23;
    model.audience.head_length_m = 0.19;
    model.audience.head_breadth_m = 0.15;
    model.seats = (gradin_seats){.n_seat = N_ROW,
                                 .id = id,
                                 .block = zero,
                                 .row = number,
                                 .row_label = label,
                                 .eye_m = eye,
                                 .floor_m = floor};
    sight = (gradin_sight){.n_seat = N_ROW, .c_m = c_m, .visible = visible, .hidden = hidden};
    cut = (gradin_cut){.model = &model,
                       .sight = &sight,
                       .seat = -1,
                       .unit = {0.0, 1.0},
                       .length_m = 22.0,
                       .part = part,
                       .n_part = N_PART,
                       .row = row,
                       .n_row = N_ROW};
    cut.near_edge.to_m = cut.far_edge.to_m = (gradin_vec2){NAN, NAN};
}

Test(cut_labels, never_overlap) {
    canvas page;
    arena = gradin_arena_create();
    make_crowd();
    cr_assert_eq(canvas_open_wide(&page, arena, CUT_WIDTH, CUT_HEIGHT, 0.25, NULL), GRADIN_OK);
    cut_draw(&page, &cut, &labels);
    cr_assert_eq(canvas_status(&page, NULL), GRADIN_OK);
    cr_assert_gt(labels.n, N_ROW / 2, "%d", labels.n);
    for (int i = 0; i < labels.n; i++) {
        gradin_box2 b = labels.box[i], w = labels.within;
        cr_assert(b.x_min_m >= w.x_min_m && b.x_max_m <= w.x_max_m && b.y_min_m >= w.y_min_m &&
                      b.y_max_m <= w.y_max_m,
                  "label %d", i);
        for (int k = 0; k < i; k++) cr_assert(boxes_are_apart(b, labels.box[k]), "%d and %d", k, i);
    }
    canvas_close(&page);
    gradin_arena_destroy(arena);
}

Test(cut_labels, one_without_a_free_place_is_left_out) {
    static label_boxes few = {.within = {0, 0, 100, 100}};
    gradin_box2 placed;
    cr_assert(boxes_place(&few, (gradin_vec2){50, 60}, 40, 20, 5, 0, &placed));
    cr_assert_eq(placed.y_min_m, 40);
    cr_assert_not(boxes_place(&few, (gradin_vec2){60, 65}, 40, 20, 5, 0, &placed));
    cr_assert(boxes_place(&few, (gradin_vec2){60, 65}, 40, 20, 5, 9, &placed));
    cr_assert_eq(placed.y_max_m, 40);
    cr_assert_not(boxes_place(&few, (gradin_vec2){50, 60}, 101, 20, 5, 9, &placed));
}
