/* tests/bench/largest.c: a season at the largest hall that files may state.
 * usage: bench_largest SEATS ELEMENTS [PATCH_M]
 *
 * A plain hall, seats on its floor, panes all over its walls, four classes on tracks. With PATCH_M
 * the room is worked out by radiosity over patches of at most that size. Prints times, the memory
 * at its peak, and levels to hold two runs against each other. */
#include <omp.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

#include "gradin/studies/season.h"

static const double length_m = 160.0, width_m = 120.0, ceiling_m = 30.0;

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void *many(gradin_arena *arena, int n, size_t size) {
    void *made = gradin_arena_alloc(arena, (size_t)n, size);
    if (!made) exit(3);
    return made;
}

static gradin_seats make_seats(gradin_arena *arena, int n) {
    gradin_seats seats = {.n_seat = n};
    int n_across = (int)ceil(sqrt(n * length_m / width_m)), n_row = (n + n_across - 1) / n_across;
    seats.eye_m = many(arena, n, sizeof *seats.eye_m);
    seats.floor_m = many(arena, n, sizeof *seats.floor_m);
    seats.facing_deg = many(arena, n, sizeof(double));
    seats.width_m = many(arena, n, sizeof(double));
    seats.depth_m = many(arena, n, sizeof(double));
    for (int i = 0; i < n; i++) {
        double x_m = (i % n_across + 0.5) * length_m / n_across;
        double y_m = (i / n_across + 0.5) * width_m / n_row;
        seats.floor_m[i] = (gradin_vec3){x_m, y_m, 0.0};
        seats.eye_m[i] = (gradin_vec3){x_m, y_m, 1.2};
        seats.width_m[i] = 0.5;
        seats.depth_m[i] = 0.9;
    }
    return seats;
}

