/* Searches of functions whose best point is known from trying every place: over plains, ridges, a
 * need that cuts the best off, words, and places that cannot stand. */
#include "studies/seek/seek.h"

#include <criterion/criterion.h>

#include <string.h>

enum { N_CASE = 6, N_KEY = 3, SIDE = 12 };

static const char *const tens[SIDE] = {"0", "1", "2", "3", "4",  "5",
                                       "6", "7", "8", "9", "10", "11"};
static const char *const words[4] = {"oak", "felt", "ash", "birch"};
static const double word_cost[4] = {3.0, 0.5, 2.0, 4.0};

/* What a place costs, and a figure that may be needed; false: it cannot stand. */
static bool work(int which, const double x[N_KEY], double *cost, double *need) {
    double a = x[0], b = x[1], c = x[2];
    *need = a + b;
    *cost = (a - 7.3) * (a - 7.3) + (b - 2.2) * (b - 2.2) + 5.0 * fabs(c - 4.0);
    if (which == 1) *cost = 10.0 * fabs(a - b) + fabs(a + b + c - 15.0); /* a ridge */
    if (which == 2) *cost = floor((a + b) / 3.0) + floor(c / 4.0);       /* steps */
    if (which == 4) *cost += 3.0 * word_cost[(int)c % 4];
    return which != 3 || a + c < 9.0;
}

typedef struct hall {
    gradin_arena *arena;
    gradin_study *study;
    gradin_sweep_row *row;
    int which, n_asked;
} hall;

static void read_values(const gradin_study *s, int point, double x[N_KEY]) {
    for (int k = 0; k < N_KEY; k++) {
        char text[GRADIN_VALUE_CHARS];
        cr_assert(gradin_study_value(s, point, k, text));
        if (gradin_parse_number(text, &x[k])) continue;
        for (int i = 0; i < 4; i++)
            if (strcmp(text, words[i]) == 0) x[k] = i;
    }
}

static gradin_status try_point(void *user, int point, gradin_error *error) {
    hall *h = user;
    double x[N_KEY], cost, need;
    (void)error;
    read_values(h->study, point, x);
    gradin_known *figure = gradin_arena_alloc(h->arena, 2, sizeof *figure);
    h->row[point] = (gradin_sweep_row){.point = point, .figure = figure};
    if (!work(h->which, x, &cost, &need)) h->row[point].refused = "no";
    figure[0] = (gradin_known){cost, cost, cost};
    figure[1] = (gradin_known){need, need - 0.25, need + 0.25};
    if (h->which == 5) figure[1].low = -INFINITY; /* never sure: the figures as stated decide */
    h->n_asked++;
    return GRADIN_OK;
}

static const gradin_study_figure figures[] = {GRADIN_STUDY_CREW_HOURS, GRADIN_STUDY_DISTANCE_MOST};
static const gradin_study_aim aims[] = {{GRADIN_STUDY_CREW_HOURS, false}};
/* Surely kept where a + b is at least 14. */
static const gradin_study_bound bounds[] = {{GRADIN_STUDY_DISTANCE_MOST, 13.6, INFINITY}};

static gradin_study study_of(int which, gradin_varied *varied, int n_most, int seed) {
    static const char *const path[] = {"x"};
    for (int k = 0; k < N_KEY; k++)
        varied[k] = (gradin_varied){
            .name = tens[k], .path = path, .n_path = 1, .value = tens, .n_value = SIDE};
    if (which == 4) {
        varied[2].value = words;
        varied[2].n_value = 4;
    }
    return (gradin_study){.name = "s",
                          .varied = varied,
                          .n_varied = N_KEY,
                          .figure = figures,
                          .n_figure = 2,
                          .bound = bounds,
                          .n_bound = which == 0 || which == 5 ? 1 : 0,
                          .aim = aims,
                          .n_aim = 1,
                          .search = {n_most, seed}};
}

/* The least cost of all places that stand and surely keep the need. */
static double least_of_all(int which) {
    double least = INFINITY;
    for (int i = 0; i < SIDE * SIDE * SIDE; i++) {
        const double x[] = {i / (SIDE * SIDE), i / SIDE % SIDE, i % SIDE};
        double cost, need;
        bool stands = work(which, x, &cost, &need) && (which != 4 || x[2] < 4);
        bool keeps = which == 0 ? need - 0.25 >= 13.6 : which != 5 || need >= 13.6;
        if (stands && keeps) least = fmin(least, cost);
    }
    return least;
}

static double found_by(gradin_arena *arena, int which, int n_most, int seed, gradin_sought *sought,
                       gradin_study *study) {
    gradin_varied *varied = gradin_arena_alloc(arena, N_KEY, sizeof *varied);
    const gradin_model model = {.rail_min_m = 1.0};
    *study = study_of(which, varied, n_most, seed);
    cr_assert_eq(gradin_seek_begin(arena, study, &model, NULL), GRADIN_OK);
    hall h = {.arena = arena, .study = study, .which = which};
    h.row = gradin_arena_alloc(arena, (size_t)n_most, sizeof *h.row);
    cr_assert_eq(gradin_seek(arena, study, h.row, try_point, &h, sought, NULL), GRADIN_OK);
    cr_expect_eq(h.n_asked, sought->n_tried); /* none twice */
    double least = INFINITY;
    for (int i = 0; i < sought->n_tried; i++)
        if (!h.row[i].refused && (which != 0 || h.row[i].figure[1].low >= 13.6) &&
            (which != 5 || h.row[i].figure[1].value >= 13.6))
            least = fmin(least, h.row[i].figure[0].value);
    return least;
}

