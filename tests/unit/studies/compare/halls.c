#include "halls.h"

#include "support/whole.h"

#include <stdio.h>
#include <string.h>

static const gradin_vec2 plan_m[] = {{0, 0}, {10, 0}, {10, 20}, {0, 20}};
static const gradin_vec2 stage_m[] = {{2, 15}, {8, 15}, {8, 19}, {2, 19}};
static const gradin_focus stage = {.name = "stage", .polygon = {stage_m, 4}, .weight = 1.0};
static const char *const level_name[] = {"main floor"};
static void set_seats(small_hall *h) {
    h->block_name[0] = "Stalls", h->block_name[1] = "Side";
    for (int i = 0; i < HALL_SEATS; i++) {
        h->block[i] = i / HALL_ROW;
        h->row[i] = 1;
        h->number[i] = i % HALL_ROW + 1;
        snprintf(h->text[i], sizeof h->text[i], "%s-1-%d", h->block_name[h->block[i]],
                 h->number[i]);
        h->id[i] = h->text[i];
        h->floor_m[i] =
            (gradin_vec3){1.0 + 0.5 * (i % HALL_ROW), h->block[i] == 0 ? 5.0 : 9.0, 0.3};
    }
    h->model.seats = (gradin_seats){.n_seat = HALL_SEATS,
                                    .id = h->id,
                                    .block = h->block,
                                    .row = h->row,
                                    .number = h->number,
                                    .kind = h->kind,
                                    .floor_m = h->floor_m,
                                    .level = h->level,
                                    .n_sheet = 1};
    h->model.block_name = h->block_name;
    h->model.n_block = 2;
}

static void set_sight(small_hall *h) {
    for (int i = 0; i < HALL_SEATS; i++) {
        h->visible[i] = 1.0;
        h->distance_m[i] = 10.0;
        h->c_m[i] = h->c_row_m[i] = 0.09;
        h->turn_deg[i] = 5.0;
        h->worst_occluder[i] = h->front_seat[i] = -1;
        h->clear[i] = 0.5;
        h->clear_se[i] = 0.01;
    }
    h->a.sight = (gradin_sight){.n_seat = HALL_SEATS,
                                .n_sample = GRADIN_DEFAULT_SAMPLE,
                                .area_sample = {GRADIN_DEFAULT_SAMPLE},
                                .visible = h->visible,
                                .hidden = &h->hidden[0][0],
                                .worst_occluder = h->worst_occluder,
                                .worst_hidden = h->worst_hidden,
                                .c_case = h->c_case,
                                .c_m = h->c_m,
                                .c_row_m = h->c_row_m,
                                .c_class = h->rating,
                                .c_area = h->c_area,
                                .front_seat = h->front_seat,
                                .distance_m = h->distance_m,
                                .turn_deg = h->turn_deg,
                                .rating = h->rating,
                                .reason = h->reason};
    h->a.crowd = (gradin_crowd){.n_seat = HALL_SEATS,
                                .n_draw = 100,
                                .clear = h->clear,
                                .clear_se = h->clear_se,
                                .median = h->visible,
                                .p10 = h->visible};
}

static void set_noise(small_hall *h) {
    for (int i = 0; i < HALL_SEATS; i++) {
        h->lamax_db[i] = 40.0;
        h->verdict[i] = GRADIN_VERDICT_WITHIN;
        h->band_db[i][10] = 40.0;
    }
    h->pass = (gradin_pass){.name = "jet", .reference_m = 300.0};
    h->glass[0].r_db[10] = 30.0;
    h->element[0] = (gradin_element){.name = "pane", .width_m = 2.0, .height_m = 3.0};
    h->model.element = h->element;
    h->model.n_element = HALL_ELEMENTS;
    h->model.pass = &h->pass;
    h->a.has_noise = true;
    h->a.noise =
        (gradin_noise){.n_seat = HALL_SEATS,
                       .n_element = HALL_ELEMENTS,
                       .lamax_db = {h->lamax_db, h->lamax_db, h->lamax_db},
                       .band_db = &h->band_db[0][0],
                       .loudest_element = h->loudest,
                       .r_db = h->r_db,
                       .rw = &h->rw,
                       .share = h->share,
                       .glass = h->glass,
                       .systematic_db = h->systematic_db,
                       .uncertainty_db = h->uncertainty_db,
                       .verdict = h->verdict,
                       .uncertainty = {.source_db = 2.0, .scatter_db = 4.0, .room_db = 2.0},
                       .uncertainty_source = "made up"};
    for (int b = 0; b < GRADIN_N_BAND; b++) h->a.noise.uncertainty.envelope_db[b] = 3.0;
}

void small_hall_make(small_hall *h) {
    memset(h, 0, sizeof *h);
    set_seats(h);
    set_sight(h);
    h->model.venue_name = "Small room";
    h->model.layout_name = "Two rows";
    h->model.footprint = (gradin_polygon){plan_m, 4};
    h->model.ceiling_m = 8.0;
    h->model.axis_deg = 180.0;
    h->model.focus = &stage;
    h->model.n_focus = 1;
    h->model.level_name = h->model.sheet_name = level_name;
    h->model.n_level = 1;
    h->model.limits =
        (gradin_limits){.visible_min = {0.95, 0.85, 0.6}, .distance_max_m = {15.0, 20.0, 25.0}};
    h->model.criterion = (gradin_criterion){NAN, 45.0, 0.84};
    whole_model(&h->model);
    set_noise(h);
    h->a.model = &h->model;
}

void small_hall_mirror(small_hall *h) {
    for (int i = 0; i < HALL_SEATS; i++) h->floor_m[i].x = 10.0 - h->floor_m[i].x;
}
