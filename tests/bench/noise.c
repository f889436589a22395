/* tests/bench/noise.c: how long the room and a season take. usage: bench_noise LAYOUT TRAFFIC
 *
 * Prints the room's transfer by radiosity, the machine's dgemm rate against that of the dense part,
 * and a season of 200,000 events by gradin_season_compute() against a straightforward loop over
 * events, steps, seats, bands and elements, which runs for as many events as fit a few seconds and
 * is scaled up. */
#include <cblas.h>
#include <lapacke.h>
#include <omp.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

#include "gradin/files.h"
#include "gradin/studies/season.h"

enum { N_EVENT = 200000, N_SQUARE = 2000 };

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void stop(const char *what, const gradin_error *error) {
    fprintf(stderr, "%s: %s\n", what, error->diagnostic[0].text);
    exit(1);
}

static void time_dense(gradin_arena *arena) {
    size_t n = N_SQUARE;
    double *a = gradin_arena_alloc(arena, n * n, sizeof *a),
           *b = gradin_arena_alloc(arena, n * n, 8);
    double *c = gradin_arena_alloc(arena, n * n, sizeof *c);
    if (!a || !b || !c) exit(3);
    for (size_t i = 0; i < n * n; i++) {
        b[i] = (double)(i * 7919 % 101) / 101.0 - 0.5;
        a[i] = i / n == i % n ? (double)n : b[i / n + i % n * n] + b[i];
    }
    openblas_set_num_threads(1);
    double start_s = now_s();
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasNoTrans, N_SQUARE, N_SQUARE, N_SQUARE, 1.0, b,
                N_SQUARE, b, N_SQUARE, 0.0, c, N_SQUARE);
    double multiply = 2.0 * 8e9 / (now_s() - start_s);
    start_s = now_s();
    LAPACKE_dpotrf(LAPACK_COL_MAJOR, 'L', N_SQUARE, a, N_SQUARE);
    double factor = 8e9 / 3.0 / (now_s() - start_s);
    printf("one thread, n = %d: dgemm %.1f GFLOP/s, Cholesky %.1f GFLOP/s (%.0f %%)\n", N_SQUARE,
           multiply / 1e9, factor / 1e9, 100.0 * factor / multiply);
}

static void time_room(gradin_arena *arena, gradin_model *model) {
    gradin_prepared_room room;
    gradin_error error = {0};
    model->room_method = GRADIN_ROOM_RADIOSITY;
    double start_s = now_s();
    if (gradin_room_prepare(arena, model, NULL, &room, &error) != GRADIN_OK) stop("room", &error);
    printf("transfer of %d seats, %d elements, %d bands, %d patches: %.2f s\n", model->seats.n_seat,
           model->n_element, GRADIN_N_BAND, room.n_patch, now_s() - start_s);
    model->room_method = GRADIN_ROOM_DIFFUSE;
}

/* The file's classes and tracks, 200,000 events at even steps of 158 s through a year. */
static void spread_events(gradin_arena *arena, gradin_traffic *traffic) {
    gradin_event *event = gradin_arena_alloc(arena, N_EVENT, sizeof *event);
    if (!event) exit(3);
    for (int i = 0; i < N_EVENT; i++)
        event[i] = (gradin_event){traffic->event[0].time_s + (int64_t)i * 158, i % traffic->n_class,
                                  i / traffic->n_class % traffic->n_track,
                                  (double)(i * 7919 % 101) / 20.0 - 2.5};
    traffic->event = event;
    traffic->n_event = N_EVENT;
}

/* A-weighted maxima of one event by plain loops over every band, seat and element; the factors
 * h[seat][element][band] and the power[step][element][band] are made up, since their values do not
 * change the count of operations. */
static double plain_event(const gradin_model *m, int n_step, const double *h, const double *power,
                          double *most) {
    double all = 0.0;
    for (int s = 0; s < m->seats.n_seat; s++) {
        most[s] = 0.0;
        for (int t = 0; t < n_step; t++) {
            double square = 0.0;
            for (int k = 0; k < m->n_element * GRADIN_N_BAND; k++)
                square += h[s * m->n_element * GRADIN_N_BAND + k] *
                          power[t * m->n_element * GRADIN_N_BAND + k];
            most[s] = fmax(most[s], square);
        }
        all += most[s];
    }
    return all;
}

static double time_plain_s(gradin_arena *arena, const gradin_model *m, int n_step) {
    size_t n_pair = (size_t)m->n_element * GRADIN_N_BAND, n_seat = (size_t)m->seats.n_seat;
    size_t n = (size_t)n_step * n_pair;
    double *power = gradin_arena_alloc(arena, n, sizeof *power), check = 0.0;
    double *h = gradin_arena_alloc(arena, n_seat * n_pair, sizeof *h);
    double *most = gradin_arena_alloc(arena, n_seat, sizeof *most);
    if (!power || !h || !most) exit(3);
    for (size_t i = 0; i < n_seat * n_pair; i++) h[i] = 1e-3 * (1.0 + (double)(i % 7));
    for (size_t i = 0; i < n; i++) power[i] = 1.0 + (double)(i % 13);
    double start_s = now_s();
    int n_done = 0;
    while (now_s() - start_s < 3.0) {
        check += plain_event(m, n_step, h, power, most);
        n_done++;
    }
    double each_s = (now_s() - start_s) / n_done;
    printf("plain loops: %.3f s an event of %d steps (%d events, check %.3g)\n", each_s, n_step,
           n_done, check);
    return each_s;
}

static void time_season(gradin_arena *arena, const gradin_model *model, gradin_traffic *traffic) {
    gradin_season season;
    gradin_error error = {0};
    struct rusage use;
    long n_step = 0;
    spread_events(arena, traffic);
    double start_s = now_s();
    if (gradin_season_compute(arena, model, traffic, NULL, &season, &error) != GRADIN_OK)
        stop("season", &error);
    double season_s = now_s() - start_s;
    for (int k = 0; k < season.n_flight; k++) n_step += season.flight[k].n_time;
    printf("season: %d events of %d classes on tracks, %.1f steps each, %d seats: %.2f s\n",
           traffic->n_event, season.n_flight, (double)n_step / season.n_flight, model->seats.n_seat,
           season_s);
    double plain_s = time_plain_s(arena, model, (int)(n_step / season.n_flight));
    start_s = now_s();
    for (int k = 0; k < season.n_flight; k++)
        gradin_flight_compute(&season.room, traffic, NULL, &season.flight[k], &error);
    double flight_s = (now_s() - start_s) / season.n_flight;
    printf("one event by matrix products, everything in it: %.4f s, ratio to plain loops %.0f\n",
           flight_s, plain_s / flight_s);
    printf("whole season, ratio to plain loops scaled to %d events: %.0f\n", traffic->n_event,
           plain_s * traffic->n_event / season_s);
    getrusage(RUSAGE_SELF, &use);
    printf("peak memory %.2f GB\n", (double)use.ru_maxrss / 1e6);
}

int main(int n_argument, char **argument) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    gradin_traffic traffic;
    gradin_error error = {0};
    if (!arena || n_argument != 3) return 2;
    if (gradin_model_read(arena, argument[1], &model, &error) != GRADIN_OK) stop("layout", &error);
    if (gradin_traffic_read(arena, argument[2], false, &traffic, NULL, &error) != GRADIN_OK)
        stop("traffic", &error);
    printf("%d threads\n", omp_get_max_threads());
    time_dense(arena);
    time_room(arena, &model);
    time_season(arena, &model, &traffic);
    gradin_arena_destroy(arena);
    return 0;
}