/* Panes of equal size in rows over all four walls. */
static gradin_element *make_panes(gradin_arena *arena, int n) {
    gradin_element *pane = many(arena, n, sizeof *pane);
    int n_wall = (n + 3) / 4, n_level = 5, n_along = (n_wall + n_level - 1) / n_level;
    for (int i = 0; i < n; i++) {
        int wall = i / n_wall, level = i % n_wall % n_level, along = i % n_wall / n_level;
        double side_m = wall % 2 ? width_m : length_m, step_m = side_m / n_along;
        double at_m = (along + 0.1) * step_m, high_m = (level + 0.1) * ceiling_m / n_level;
        const gradin_vec3 corner_m[4] = {{at_m, 0.0, high_m},
                                         {length_m, at_m, high_m},
                                         {length_m - at_m, width_m, high_m},
                                         {0.0, width_m - at_m, high_m}};
        const gradin_vec2 way[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
        pane[i] = (gradin_element){.name = "pane",
                                   .kind = GRADIN_ELEMENT_PANE,
                                   .corner_m = corner_m[wall],
                                   .along = way[wall],
                                   .outward = {way[wall].y, -way[wall].x},
                                   .width_m = 0.8 * step_m,
                                   .height_m = 0.8 * ceiling_m / n_level,
                                   .wall_top_m = ceiling_m,
                                   .shade = -1,
                                   .joint_r_db = INFINITY};
    }
    return pane;
}

static gradin_surface *make_surfaces(gradin_arena *arena) {
    const double area_m2[GRADIN_N_SURFACE] = {0.5 * length_m * width_m, length_m * width_m,
                                              0.36 * 2.0 * (length_m + width_m) * ceiling_m,
                                              0.5 * length_m * width_m};
    gradin_surface *surface = many(arena, GRADIN_N_SURFACE, sizeof *surface);
    for (int i = 0; i < GRADIN_N_SURFACE; i++) {
        surface[i] = (gradin_surface){.name = "surface", .area_m2 = area_m2[i]};
        for (int b = 0; b < GRADIN_N_BAND; b++) surface[i].absorption[b] = 0.2 + 0.02 * b;
    }
    return surface;
}

static gradin_model make_model(gradin_arena *arena, int n_seat, int n_element, double patch_m) {
    static gradin_vec2 corner_m[4] = {{0, 0}, {160, 0}, {160, 120}, {0, 120}};
    static gradin_vec2 stage_m[4] = {{70, 50}, {90, 50}, {90, 60}, {70, 60}};
    static gradin_focus focus = {.polygon = {stage_m, 4}, .weight = 1.0};
    static gradin_buildup buildup = {.name = "measured", .is_measured = true};
    for (int b = 0; b < GRADIN_N_BAND; b++) buildup.measured_r_db[b] = 22.0 + b;
    return (gradin_model){.venue_name = "largest",
                          .layout_name = "largest",
                          .footprint = {corner_m, 4},
                          .ceiling_m = ceiling_m,
                          .volume_m3 = length_m * width_m * ceiling_m,
                          .surface = make_surfaces(arena),
                          .n_surface = GRADIN_N_SURFACE,
                          .focus = &focus,
                          .n_focus = 1,
                          .axis_deg = NAN,
                          .seats = make_seats(arena, n_seat),
                          .buildup = &buildup,
                          .n_buildup = 1,
                          .element = make_panes(arena, n_element),
                          .n_element = n_element,
                          .room_method =
                              patch_m > 0.0 ? GRADIN_ROOM_RADIOSITY : GRADIN_ROOM_DIFFUSE,
                          .room_patch_m = patch_m,
                          .criterion = {.nc = 25.0, .lamax_dba = 45.0}};
}

enum { N_CLASS = 2, N_TRACK = 2, N_EVENT = 2000 };

static gradin_traffic make_traffic(gradin_arena *arena) {
    gradin_class *source = many(arena, N_CLASS, sizeof *source);
    gradin_track *track = many(arena, N_TRACK, sizeof *track);
    gradin_event *event = many(arena, N_EVENT, sizeof *event);
    for (int k = 0; k < N_CLASS; k++) {
        source[k] = (gradin_class){.name = "class", .reference_m = 300.0};
        for (int b = 0; b < GRADIN_N_BAND; b++) source[k].level_db[b] = 80.0 + 5.0 * k - b;
    }
    for (int k = 0; k < N_TRACK; k++) {
        track[k].name = "track";
        gradin_track_straight(arena, (gradin_vec3){-300.0 - 200.0 * k, 0.0, 400.0}, 20.0 * k, 80.0,
                              &track[k]);
    }
    for (int i = 0; i < N_EVENT; i++)
        event[i] = (gradin_event){600 * (int64_t)i, i % N_CLASS, i / N_CLASS % N_TRACK, 0.0};
    return (gradin_traffic){.name = "traffic",
                            .class_of = source,
                            .track = track,
                            .event = event,
                            .n_class = N_CLASS,
                            .n_track = N_TRACK,
                            .n_event = N_EVENT,
                            .temperature_c = 15.0,
                            .humidity_pct = 70.0,
                            .pressure_kpa = 101.325,
                            .start_s = 70200,
                            .length_s = 9000,
                            .sii_least = 0.45,
                            .limit_dba = NAN};
}

static double started_s;

static void tell(void *user, int done, int total) {
    (void)user;
    printf("%.1f s: %d of %d\n", now_s() - started_s, done, total);
    fflush(stdout);
}

int main(int n_argument, char **argument) {
    gradin_arena *arena = gradin_arena_create();
    gradin_season season;
    gradin_error error = {0};
    struct rusage use;
    if (!arena || n_argument < 3 || n_argument > 4) return 2;
    gradin_model model = make_model(arena, atoi(argument[1]), atoi(argument[2]),
                                    n_argument > 3 ? atof(argument[3]) : 0.0);
    gradin_traffic traffic = make_traffic(arena);
    gradin_season_options how = {.progress = tell};
    started_s = now_s();
    gradin_status status = gradin_season_compute(arena, &model, &traffic, &how, &season, &error);
    getrusage(RUSAGE_SELF, &use);
    if (status != GRADIN_OK) {
        fprintf(stderr, "%s\n", error.diagnostic[0].text);
        return 1;
    }
    printf("%d threads, %d seats, %d elements, %d patches: %.1f s, peak memory %.2f GB\n",
           omp_get_max_threads(), model.seats.n_seat, model.n_element, season.room.n_patch,
           now_s() - started_s, (double)use.ru_maxrss / 1e6);
    printf("LAmax %.4f to %.4f dB(A)\n", season.lamax_spread.least, season.lamax_spread.most);
    gradin_arena_destroy(arena);
    return 0;
}
