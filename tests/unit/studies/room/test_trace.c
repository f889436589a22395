/* Radiosity against rays (trace.c) at seats of an L, a skewed room, and the demo's thrust with its
 * roof. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#include "acoustics/transfer/transfer.h"
#include "gradin/files.h"
#include "support/whole.h"
#include "trace.h"

enum { N_SEAT = 12, BAND = 10, MOST_CORNERS = 6 };

#if defined(__SANITIZE_ADDRESS__)
enum { FEWER = 8 };
#else
enum { FEWER = 1 };
#endif

static gradin_arena *arena;

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(trace, .init = open_arena, .fini = close_arena);

/* 500 Hz. Every seat within most_db and the mean over the seats within mean_db, beyond three
 * standard errors of the rays. */
static void compare(const char *what, const gradin_model *model, int element, int n_walk,
                    const int *seat, double most_db, double mean_db) {
    gradin_transfer patches;
    gradin_error error = {0};
    double square[N_SEAT], doubt[N_SEAT], worst_db = 0.0, sum_db = 0.0, doubt2 = 0.0;
    cr_assert(gradin_transfer_make(arena, model, GRADIN_TRANSFER_BY_ELEMENT, NULL, &patches,
                                   &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    trace_element(model, GRADIN_SHADES_SHUT, BAND, element, n_walk / FEWER, seat, N_SEAT, square,
                  doubt);
    for (int k = 0; k < N_SEAT; k++) {
        size_t at = gradin_transfer_at(&patches, BAND, seat[k], element);
        double db = 10.0 * log10(patches.whole_1m2[GRADIN_SHADES_SHUT][at] / square[k]);
        double doubt_db = 10.0 * log10(1.0 + doubt[k] / square[k]);
        cr_expect_lt(fabs(db), most_db + 3.0 * doubt_db, "%s, seat %d: %.2f dB", what, seat[k], db);
        worst_db = fmax(worst_db, fabs(db));
        sum_db += db / N_SEAT;
        doubt2 += doubt_db * doubt_db / (N_SEAT * N_SEAT);
    }
    printf(
        "%s, from %s: radiosity less rays %+.2f dB (rays to %.2f) in the mean, %.2f dB at most\n",
        what, model->element[element].name, sum_db, sqrt(doubt2), worst_db);
    cr_expect_lt(fabs(sum_db), mean_db + 3.0 * sqrt(doubt2), "%s", what);
    cr_expect_lt(sqrt(doubt2), mean_db * sqrt(FEWER), "%s", what);
}

typedef struct plain_room {
    gradin_vec2 corner_m[MOST_CORNERS];
    gradin_surface surface[GRADIN_N_SURFACE];
    gradin_element pane;
    gradin_vec3 floor_m[N_SEAT], eye_m[N_SEAT];
    double facing_deg[N_SEAT], width_m[N_SEAT], depth_m[N_SEAT];
    gradin_model model;
} plain_room;

/* A room of that plan, 7 m high, floor 0.3, ceiling 0.2, walls 0.1, a pane of 4 x 3 m at the west
 * end of its first wall, which runs along the x axis. */
static void plain_make(plain_room *r, const gradin_vec2 *corner_m, int n,
                       const gradin_vec2 *seat_m) {
    static const double alpha[GRADIN_N_SURFACE] = {0.3, 0.2, 0.1, 0.7};
    double round_m = 0.0;
    *r = (plain_room){.pane = {.name = "pane",
                               .kind = GRADIN_ELEMENT_PANE,
                               .corner_m = {1.0, 0.0, 2.0},
                               .along = {1.0, 0.0},
                               .outward = {0.0, -1.0},
                               .width_m = 4.0,
                               .height_m = 3.0,
                               .wall_top_m = 7.0,
                               .shade = -1,
                               .joint_r_db = INFINITY}};
    memcpy(r->corner_m, corner_m, (size_t)n * sizeof *corner_m);
    for (int i = 0; i < n; i++)
        round_m +=
            hypot(corner_m[(i + 1) % n].x - corner_m[i].x, corner_m[(i + 1) % n].y - corner_m[i].y);
    gradin_polygon plan = {r->corner_m, n};
    double plan_m2 = gradin_polygon_area_m2(plan);
    const double area_m2[GRADIN_N_SURFACE] = {plan_m2 - N_SEAT, plan_m2, 7.0 * round_m - 12.0,
                                              N_SEAT};
    for (int i = 0; i < GRADIN_N_SURFACE; i++) {
        r->surface[i] = (gradin_surface){.name = "surface", .area_m2 = area_m2[i]};
        for (int b = 0; b < GRADIN_N_BAND; b++) r->surface[i].absorption[b] = alpha[i];
    }
    for (int i = 0; i < N_SEAT; i++) {
        r->floor_m[i] = (gradin_vec3){seat_m[i].x, seat_m[i].y, 0.0};
        r->eye_m[i] = (gradin_vec3){seat_m[i].x, seat_m[i].y, 1.2};
        r->width_m[i] = r->depth_m[i] = 1.0;
    }
    r->model = (gradin_model){.footprint = plan,
                              .ceiling_m = 7.0,
                              .volume_m3 = 7.0 * plan_m2,
                              .surface = r->surface,
                              .n_surface = GRADIN_N_SURFACE,
                              .element = &r->pane,
                              .n_element = 1,
                              .room_method = GRADIN_ROOM_RADIOSITY,
                              .room_patch_m = 2.0,
                              .seats = {.n_seat = N_SEAT,
                                        .floor_m = r->floor_m,
                                        .eye_m = r->eye_m,
                                        .facing_deg = r->facing_deg,
                                        .width_m = r->width_m,
                                        .depth_m = r->depth_m}};
    whole_model(&r->model);
}

static const int every[N_SEAT] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11};

/* The pane is round the corner of the far wing. */
Test(trace, an_ell) {
    static const gradin_vec2 ell[6] = {{0, 0}, {20, 0}, {20, 8}, {8, 8}, {8, 20}, {0, 20}};
    static const gradin_vec2 seat_m[N_SEAT] = {{3, 4},  {6, 6},  {10, 3}, {13, 5},
                                               {16, 2}, {18, 6}, {2, 9},  {6, 11},
                                               {3, 13}, {6, 15}, {2, 17}, {5, 18.5}};
    plain_room r;
    plain_make(&r, ell, 6, seat_m);
    compare("an L of 20 x 20 x 7 m", &r.model, 0, 5000, every, 0.2, 0.1);
}

Test(trace, a_skewed_room) {
    static const gradin_vec2 skew[4] = {{0, 0}, {14, 0}, {20, 13}, {3, 17}};
    static const gradin_vec2 seat_m[N_SEAT] = {{3, 4},  {6, 3},  {10, 3},  {12, 5},
                                               {4, 8},  {8, 8},  {12, 8},  {15, 9},
                                               {5, 13}, {9, 12}, {13, 12}, {17, 12.5}};
    plain_room r;
    plain_make(&r, skew, 4, seat_m);
    compare("a skewed room", &r.model, 0, 5000, every, 0.2, 0.1);
}

static int element_named(const gradin_model *model, const char *name, int nth) {
    for (int e = 0; e < model->n_element; e++)
        if (strstr(model->element[e].name, name) && nth-- == 0) return e;
    cr_assert_fail("no %s", name);
    return -1;
}

/* Patches of the size that layouts have, towers, lifts and seats in place. */
Test(trace, the_demo_with_its_roof) {
    gradin_model model;
    gradin_error error = {0};
    int seat[N_SEAT];
    cr_assert(gradin_model_read(arena, GRADIN_SOURCE_DIR "/demo/thrust.yaml", &model, &error) ==
                  GRADIN_OK,
              "%s", error.diagnostic[0].text);
    for (int k = 0; k < N_SEAT; k++) seat[k] = (2 * k + 1) * model.seats.n_seat / (2 * N_SEAT);
    compare("the demo's thrust", &model, element_named(&model, "north glass", 5), 1500, seat, 0.5,
            0.3);
    compare("the demo's thrust", &model, element_named(&model, "roof", 0), 1000, seat, 0.5, 0.3);
    /* This pane stands behind a tower: its sound leaves by gaps that are narrower than a patch. */
    compare("the demo's thrust", &model, element_named(&model, "west glass", 6), 1500, seat, 1.0,
            0.5);
}
