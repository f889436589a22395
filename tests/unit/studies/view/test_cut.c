/* Cuts through the demo's halls against hand calculation and the table of seats. */
#include "gradin/files.h"
#include "gradin/studies/cut.h"

#include <criterion/criterion.h>
#include <stdio.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_sight sight;
static gradin_cut cut;

static void read_model(const char *layout) {
    char path[512];
    arena = gradin_arena_create();
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s", layout);
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK, "%s", path);
    cr_assert_eq(gradin_sight_compute(arena, &model, NULL, &sight, NULL), GRADIN_OK);
}

static gradin_status compute(gradin_cut_options how) {
    return gradin_cut_compute(arena, &model, &sight, &how, &cut, NULL);
}

static void release(void) {
    gradin_arena_destroy(arena);
}
TestSuite(cut, .fini = release, .timeout = 300);

static const gradin_cut_row *row_of(int seat) {
    for (int i = 0; i < cut.n_row; i++)
        if (cut.row[i].seat == seat) return &cut.row[i];
    return NULL;
}

/* D and T of the table, measured along the cut: the near edge lies D + T ahead of the eye, where C
 * is measured to the nearest floor's edge (C = D(N+R)/(D+T) - R, reference/whose-head). */
static int expect_seat(int seat) {
    cr_assert_eq(compute((gradin_cut_options){.seat = seat}), GRADIN_OK);
    const gradin_cut_row *row = row_of(seat);
    cr_assert_not_null(row, "%s", model.seats.id[seat]);
    cr_assert_lt(fabs(row->aside_m), 1e-9);
    if (isnan(sight.c_m[seat]) || isnan(cut.near_edge.to_m.x) || sight.c_area[seat] < 0) return 0;
    double ahead_m = cut.near_edge.to_m.x - row->x_m;
    cr_assert_float_eq(ahead_m, sight.d_m[seat] + sight.t_m[seat], 1e-6, "%s",
                       model.seats.id[seat]);
    double eye_m = model.seats.eye_m[seat].z, focus_m = cut.near_edge.to_m.y;
    double d = sight.d_m[seat], t = sight.t_m[seat], r = sight.r_m[seat];
    cr_assert_float_eq(eye_m - focus_m, sight.n_m[seat] + r, 1e-6);
    cr_assert_float_eq(d * (eye_m - focus_m) / (d + t) - r, sight.c_m[seat], 1e-9);
    return 1;
}

Test(cut, its_lengths_give_the_c_of_the_table) {
    const char *const layout[] = {"thrust.yaml", "hexagon_stage.yaml"};
    for (int k = 0; k < 2; k++) {
        int n = 0;
        read_model(layout[k]);
        for (int i = 3; i < model.seats.n_seat; i += 29) n += expect_seat(i);
        cr_assert_geq(n, 5, "%s: %d", layout[k], n);
        if (k == 0) release();
    }
}

/* The rays to the edges against brute force over all occluders. */
Test(cut, rays_end_where_brute_force_says) {
    int n[2] = {0, 0};
    read_model("thrust.yaml");
    for (int i = 0; i < model.seats.n_seat; i += 11) {
        cr_assert_eq(compute((gradin_cut_options){.seat = i}), GRADIN_OK);
        if (isnan(cut.far_edge.to_m.x)) continue;
        double x = cut.far_edge.to_m.x;
        gradin_vec3 end = {cut.from_m.x + x * cut.unit.x, cut.from_m.y + x * cut.unit.y,
                           cut.far_edge.to_m.y};
        bool is_met = false;
        for (int k = 0; k < model.scene.n_occluder; k++)
            is_met |=
                model.scene.occluder[k].owner != i &&
                gradin_shape_hit(&model.scene.occluder[k].shape, model.seats.eye_m[i], end, NULL);
        cr_assert_eq(is_met, cut.far_edge.blocked != NULL, "%s", model.seats.id[i]);
        n[is_met]++;
    }
    cr_assert_gt(n[0], 3);
    cr_assert_gt(n[1], 3);
}

/* Along a line: what lies in it by the plan alone. */
Test(cut, a_line_meets_what_lies_on_it) {
    read_model("thrust.yaml");
    gradin_box2 box = gradin_polygon_bounds(model.footprint);
    double x = model.seats.eye_m[model.seats.n_seat / 3].x + 0.05;
    gradin_cut_options how = {
        .seat = -1, .from_m = {x, box.y_min_m - 5.0}, .to_m = {x, box.y_max_m + 5.0}};
    cr_assert_eq(compute(how), GRADIN_OK);
    cr_assert_leq(cut.length_m, box.y_max_m - box.y_min_m + 1e-9);
    cr_assert_gt(cut.n_row, 0);
    for (int i = 0; i < cut.n_row; i++) {
        int seat = cut.row[i].seat;
        cr_assert_float_eq(cut.row[i].aside_m, model.seats.eye_m[seat].x - x, 1e-9);
        cr_assert_float_eq(cut.row[i].x_m, model.seats.eye_m[seat].y - cut.from_m.y, 1e-9);
        cr_assert_leq(fabs(cut.row[i].aside_m), 0.5 * model.seats.width_m[seat] + 0.0011);
        if (i > 0) cr_assert_geq(cut.row[i].x_m, cut.row[i - 1].x_m);
    }
    for (int i = 0; i < cut.n_part; i++) cr_assert_lt(cut.part[i].x_m[0], cut.part[i].x_m[1]);
}

Test(cut, a_line_without_length_or_room_is_refused) {
    read_model("hexagon_stage.yaml");
    cr_assert_eq(compute((gradin_cut_options){.seat = -1, .from_m = {5, 5}, .to_m = {5, 5}}),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(compute((gradin_cut_options){.seat = -1, .from_m = {900, 0}, .to_m = {901, 0}}),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(compute((gradin_cut_options){.seat = 1000000}), GRADIN_BAD_USE);
}
