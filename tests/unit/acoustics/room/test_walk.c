/* Radiosity against a random walk: energy taken by the surfaces, and heard at the seats. */
#include <criterion/criterion.h>

#include "acoustics/transfer/transfer.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

#define BALL_M 0.35

TestSuite(walk, .init = desk_open, .fini = desk_close);

/* Particles in the same room by plain ray geometry: its walls, and one block as a box of planes;
 * Lambert reflection, absorbed by chance. No code of the library takes part. */
typedef struct walk {
    uint64_t seed;
    double high[3], low_block[3], high_block[3];
    double alpha[4];             /* floor and tops, ceiling, walls and sides, pane */
    const gradin_vec3 *ear_m;    /* [CHAMBER_SEATS] middles of balls that count what runs through */
    double run_m[CHAMBER_SEATS]; /* length of one walk in each ball */
} walk;

static double chance(walk *w) { /* xorshift64* */
    w->seed ^= w->seed >> 12;
    w->seed ^= w->seed << 25;
    w->seed ^= w->seed >> 27;
    return (double)((w->seed * 0x2545F4914F6CDD1DULL) >> 11) / 9007199254740992.0;
}

/* Cosine-weighted direction about the axis, sign +-1. */
static void scatter(walk *w, int axis, double sign, double way[3]) {
    double u = chance(w), turn = 2.0 * GRADIN_PI * chance(w);
    way[axis] = sign * sqrt(1.0 - u);
    way[(axis + 1) % 3] = sqrt(u) * cos(turn);
    way[(axis + 2) % 3] = sqrt(u) * sin(turn);
}

/* Length of the way from at_m over t metres that lies in a ball. */
static double chord_m(const double at_m[3], const double way[3], double t, gradin_vec3 middle_m) {
    const double off[3] = {at_m[0] - middle_m.x, at_m[1] - middle_m.y, at_m[2] - middle_m.z};
    double b = off[0] * way[0] + off[1] * way[1] + off[2] * way[2];
    double c = off[0] * off[0] + off[1] * off[1] + off[2] * off[2] - BALL_M * BALL_M;
    if (b * b <= c) return 0.0;
    double half = sqrt(b * b - c);
    return fmax(fmin(half - b, t) - fmax(-half - b, 0.0), 0.0);
}

/* Next wall met; false when the block is met first. The new position in place. */
static void step(walk *w, double at_m[3], const double way[3], int *axis, double *sign,
                 bool *is_block) {
    double t = INFINITY, enter = 0.0, leave = INFINITY;
    int enter_axis = -1;
    for (int k = 0; k < 3; k++) {
        double wall = way[k] > 0.0 ? (w->high[k] - at_m[k]) / way[k] : -at_m[k] / way[k];
        if (wall < t) {
            t = wall;
            *axis = k;
        }
        double a = (w->low_block[k] - at_m[k]) / way[k], b = (w->high_block[k] - at_m[k]) / way[k];
        if (fmin(a, b) > enter) {
            enter = fmin(a, b);
            enter_axis = k;
        }
        leave = fmin(leave, fmax(a, b));
    }
    *is_block = enter_axis >= 0 && enter < leave && enter > 1e-9 && enter < t;
    if (*is_block) {
        t = enter;
        *axis = enter_axis;
    }
    *sign = way[*axis] > 0.0 ? -1.0 : 1.0;
    for (int i = 0; w->ear_m && i < CHAMBER_SEATS; i++)
        w->run_m[i] += chord_m(at_m, way, t, w->ear_m[i]);
    for (int k = 0; k < 3; k++) at_m[k] += t * way[k];
    if (!*is_block) at_m[*axis] = *sign > 0.0 ? 0.0 : w->high[*axis];
}

static int kind_met(const walk *w, const double at_m[3], int axis, double sign, bool is_block) {
    if (axis == 2) return sign > 0.0 || is_block ? GRADIN_PATCH_FLOOR : GRADIN_PATCH_CEILING;
    bool is_pane = axis == 1 && sign > 0.0 && !is_block &&
                   fabs(at_m[0] / w->high[0] - 0.5) < 0.25 &&
                   fabs(at_m[2] / w->high[2] - 0.5) < 0.25;
    return is_pane ? GRADIN_PATCH_ELEMENT : GRADIN_PATCH_WALL;
}

/* Kind of surface that ends the walk of one particle from the pane. */
static int follow(walk *w) {
    double at_m[3] = {w->high[0] * (0.25 + 0.5 * chance(w)), 0.0,
                      w->high[2] * (0.25 + 0.5 * chance(w))};
    double way[3], sign = 1.0;
    int axis = 1;
    for (;;) {
        bool is_block;
        scatter(w, axis, sign, way);
        step(w, at_m, way, &axis, &sign, &is_block);
        int kind = kind_met(w, at_m, axis, sign, is_block);
        if (chance(w) < w->alpha[kind]) return kind;
    }
}

