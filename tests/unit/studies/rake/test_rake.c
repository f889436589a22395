/* Rakes of whole blocks: against the published row formulas, and against an exhaustive search of
 * all settings of the lifts. */
#include "base/faults.h"
#include "gradin/studies.h"
#include "support/whole.h"

#include <criterion/criterion.h>
#include <string.h>

enum { ROWS = 16 };

/* One seat a row on the line x = 0, facing south, the focus' near edge on y = 0 at z = 0. */
static gradin_vec3 floor_m[ROWS], eye_m[ROWS];
static double facing_deg[ROWS], width_m[ROWS], depth_m[ROWS];
static int block[ROWS], row[ROWS], number[ROWS], section_of[ROWS];
static gradin_seat_kind kind[ROWS];
static const char *id[ROWS];
static const char *const block_name[] = {"Stalls"};
static const gradin_vec2 corner_m[4] = {{-6, -8}, {6, -8}, {6, 0}, {-6, 0}};
static gradin_focus focus = {.name = "stage", .polygon = {corner_m, 4}, .weight = 1.0};
static gradin_section section[8];
static gradin_machine lift[8];
static gradin_lift_grid grid;
static gradin_model model;
static gradin_error error;
static gradin_rake rake;

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.9f, not %.9f", #a, (double)(a), (double)(b))

static void make(int n_row, double d_m, double r_m, double t_m) {
    memset(&model, 0, sizeof model);
    memset(&error, 0, sizeof error);
    for (int i = 0; i < n_row; i++) {
        floor_m[i] = (gradin_vec3){0.0, d_m + i * t_m, r_m - 1.2};
        eye_m[i] = (gradin_vec3){0.0, d_m + i * t_m, r_m};
        facing_deg[i] = 180.0;
        width_m[i] = 0.55;
        depth_m[i] = t_m;
        row[i] = i + 1;
        number[i] = 1;
        id[i] = "seat";
        section_of[i] = GRADIN_ON_FLOOR;
    }
    model.seats = (gradin_seats){.n_seat = n_row,
                                 .id = id,
                                 .block = block,
                                 .row = row,
                                 .number = number,
                                 .kind = kind,
                                 .floor_m = floor_m,
                                 .eye_m = eye_m,
                                 .facing_deg = facing_deg,
                                 .width_m = width_m,
                                 .depth_m = depth_m,
                                 .section = section_of};
    model.block_name = block_name;
    model.n_block = 1;
    model.focus = &focus;
    model.n_focus = 1;
    model.axis_deg = NAN;
    model.audience.head_breadth_m = 0.155;
    model.layout_name = model.venue_name = "test";
    whole_model(&model);
}

/* Three rows per section, flat as the layout leaves them. */
static void put_on_lifts(int n_row, double d_m, double t_m, double most_riser_m, double most_m) {
    for (int i = 0; i < n_row; i++) section_of[i] = i / 3;
    for (int s = 0; s < n_row / 3; s++) {
        double front = d_m + (3 * s - 0.5) * t_m, back = front + 3.0 * t_m;
        section[s] = (gradin_section){.name = "S",
                                      .corner_m = {{-2, front}, {2, front}, {2, back}, {-2, back}},
                                      .machine = &lift[s],
                                      .grid = &grid};
        lift[s] = (gradin_machine){.travel = {-5.0, floor_m[0].z + most_m},
                                   .drive = {.speed_per_s = 0.05, .at_once = 1},
                                   .setting = {.position = floor_m[0].z, .n_step = 1}};
    }
    grid = (gradin_lift_grid){
        .riser_m = {0.0, most_riser_m}, .most_steps = 3, .faces = {true, true, true, true}};
    model.section = section;
    model.n_section = n_row / 3;
}

static gradin_status compute(double c_m, double step_m, gradin_rake_form form) {
    gradin_arena *arena = gradin_arena_create();
    gradin_rake_options wanted = {.block = "Stalls", .c_m = c_m, .step_m = step_m, .form = form};
    gradin_status status = gradin_rake_compute(arena, &model, &wanted, &rake, &error);
    gradin_arena_destroy(arena);
    return status;
}

/* Constant-C rake in closed form R_n = D_n [R_1/D_1 + C sum 1/D_k]; D_1 5000, R_1 200, T 900, C 60
 * (derived from the formula of the Bath worksheet, P. Shepherd, 2012). */
