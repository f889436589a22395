/* How far the visible share lies from its limit, against what it costs: each layout's seats by 256
 * to 16,384 samples against FINE of them, on one thread. Fails when 1,024 samples are off by more
 * than the limits below. usage: sampling FINE EVERY LAYOUT...; every EVERY-th seat is looked at. */
#include "gradin/files.h"
#include "sightline/focus/focus.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { N_STEP = 4, STEP_OF_DEFAULT = 1, REPEATS = 5 };
static const int step_sample[N_STEP] = {256, 1024, 4096, 16384};

/* Points of a hundred. What hides on a flat floor is heads, all the way to the back of the stage:
 * outlines are longer there by far. */
static const double LIMIT_RMS = 0.15, LIMIT_RMS_FLAT = 0.30, LIMIT_BIAS = 0.05;

typedef struct looks {
    double *visible; /* [n_seat] of every EVERY-th seat, in points */
    double seconds;
    long n_ray;
} looks;

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double see(const gradin_model *m, const sight_focus *f, const gradin_mask_scene *scene,
                  gradin_mask_scratch *scratch, int seat) {
    double points = 0.0;
    for (int a = 0; a < f->n_area; a++)
        points += 100.0 * f->share[a] *
                  gradin_mask_clear(scene, f->grid[a], m->seats.eye_m[seat], seat, NULL, scratch) /
                  (f->first_sample[a + 1] - f->first_sample[a]);
    return points;
}

static bool look(gradin_arena *arena, const gradin_model *m, int n_sample, int every, looks *out) {
    sight_focus focus;
    if (gradin_sight_focus(arena, m, n_sample, &focus, NULL) != GRADIN_OK) return false;
    gradin_mask_scene *scene = gradin_mask_scene_create(arena, &m->scene, focus.lie);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, focus.grid, focus.n_area);
    out->visible = gradin_arena_alloc(arena, (size_t)m->seats.n_seat, sizeof(double));
    if (!scene || !scratch || !out->visible) return false;
    out->seconds = 0.0;
    out->n_ray = 0;
    for (int i = 0; i < m->seats.n_seat; i += every) {
        double best = INFINITY, start;
        for (int k = 0; k < (n_sample > 100000 ? 1 : REPEATS);
             k++, best = fmin(best, now_s() - start)) {
            start = now_s();
            out->visible[i / every] = see(m, &focus, scene, scratch, i);
        }
        out->seconds += best;
        out->n_ray += focus.n_sample;
    }
    return true;
}

static bool compare(const char *name, int n_sample, int n_seat, const looks *rough,
                    const looks *fine, bool is_held) {
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
    double limit = strstr(name, "flat_floor") ? LIMIT_RMS_FLAT : LIMIT_RMS;
    bool is_good = n_hidden > 0 && rms <= limit && fabs(mean) <= LIMIT_BIAS;
    printf("  %6d samples: rms %.3f, worst %.2f points; mean %+.3f over %d seats that miss "
           "something; %.1f us per seat, %.0f Mray/s%s\n",
           n_sample, rms, worst, mean, n_hidden, 1e6 * rough->seconds / n_seat,
           1e-6 * (double)rough->n_ray / rough->seconds, is_held && !is_good ? " TOO FAR OFF" : "");
    return is_good || !is_held;
}

static bool run(const char *path, int n_fine, int every) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    looks fine, rough;
    bool is_good = arena && gradin_model_read(arena, path, &model, NULL) == GRADIN_OK &&
                   look(arena, &model, n_fine, every, &fine);
    int n_seat = is_good ? (model.seats.n_seat + every - 1) / every : 0;
    printf("%s against %d samples\n", path, n_fine);
    for (int i = 0; is_good && i < N_STEP; i++)
        is_good = look(arena, &model, step_sample[i], every, &rough) &&
                  compare(path, step_sample[i], n_seat, &rough, &fine, i == STEP_OF_DEFAULT);
    gradin_arena_destroy(arena);
    return is_good;
}

int main(int argc, char **argv) {
    bool is_good = argc > 3;
    for (int i = 3; i < argc; i++) is_good = run(argv[i], atoi(argv[1]), atoi(argv[2])) && is_good;
    return is_good ? 0 : 1;
}