/* Shares of the pane's power that floor, ceiling, walls and pane take. */
Test(walk, surfaces) {
    enum { N_WALK = 200000 };
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.5);
    c.model.n_element = 1;
    cut all = chamber_cut(desk_arena, &c, 0.8);
    walk w = {.seed = 0x9E3779B97F4A7C15ULL,
              .high = {8.0, 6.0, 4.0},
              .low_block = {3.0, 2.0, -1.0},
              .high_block = {5.0, 4.0, 2.5},
              .alpha = {0.5, 0.25, 0.1, 0.05}};
    int n = all.exchange.n, count[4] = {0};
    double *first = desk_numbers((size_t)n), *alpha = desk_numbers((size_t)n), taken[4] = {0.0};
    double pane_m2 = 0.0;
    for (int i = 0; i < n; i++) {
        alpha[i] = w.alpha[all.patches.patch[i].kind];
        if (all.patches.patch[i].element < 0) continue;
        pane_m2 += all.exchange.area_m2[i];
        for (int j = 0; j < n; j++)
            first[j] += all.exchange.exchange_m2[(size_t)i * (size_t)n + (size_t)j];
    }
    for (int j = 0; j < n; j++) first[j] /= pane_m2;
    double *leaving = desk_numbers((size_t)n);
    cr_assert(chamber_solve(desk_arena, &all, n, 1, alpha, 0.0, 1, first, leaving) == GRADIN_OK);
    for (int i = 0; i < n; i++)
        taken[all.patches.patch[i].kind] +=
            alpha[i] / (1.0 - alpha[i]) * leaving[i] * all.exchange.area_m2[i];
    for (int k = 0; k < N_WALK; k++) count[follow(&w)]++;
    for (int k = 0; k < 4; k++) {
        double share = (double)count[k] / N_WALK;
        double sigma = sqrt(share * (1.0 - share) / N_WALK);
        cr_assert(fabs(taken[k] - share) < 4.0 * sigma, "kind %d: %.5f, walked %.5f +- %.5f", k,
                  taken[k], share, sigma);
    }
}

static void make_hearing_room(chamber *c, gradin_shade *shade, const walk *w) {
    const double alpha[GRADIN_N_SURFACE] = {w->alpha[0], w->alpha[1], w->alpha[2], w->alpha[0]};
    chamber_make(c, w->high[0], w->high[1], w->high[2], 0.3);
    chamber_block(
        c, (gradin_box2){w->low_block[0], w->low_block[1], w->high_block[0], w->high_block[1]},
        w->high_block[2]);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        for (int i = 0; i < GRADIN_N_SURFACE; i++) c->surface[i].absorption[b] = alpha[i];
        shade->absorption[b] = w->alpha[3];
    }
    c->element[0].shade = 0;
    c->model.shade = shade;
    c->model.n_shade = c->model.n_element = 1;
    c->model.room_patch_m = 0.9;
}

/* Energy density: a walk's mean length in a ball over its volume is what the unit of power gives,
 * p^2/(W rho c), straight and after reflection alike; 50 Hz, where air takes nothing to speak of.
 * Within four standard errors of the walk, each about 2 %. */
Test(walk, seats) {
    enum { N_WALK = 120000 };
    chamber c;
    gradin_shade shade = {.name = "glass", .closed = 1.0};
    gradin_transfer transfer;
    walk w = {.seed = 0x9E3779B97F4A7C15ULL,
              .high = {8.0, 6.0, 4.0},
              .low_block = {3.0, 2.4, -1.0},
              .high_block = {5.0, 3.6, 2.5},
              .alpha = {0.5, 0.25, 0.1, 0.05}};
    make_hearing_room(&c, &shade, &w);
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL,
                                   &transfer, NULL) == GRADIN_OK);
    double sum[CHAMBER_SEATS] = {0.0}, square[CHAMBER_SEATS] = {0.0};
    double ball_m3 = 4.0 / 3.0 * GRADIN_PI * BALL_M * BALL_M * BALL_M;
    w.ear_m = c.eye_m;
    for (int k = 0; k < N_WALK; k++) {
        for (int i = 0; i < CHAMBER_SEATS; i++) w.run_m[i] = 0.0;
        follow(&w);
        for (int i = 0; i < CHAMBER_SEATS; i++) {
            sum[i] += w.run_m[i];
            square[i] += w.run_m[i] * w.run_m[i];
        }
    }
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        double mean = sum[i] / N_WALK;
        double sigma = sqrt((square[i] / N_WALK - mean * mean) / N_WALK);
        double got = transfer.whole_1m2[GRADIN_SHADES_SHUT][gradin_transfer_at(&transfer, 0, i, 0)];
        cr_assert(sigma / mean < 0.03, "seat %d: error %.3f", i, sigma / mean);
        cr_assert(fabs(got * ball_m3 - mean) < 4.0 * sigma, "seat %d: %.5f, walked %.5f +- %.5f", i,
                  got, mean / ball_m3, sigma / ball_m3);
    }
}
