/* What a draft promises of its rows, measured on the drafted seats alone: with C over every head,
 * the line from the focus to an eye is steeper row by row, and the least C is the one printed. C by
 * similar triangles, EN 13200-1 and textbooks: C = D (N + R) / (D + T) - R. */
#include "gradin/files.h"
#include "gradin/studies/draft.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>

enum { MAX_ROWS = 64 };

/* The rows on lifts, nearest first. */
typedef struct rows {
    int n;
    double ahead_m[MAX_ROWS], eye_m[MAX_ROWS]; /* from the focus's near edge; over it */
} rows;

static void insert_row(rows *r, double ahead_m, double eye_m) {
    int at = 0;
    while (at < r->n && r->ahead_m[at] < ahead_m - 0.05) at++;
    if (at < r->n && fabs(r->ahead_m[at] - ahead_m) <= 0.05) return;
    cr_assert_lt(r->n, MAX_ROWS);
    for (int i = r->n++; i > at; i--) {
        r->ahead_m[i] = r->ahead_m[i - 1];
        r->eye_m[i] = r->eye_m[i - 1];
    }
    r->ahead_m[at] = ahead_m;
    r->eye_m[at] = eye_m;
}

/* For a stage north of its audience, as the demo's end stage is. */
static rows rows_of(const gradin_model *model) {
    const gradin_focus *focus = &model->focus[0];
    double near_m = INFINITY;
    for (int i = 0; i < 4; i++) near_m = fmin(near_m, focus->polygon.corner_m[i].y);
    rows r = {0};
    for (int i = 0; i < model->seats.n_seat; i++)
        if (model->seats.section[i] >= 0)
            insert_row(&r, near_m - model->seats.eye_m[i].y, model->seats.eye_m[i].z - focus->z_m);
    return r;
}

static double c_m(const rows *r, int k) {
    double d_m = r->ahead_m[k - 1], t_m = r->ahead_m[k] - d_m;
    double up_m = r->eye_m[k] - r->eye_m[k - 1];
    return d_m * (up_m + r->eye_m[k - 1]) / (d_m + t_m) - r->eye_m[k - 1];
}

Test(draft, the_rows_have_the_c_value_that_is_printed) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_wishes wishes;
    gradin_draft draft;
    cr_assert_eq(
        gradin_wishes_read(arena, GRADIN_SOURCE_DIR "/demo/wishes/end_stage.yaml", &wishes, &error),
        GRADIN_OK);
    cr_assert_eq(gradin_draft_make(arena, &wishes, &draft, &error), GRADIN_OK);
    rows r = rows_of(draft.model);
    cr_assert_gt(r.n, 8);
    double least_m = INFINITY;
    for (int k = 1; k < r.n; k++) {
        cr_expect_geq(c_m(&r, k), wishes.c_m - 0.0005, "row %d: %.1f mm", k, 1000.0 * c_m(&r, k));
        least_m = fmin(least_m, c_m(&r, k));
    }
    cr_expect_float_eq(least_m, draft.least_c_m, 0.0005, "%.1f mm, not %.1f", 1000.0 * least_m,
                       1000.0 * draft.least_c_m);
    gradin_arena_destroy(arena);
}