Test(seek, finds_the_best_of_all_places) {
    for (int which = 0; which < N_CASE; which++)
        for (int seed = 0; seed < 8; seed++) {
            gradin_arena *arena = gradin_arena_create();
            gradin_sought sought;
            gradin_study study;
            double found = found_by(arena, which, 200, seed, &sought, &study);
            cr_expect_float_eq(found, least_of_all(which), 1e-9, "case %d, seed %d: %g", which,
                               seed, found);
            cr_expect(sought.n_tried <= 200 && !sought.is_all && sought.is_polished,
                      "case %d, seed %d: %d", which, seed, sought.n_tried);
            gradin_arena_destroy(arena);
        }
}

Test(seek, is_the_same_each_time) {
    gradin_arena *arena = gradin_arena_create();
    gradin_study study[2];
    for (int i = 0; i < 2; i++) {
        gradin_sought sought;
        found_by(arena, 1, 90, 5, &sought, &study[i]);
        cr_expect_eq(sought.n_tried, 90);
    }
    for (int i = 0; i < 90 * N_KEY; i++) cr_assert_str_eq(study[0].chosen[i], study[1].chosen[i]);
    gradin_arena_destroy(arena);
}

Test(seek, tries_all_when_they_are_few) {
    gradin_arena *arena = gradin_arena_create();
    gradin_sought sought;
    gradin_study study;
    double found = found_by(arena, 3, SIDE * SIDE * SIDE, 1, &sought, &study);
    cr_expect_float_eq(found, least_of_all(3), 1e-9);
    cr_expect(sought.is_all && sought.is_polished && sought.n_tried == SIDE * SIDE * SIDE);
    gradin_arena_destroy(arena);
}

/* A range goes in round steps, its ends as they are stated. */
Test(seek, steps_of_a_range) {
    gradin_arena *arena = gradin_arena_create();
    gradin_varied varied[] = {{.from = 0.375, .to = 2.8}, {.from = -5.0, .to = 45.0}};
    gradin_study study = {.varied = varied, .n_varied = 2};
    seek_job job = {.arena = arena, .study = &study};
    seek_find_axes(&job);
    cr_assert_float_eq(job.axis[0].step, 0.01, 1e-12);
    cr_assert_float_eq(job.axis[1].step, 0.1, 1e-12);
    cr_expect_str_eq(seek_value(&job, 0, 0), "0.375");
    cr_expect_str_eq(seek_value(&job, 0, 1), "0.38");
    cr_expect_str_eq(seek_value(&job, 0, job.axis[0].n - 1), "2.8");
    cr_expect_str_eq(seek_value(&job, 1, 1), "-4.9");
    cr_expect_str_eq(seek_value(&job, 1, 50), "0");
    double last = -INFINITY;
    for (int i = 0; i < job.axis[0].n; i++) {
        double value;
        cr_assert(gradin_parse_number(seek_value(&job, 0, i), &value) && value > last);
        last = value;
    }
    gradin_arena_destroy(arena);
}

static gradin_status begin_with(const char *path, gradin_varied_file file, const char *value,
                                double rail_min_m) {
    gradin_arena *arena = gradin_arena_create();
    gradin_varied varied = {
        .name = "k", .file = file, .path = &path, .n_path = 1, .value = &value, .n_value = 1};
    gradin_study study = study_of(1, (gradin_varied[N_KEY]){{0}}, 10, 1);
    const gradin_model model = {.rail_min_m = rail_min_m};
    study.varied = &varied;
    study.n_varied = 1;
    gradin_status status = gradin_seek_begin(arena, &study, &model, NULL);
    gradin_arena_destroy(arena);
    return status;
}

Test(seek, leaves_rules_and_rails_alone) {
    const gradin_varied_file venue = GRADIN_VARIED_VENUE, layout = GRADIN_VARIED_LAYOUT;
    static const char tower[] = "machines.towers[T].levels[low].rail.height";
    cr_expect_eq(begin_with(tower, venue, "1.1", 1.0), GRADIN_OK);
    cr_expect_eq(begin_with(tower, venue, "0", 1.0), GRADIN_BAD_INPUT);
    cr_expect_eq(begin_with(tower, venue, "1.1", 0.0),
                 GRADIN_BAD_INPUT); /* no lowest rail is known */
    cr_expect_eq(begin_with("machines.towers[T].levels[low].rail.bars", venue, "1", 1.0),
                 GRADIN_BAD_INPUT);
    cr_expect_eq(begin_with("rails[back].height", layout, "1.1", 1.0), GRADIN_OK);
    cr_expect_eq(begin_with("rails[back].kind", layout, "post", 1.0), GRADIN_BAD_INPUT);
    cr_expect_eq(begin_with("blocks[x].boxes.parapet", layout, "0.9", 1.0), GRADIN_OK);
    cr_expect_eq(begin_with("blocks[x].boxes.parapet", layout, "-1", 1.0), GRADIN_BAD_INPUT);
    cr_expect_eq(begin_with("room.local_rules.guard_drop", venue, "9", 1.0), GRADIN_BAD_INPUT);
    cr_expect_eq(begin_with("machines.interlocks[a].within[1]", venue, "9", 1.0), GRADIN_BAD_INPUT);
    /* A name is no key. */
    cr_expect_eq(begin_with("machines.lifts[a.rail.b].speed_ms", venue, "1", 1.0), GRADIN_OK);
}