Test(rake, ideal_risers_are_those_of_the_row_formula) {
    static const double mm[] = {106.80, 115.95, 123.89, 130.91, 137.19,
                                142.87, 148.06, 152.84, 157.27};
    make(10, 5.0, 0.2, 0.9);
    cr_assert_eq(compute(0.060, 0.001, GRADIN_RAKE_CONSTANT_C), GRADIN_OK);
    cr_assert(rake.is_reached);
    cr_assert(isnan(rake.row[0].riser_m) && isnan(rake.row[0].c_m));
    for (int k = 1; k < 10; k++) {
        NEAR(1000.0 * rake.row[k].ideal_riser_m, mm[k - 1], 0.006);
        /* set to whole millimetres upwards: never less than wanted, never a whole step more than
         * what the row in front asks for */
        cr_assert_geq(rake.row[k].c_m, 0.060 - 1e-9);
        double asked =
            gradin_riser_m(0.060, rake.row[k - 1].d_m, rake.row[k - 1].floor_m + 1.2, 0.9);
        cr_assert_lt(rake.row[k].riser_m - asked, 0.001);
        NEAR(rake.row[k].c_seats_m, rake.row[k].c_m, 1e-9); /* every seat sits in the section */
    }
}

/* Constant N 150, T 900, first pair D 5000 R 200: C of row 2 96.61, row 6 60.00, row 11 40.71, row
 * 16 30.81 (derived). */
Test(rake, constant_riser_is_worst_at_the_back) {
    make(16, 5.0, 0.2, 0.9);
    cr_assert_eq(compute(0.0308, 0.150, GRADIN_RAKE_CONSTANT_RISER), GRADIN_OK);
    cr_assert(rake.is_reached);
    cr_assert_eq(rake.least_row, 16);
    for (int k = 1; k < 16; k++) NEAR(rake.row[k].riser_m, 0.150, 1e-12);
    NEAR(1000.0 * rake.row[1].c_m, 96.61, 0.006);
    NEAR(1000.0 * rake.row[5].c_m, 60.00, 0.006);
    NEAR(1000.0 * rake.row[10].c_m, 40.71, 0.006);
    NEAR(1000.0 * rake.row[15].c_m, 30.81, 0.006);
}

/* C of six rows on two sections of three treads, straight from the formula. */
static double worst_c(double u1, double h2, double u2, double d, double r, double t) {
    double up[6] = {0, u1, 2 * u1, h2, h2 + u2, h2 + 2 * u2}, worst = INFINITY;
    for (int k = 1; k < 6; k++) {
        double front = r + up[k - 1], rear = r + up[k], near = d + (k - 1) * t;
        worst = fmin(worst, near * rear / (near + t) - front);
    }
    return worst;
}

/* Heights in whole steps of 20 mm; *back_m gets the least height of the last row that reaches the
 * C, INFINITY when none does; returns the best worst C of all settings. */
static double search(double c_m, double d, double r, double t, double most_riser_m, double most_m,
                     double *back_m) {
    const double step = 0.02;
    double best = -INFINITY;
    *back_m = INFINITY;
    int n = (int)(most_riser_m / step + 0.5), n_height = (int)(most_m / step + 0.5);
    for (int a = 0; a <= n; a++)
        for (int h = 2 * a; h <= n_height; h++)
            for (int b = 0; b <= n && h + 2 * b <= n_height; b++) {
                double worst = worst_c(a * step, h * step, b * step, d, r, t);
                best = fmax(best, worst);
                if (worst >= c_m - 1e-9) *back_m = fmin(*back_m, (h + 2 * b) * step);
            }
    return best;
}

static void expect_search(double c_m, double most_riser_m, double most_m) {
    double back_m, best_m = search(c_m, 3.0, 0.3, 0.9, most_riser_m, most_m, &back_m);
    make(6, 3.0, 0.3, 0.9);
    put_on_lifts(6, 3.0, 0.9, most_riser_m, most_m);
    cr_assert_eq(compute(c_m, 0.02, GRADIN_RAKE_CONSTANT_C), GRADIN_OK);
    cr_assert_eq(rake.n_rank, 2);
    cr_assert_eq(rake.rank[0].n_step, 3);
    cr_assert_eq(rake.is_reached, !isinf(back_m), "C %.3f", c_m);
    if (rake.is_reached) {
        NEAR(rake.row[5].floor_m - rake.row[0].floor_m, back_m, 1e-9);
        cr_assert_null(rake.hindrance);
    } else {
        cr_assert_not_null(rake.hindrance);
        /* the best is sought to a whole millimetre of C */
        cr_assert(rake.least_c_m <= best_m + 1e-9 && rake.least_c_m > best_m - 0.001 - 1e-9,
                  "%.6f, best %.6f", rake.least_c_m, best_m);
    }
    double travel = fmax(rake.rank[0].move_m, 0.0) + rake.rank[1].move_m;
    NEAR(rake.travel_m, travel, 1e-12);
    NEAR(rake.rank[1].move_m, rake.row[5].floor_m - rake.row[0].floor_m, 1e-9);
    cr_assert_eq(rake.move_s, (int)ceil(rake.longest_m / 0.05 - 1e-6));
}

