/* How far the visible share lies from its limit, against what it costs: each hall's seats by 256 to
 * 16,384 samples against FINE of them, on one thread; and in layouts how often 1,024 and 65,536
 * samples name different occluders the worst. Where a floor is hidden in a strip at its near edge,
 * its own share is held apart. Fails when 1,024 samples are off by more than the hall's limit, or
 * any seat is given two names. usage: sampling FINE EVERY HALL...; every EVERY-th
 * seat is looked at; sampled.h says what a HALL may be. */
#include "gradin/sightline.h"
#include "sampled.h"
#include "sightline/focus/focus.h"
#include "strips.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { N_STEP = 4, STEP_OF_DEFAULT = 1, REPEATS = 5, MANY = 65536, STRIPS_BY = 4096 };
/* Fewer seats with a strip are printed, but their mean is not held: it scatters as much. */
enum { ENOUGH_STRIPS = 20 };
static const int step_sample[N_STEP] = {256, 1024, 4096, 16384};

/* Points of a hundred, on the seats that miss something. */
static const double LIMIT_BIAS = 0.05;

typedef struct looks {
    double *visible; /* [n_seat] of every EVERY-th seat, in points */
    double *own;     /* [n_seat][n_area] of each area */
    double seconds;
    long n_ray;
} looks;

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double see(const gradin_model *m, const sight_focus *f, const gradin_mask_scene *scene,
                  gradin_mask_scratch *scratch, int seat, double *own) {
    double points = 0.0;
    for (int a = 0; a < f->n_area; a++) {
        own[a] = 100.0 *
                 gradin_mask_clear(scene, f->grid[a], m->seats.eye_m[seat], seat, NULL, scratch) /
                 (f->first_sample[a + 1] - f->first_sample[a]);
        points += f->share[a] * own[a];
    }
    return points;
}

static bool look(gradin_arena *arena, const gradin_model *m, int n_sample, int every, looks *out) {
    sight_focus focus;
    if (gradin_sight_focus(arena, m, n_sample, &focus, NULL) != GRADIN_OK) return false;
    gradin_mask_scene *scene = gradin_mask_scene_create(arena, &m->scene, focus.lie);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, focus.grid, focus.n_area);
    out->visible = gradin_arena_alloc(arena, (size_t)m->seats.n_seat, sizeof(double));
    out->own =
        gradin_arena_alloc(arena, (size_t)m->seats.n_seat * (size_t)focus.n_area, sizeof(double));
    if (!scene || !scratch || !out->visible || !out->own) return false;
    out->seconds = 0.0;
    out->n_ray = 0;
    for (int i = 0; i < m->seats.n_seat; i += every) {
        double best = INFINITY, start;
        for (int k = 0; k < (n_sample > 100000 ? 1 : REPEATS);
             k++, best = fmin(best, now_s() - start)) {
            start = now_s();
            out->visible[i / every] =
                see(m, &focus, scene, scratch, i, out->own + i / every * focus.n_area);
        }
        out->seconds += best;
        out->n_ray += focus.n_sample;
    }
    return true;
}

/* limit_rms 0: nothing is held. */
static bool compare(int n_sample, int n_seat, const looks *rough, const looks *fine,
                    double limit_rms) {
    double square = 0.0, bias = 0.0, worst = 0.0;
    int n_hidden = 0;
    for (int i = 0; i < n_seat; i++) {
        double off = rough->visible[i] - fine->visible[i];
        bool has_hidden = fine->visible[i] < 100.0 - 1e-9;
        square += off * off;
        worst = fmax(worst, fabs(off));
        bias += has_hidden ? off : 0.0;
        n_hidden += has_hidden;
    }
    double rms = sqrt(square / n_seat), mean = bias / n_hidden;
    bool is_good =
        limit_rms == 0.0 || (n_hidden > 0 && rms <= limit_rms && fabs(mean) <= LIMIT_BIAS);
    printf("  %6d samples: rms %.3f, worst %.2f points; mean %+.3f over %d seats that miss "
           "something; %.1f us per seat, %.0f Mray/s%s\n",
           n_sample, rms, worst, mean, n_hidden, 1e6 * rough->seconds / n_seat,
           1e-6 * (double)rough->n_ray / rough->seconds, is_good ? "" : " TOO FAR OFF");
    return is_good;
}

static bool see_all(gradin_arena *arena, const gradin_model *m, int n_sample, gradin_sight *sight) {
    const gradin_sight_options options = {.n_sample = n_sample};
    return gradin_sight_compute(arena, m, &options, sight, NULL) == GRADIN_OK;
}

/* Two names for one seat are an error; none at one number of samples and one at the other is not:
 * wherever the limit lies, some seats lie at it. */
