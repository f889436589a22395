/* The file that is written of a draft reads back as the very model that the draft was checked with,
 * for every form, in metres and in feet. */
#include "gradin/files.h"
#include "gradin/studies/draft.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stddef.h>
#include <stdio.h>

static void same_points(const gradin_vec2 *a, const gradin_vec2 *b, int n, const char *what) {
    for (int i = 0; i < n; i++)
        cr_expect(a[i].x == b[i].x && a[i].y == b[i].y, "%s: corner %d", what, i);
}

static void same_areas(const gradin_area *a, int n_a, const gradin_area *b, int n_b) {
    cr_assert_eq(n_a, n_b);
    for (int i = 0; i < n_a; i++) {
        cr_expect_str_eq(a[i].name, b[i].name);
        cr_assert_eq(a[i].polygon.n_corner, b[i].polygon.n_corner);
        same_points(a[i].polygon.corner_m, b[i].polygon.corner_m, a[i].polygon.n_corner, a[i].name);
    }
}

static void same_seats(const gradin_seats *a, const gradin_seats *b) {
    size_t n = (size_t)a->n_seat;
    cr_assert_eq(a->n_seat, b->n_seat);
    cr_assert_gt(a->n_seat, 0);
    cr_expect_arr_eq(a->floor_m, b->floor_m, n * sizeof *a->floor_m);
    cr_expect_arr_eq(a->eye_m, b->eye_m, n * sizeof *a->eye_m);
    cr_expect_arr_eq(a->facing_deg, b->facing_deg, n * sizeof *a->facing_deg);
    cr_expect_arr_eq(a->width_m, b->width_m, n * sizeof *a->width_m);
    cr_expect_arr_eq(a->depth_m, b->depth_m, n * sizeof *a->depth_m);
    cr_expect_arr_eq(a->kind, b->kind, n * sizeof *a->kind);
    cr_expect_arr_eq(a->section, b->section, n * sizeof *a->section);
    for (size_t i = 0; i < n; i++) cr_expect_str_eq(a->id[i], b->id[i]);
}

static void same_machines(const gradin_machinery *a, const gradin_machinery *b) {
    cr_assert_eq(a->n_machine, b->n_machine);
    for (int i = 0; i < a->n_machine; i++)
        cr_expect(gradin_setting_equal(&a->machine[i].setting, &b->machine[i].setting), "%s",
                  a->machine[i].name);
}

static void same_rails(const gradin_model *a, const gradin_model *b) {
    cr_assert_eq(a->n_rail, b->n_rail);
    for (int i = 0; i < a->n_rail; i++) {
        const gradin_rail *p = &a->rail[i], *q = &b->rail[i];
        cr_expect_str_eq(p->name, q->name);
        cr_expect(p->height_m == q->height_m && p->thickness_m == q->thickness_m &&
                  p->n_bar == q->n_bar && p->kind == q->kind);
        cr_assert_eq(p->n_point, q->n_point);
        cr_expect_arr_eq(p->point_m, q->point_m, (size_t)p->n_point * sizeof *p->point_m, "%s",
                         p->name);
    }
}

static void same_limits(const gradin_limits *a, const gradin_limits *b) {
    cr_expect_arr_eq(a, b, offsetof(gradin_limits, is_gap_stated));
    cr_expect_eq(a->is_gap_stated, b->is_gap_stated);
    cr_expect(a->brief && b->brief);
    cr_expect_str_eq(a->brief, b->brief);
}

static void same_models(const gradin_model *a, const gradin_model *b) {
    cr_expect_str_eq(a->layout_name, b->layout_name);
    cr_expect_str_eq(a->units, b->units);
    cr_expect_eq(a->form, b->form);
    cr_expect(a->axis_deg == b->axis_deg || (isnan(a->axis_deg) && isnan(b->axis_deg)));
    same_seats(&a->seats, &b->seats);
    same_machines(a->machinery, b->machinery);
    same_rails(a, b);
    same_areas(a->aisle, a->n_aisle, b->aisle, b->n_aisle);
    cr_assert_eq(a->n_focus, 1);
    cr_assert_eq(b->n_focus, 1);
    same_points(a->focus[0].polygon.corner_m, b->focus[0].polygon.corner_m, 4, "focus");
    cr_expect_eq(a->focus[0].z_m, b->focus[0].z_m);
    cr_expect_eq(a->scene.n_occluder, b->scene.n_occluder);
    same_limits(&a->limits, &b->limits);
    cr_expect_arr_eq(&a->audience, &b->audience, sizeof a->audience);
    cr_expect_eq(a->criterion.nc, b->criterion.nc);
    cr_expect_eq(a->pass->speed_ms, b->pass->speed_ms);
}

typedef struct trial {
    char folder[24], wishes[32];
    bool is_feet;
} trial;

ParameterizedTestParameters(draft, the_file_reads_back_as_the_model_of_the_draft) {
    static trial all[] = {
        {"demo", "wishes/thrust.yaml", false},    {"demo", "wishes/round.yaml", false},
        {"demo", "wishes/traverse.yaml", false},  {"demo", "wishes/end_stage.yaml", true},
        {"demo", "wishes/flat_floor.yaml", true}, {"tests/faults/hall", "wishes.yaml", false}};
    return cr_make_param_array(trial, all, sizeof all / sizeof *all);
}

ParameterizedTest(trial *t, draft, the_file_reads_back_as_the_model_of_the_draft) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_wishes wishes;
    gradin_draft draft;
    gradin_model model;
    char path[600], layout[600], *text = NULL;
    snprintf(path, sizeof path, "%s/%s/%s", GRADIN_SOURCE_DIR, t->folder, t->wishes);
    snprintf(layout, sizeof layout, "%s/%s/drafted.yaml", GRADIN_SOURCE_DIR, t->folder);
    cr_assert_eq(gradin_wishes_read(arena, path, &wishes, &error), GRADIN_OK);
    if (t->is_feet) {
        wishes.units = "ft";
        wishes.unit_m = GRADIN_FOOT_M;
    }
    cr_assert_eq(gradin_draft_make(arena, &wishes, &draft, &error), GRADIN_OK);
    cr_assert_eq(gradin_draft_write(arena, &wishes, draft.layout, layout, &text, &error),
                 GRADIN_OK);
    cr_assert_eq(gradin_model_read_text(arena, layout, text, &model, &error), GRADIN_OK, "%s",
                 error.n_diagnostic > 0 ? error.diagnostic[0].text : "");
    same_models(draft.model, &model);
    gradin_arena_destroy(arena);
}