Test(rake, lifts_are_set_as_an_exhaustive_search_would) {
    expect_search(0.060, 0.40, 2.0);
    expect_search(0.090, 0.40, 2.0);
    expect_search(0.120, 0.40, 2.0);
    expect_search(0.120, 0.24, 2.0); /* too steep for the treads */
    cr_assert_str_eq(rake.hindrance, "the greatest riser between the treads of a lift");
    expect_search(0.120, 0.40, 1.2); /* too high for the lift */
    cr_assert_str_eq(rake.hindrance, "the travel of the lifts");
    expect_search(0.090, 0.10, 0.4);
}

Test(rake, rows_that_share_a_tread_reach_nothing) {
    make(6, 3.0, 0.3, 0.9);
    put_on_lifts(6, 3.0, 0.9, 0.4, 3.0);
    grid.most_steps = 1;
    cr_assert_eq(compute(0.060, 0.01, GRADIN_RAKE_CONSTANT_C), GRADIN_OK);
    cr_assert_not(rake.is_reached);
    cr_assert_str_eq(rake.hindrance, "rows share a tread: the lifts make too few for them");
    NEAR(rake.row[1].riser_m, 0.0, 1e-12);
}

/* Rows on arcs about (0, -2), 7 m and more from it; every other row has no seat on the middle line.
 * The rows cross it 0.9 m apart all the same. */
Test(rake, curved_rows_are_measured_where_they_cross_the_section) {
    make(6, 5.0, 0.2, 0.9);
    for (int i = 0; i < 6; i++) {
        double radius = 7.0 + 0.9 * i, at_deg = i % 2 ? (i % 4 == 1 ? 3.0 : -3.0) : 0.0;
        gradin_vec2 out = gradin_bearing_unit(at_deg);
        floor_m[i].x = eye_m[i].x = radius * out.x;
        floor_m[i].y = eye_m[i].y = radius * out.y - 2.0;
        facing_deg[i] = 180.0 + at_deg;
    }
    cr_assert_eq(compute(0.060, 0.001, GRADIN_RAKE_CONSTANT_C), GRADIN_OK);
    for (int k = 0; k < 6; k++) NEAR(rake.row[k].d_m, 5.0 + 0.9 * k, 1e-9);
}

Test(rake, refusals) {
    make(2, 3.0, 0.3, 0.9);
    section_of[0] = section_of[1] = GRADIN_ON_DECK;
    cr_assert_eq(compute(0.06, 0.01, GRADIN_RAKE_CONSTANT_C), GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text, "'Stalls' stands on a tower, whose rows are fixed; "
                                               "name a block on the floor or on lifts");
    make(1, 3.0, 0.3, 0.9);
    cr_assert_eq(compute(0.06, 0.01, GRADIN_RAKE_CONSTANT_C), GRADIN_BAD_INPUT);
    make(2, 3.0, 0.3, 0.9);
    facing_deg[0] = facing_deg[1] = 0.0;
    cr_assert_eq(compute(0.06, 0.01, GRADIN_RAKE_CONSTANT_C), GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text, "'Stalls' does not face the focus");
    make(2, 3.0, 0.3, 0.9);
    cr_assert_eq(compute(0.0, 0.01, GRADIN_RAKE_CONSTANT_C), GRADIN_BAD_USE);
}

/* The n-th allocation fails, n = 1, 2, ...: a clean status each time, and success at the end. */
Test(rake, every_allocation_may_fail) {
    make(6, 3.0, 0.3, 0.9);
    put_on_lifts(6, 3.0, 0.9, 0.4, 3.0);
    gradin_status status = GRADIN_NO_MEMORY;
    int n = 1;
    for (; status != GRADIN_OK && n < 1000; n++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_rake_options wanted = {"Stalls", 0.06, 0.01, GRADIN_RAKE_CONSTANT_C};
        memset(&error, 0, sizeof error);
        gradin_alloc_fail_at(n);
        status = gradin_rake_compute(arena, &model, &wanted, &rake, &error);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "allocation %d: %s", n,
                  gradin_status_name(status));
        gradin_arena_destroy(arena);
    }
    cr_assert_gt(n, 10);
    cr_assert_eq(status, GRADIN_OK);
}