static bool compare_names(gradin_arena *arena, const gradin_model *m) {
    gradin_sight few, many;
    int n_other = 0, n_none = 0, n_one = 0;
    if (!see_all(arena, m, step_sample[STEP_OF_DEFAULT], &few) || !see_all(arena, m, MANY, &many))
        return false;
    for (int i = 0; i < few.n_seat; i++) {
        int a = few.worst_occluder[i], b = many.worst_occluder[i];
        n_other += a != b && a >= 0 && b >= 0;
        n_one += a != b && (a < 0 || b < 0);
        n_none += a == GRADIN_NONE_CLEARLY;
    }
    printf(
        "  worst occluder of %d seats: %d none clearly; by %d samples %d have one where they had "
        "none or the reverse, %d another%s\n",
        few.n_seat, n_none, MANY, n_one, n_other, n_other > 0 ? " TWO NAMES" : "");
    return n_other == 0;
}

/* is_strip[n_seat][n_area]: the seat misses a strip at the near edge of that floor. */
static bool find_strips(gradin_arena *arena, const gradin_model *m, int every, bool *is_strip) {
    sight_focus f;
    if (gradin_sight_focus(arena, m, STRIPS_BY, &f, NULL) != GRADIN_OK) return false;
    gradin_mask_scene *scene = gradin_mask_scene_create(arena, &m->scene, f.lie);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, f.grid, f.n_area);
    bool *clear = gradin_arena_alloc(arena, (size_t)f.n_sample, sizeof *clear);
    if (!scene || !scratch || !clear) return false;
    for (int i = 0; i < m->seats.n_seat; i += every)
        for (int a = 0; a < f.n_area; a++) {
            int from = f.first_sample[a], n = f.first_sample[a + 1] - from;
            gradin_vec3 eye_m = m->seats.eye_m[i];
            if (f.area[a].kind != GRADIN_FOCUS_FLOOR) continue;
            gradin_mask_clear(scene, f.grid[a], eye_m, i, clear, scratch);
            is_strip[i / every * f.n_area + a] =
                strip_is_near(f.area[a].polygon, eye_m, f.sample_m + from, clear, n);
        }
    return true;
}

/* Of each floor's own share, by the seats that miss a strip of it. */
static bool compare_strips(int n, const bool *is_strip, const looks *rough, const looks *fine) {
    double square = 0.0, bias = 0.0, hidden = 0.0;
    int n_strip = 0;
    for (int k = 0; k < n; k++) {
        if (!is_strip[k]) continue;
        double off = rough->own[k] - fine->own[k];
        square += off * off;
        bias += off;
        hidden += 100.0 - fine->own[k];
        n_strip++;
    }
    if (n_strip == 0) return true;
    bool is_good = n_strip < ENOUGH_STRIPS || fabs(bias / n_strip) <= LIMIT_BIAS;
    printf("  strips at the near edge, %d: hide %.1f points, rms %.3f, mean %+.3f%s\n", n_strip,
           hidden / n_strip, sqrt(square / n_strip), bias / n_strip, is_good ? "" : " TOO FAR OFF");
    return is_good;
}

static bool compare_all(gradin_arena *arena, const sampled_hall *hall, int n_fine, int every) {
    const gradin_model *m = &hall->model;
    looks fine, rough;
    int n_seat = (m->seats.n_seat + every - 1) / every;
    int n_floor = n_seat * m->n_focus;
    bool *is_strip = gradin_arena_alloc(arena, (size_t)n_floor, sizeof *is_strip);
    bool is_good =
        is_strip && find_strips(arena, m, every, is_strip) && look(arena, m, n_fine, every, &fine);
    for (int i = 0; is_good && i < N_STEP; i++) {
        bool is_held = i == STEP_OF_DEFAULT;
        is_good = look(arena, m, step_sample[i], every, &rough) &&
                  compare(step_sample[i], n_seat, &rough, &fine, is_held ? hall->limit_rms : 0.0) &&
                  (!is_held || compare_strips(n_floor, is_strip, &rough, &fine));
    }
    return is_good;
}

static bool run(const char *what, int n_fine, int every) {
    gradin_arena *arena = gradin_arena_create();
    sampled_hall hall;
    printf("%s against %d samples\n", what, n_fine);
    bool is_good = arena && sampled_open(arena, what, &hall) &&
                   compare_all(arena, &hall, n_fine, every) &&
                   (!hall.is_layout || compare_names(arena, &hall.model));
    gradin_arena_destroy(arena);
    return is_good;
}

int main(int argc, char **argv) {
    bool is_good = argc > 3;
    for (int i = 3; i < argc; i++) is_good = run(argv[i], atoi(argv[1]), atoi(argv[2])) && is_good;
    return is_good ? 0 : 1;
}
