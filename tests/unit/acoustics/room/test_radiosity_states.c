/* States of a room solved at once against each of them alone. */
#include <criterion/criterion.h>

#include "acoustics/patches/emission.h"
#include "acoustics/transfer/transfer.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

TestSuite(radiosity_states, .init = desk_open, .fini = desk_close);

enum { SOME = 48, STATES = GRADIN_N_SHADE_STATE, SOURCES = 3 };

static double random_01(uint32_t *seed) {
    *seed = *seed * 1664525u + 1013904223u;
    return (*seed >> 8) / 16777216.0;
}

/* A room of SOME patches anywhere, closed and symmetric; some pairs do not see each other. */
static cut random_room(uint32_t *seed) {
    cut c = {{gradin_arena_alloc(desk_arena, SOME, sizeof(gradin_patch)), SOME},
             {.n = SOME, .area_m2 = desk_numbers(SOME), .exchange_m2 = desk_numbers(SOME * SOME)}};
    cr_assert(c.patches.patch != NULL);
    for (int i = 0; i < SOME; i++) {
        c.exchange.area_m2[i] = 0.5 + 3.0 * random_01(seed);
        c.patches.patch[i].middle_m =
            (gradin_vec3){20.0 * random_01(seed), 15.0 * random_01(seed), 8.0 * random_01(seed)};
        for (int j = 0; j < i; j++)
            c.exchange.exchange_m2[i * SOME + j] = c.exchange.exchange_m2[j * SOME + i] =
                fmax(0.0, random_01(seed) - 0.2);
    }
    cr_assert(gradin_exchange_close(c.exchange.exchange_m2, c.exchange.area_m2, SOME,
                                    desk_numbers(3 * SOME)) == 0.0);
    return c;
}

/* Alike in all states up to n_same. */
static void random_alpha(uint32_t *seed, int n_same, double alpha[STATES][SOME]) {
    for (int k = 0; k < STATES; k++)
        for (int i = 0; i < SOME; i++)
            alpha[k][i] = k > 0 && i < n_same ? alpha[0][i] : fmin(1.05 * random_01(seed), 1.0);
}

/* A b = E with b as the unknowns, (I - rho F) b = rho q/A, by elimination with row exchanges. */
static void solve_plainly(const cut *c, const double *alpha, double air_1m, const double *first,
                          double *b) {
    static double m[SOME][SOME + 1];
    for (int i = 0; i < SOME; i++) {
        double back_1m2 = (1.0 - alpha[i]) / c->exchange.area_m2[i];
        for (int j = 0; j < SOME; j++)
            m[i][j] = (i == j) - back_1m2 * gradin_radiosity_through_air_m2(
                                                &c->exchange, &c->patches, air_1m, i, j);
        m[i][SOME] = back_1m2 * first[i];
    }
    for (int k = 0; k < SOME; k++) {
        int best = k;
        for (int i = k + 1; i < SOME; i++)
            if (fabs(m[i][k]) > fabs(m[best][k])) best = i;
        for (int j = k; j <= SOME; j++) {
            double kept = m[k][j];
            m[k][j] = m[best][j];
            m[best][j] = kept;
        }
        for (int i = k + 1; i < SOME; i++)
            for (int j = SOME; j >= k; j--) m[i][j] -= m[i][k] / m[k][k] * m[k][j];
    }
    for (int k = SOME - 1; k >= 0; k--) {
        b[k] = m[k][SOME];
        for (int j = k + 1; j < SOME; j++) b[k] -= m[k][j] * b[j];
        b[k] /= m[k][k];
    }
}

static double largest(const double *value, int n) {
    double most = 0.0;
    for (int i = 0; i < n; i++) most = fmax(most, fabs(value[i]));
    return most;
}

/* Absorbed by the walls for a unit of power; without air nothing else takes any. */
static double absorbed(const cut *c, const double *alpha, const double *first, const double *b) {
    double taken = 0.0, given = 0.0;
    for (int i = 0; i < SOME; i++) {
        double incident = first[i];
        for (int j = 0; j < SOME; j++) incident += desk_exchange_m2(&c->exchange, i, j) * b[j];
        taken += alpha[i] * incident;
        given += first[i];
    }
    return taken / given;
}

/* Every state and source of random rooms against elimination, from no patch alike to all. */
Test(radiosity_states, states_at_once_equal_each_alone) {
    const int same[6] = {0, 1, 17, SOME - 5, SOME - 1, SOME};
    static double alpha[STATES][SOME], first[SOURCES][SOME], leaving[STATES][SOURCES][SOME];
    double wanted[SOME];
    uint32_t seed = 7;
    for (int trial = 0; trial < 24; trial++) {
        int n_same = same[trial % 6];
        double air_1m = trial < 12 ? 0.0 : 0.02;
        cut c = random_room(&seed);
        random_alpha(&seed, n_same, alpha);
        for (int k = 0; k < SOURCES * SOME; k++) first[k / SOME][k % SOME] = random_01(&seed);
        cr_assert(chamber_solve(desk_arena, &c, n_same, STATES, alpha[0], air_1m, SOURCES, first[0],
                                leaving[0][0]) == GRADIN_OK);
        for (int state = 0; state < STATES; state++)
            for (int k = 0; k < SOURCES; k++) {
                solve_plainly(&c, alpha[state], air_1m, first[k], wanted);
                for (int i = 0; i < SOME; i++)
                    cr_assert(fabs(leaving[state][k][i] - wanted[i]) <
                                  1e-10 * largest(wanted, SOME),
                              "trial %d, state %d, source %d, patch %d: %.15g, not %.15g", trial,
                              state, k, i, leaving[state][k][i], wanted[i]);
                if (air_1m > 0.0) continue;
                double taken = absorbed(&c, alpha[state], first[k], leaving[state][k]);
                cr_assert(fabs(taken - 1.0) < 1e-6, "trial %d: %.9f", trial, taken);
            }
    }
}

/* Without air the patches take one watt for each watt that an element lets in, in every state. */
Test(radiosity_states, walls_take_what_each_element_lets_in) {
    chamber c;
    gradin_shade shade = {.name = "drape", .closed = 0.5};
    gradin_error error = {0};
    chamber_make(&c, 9.0, 8.0, 5.0, 0.2);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    for (int b = 0; b < GRADIN_N_BAND; b++) shade.absorption[b] = 0.1 + 0.03 * b;
    c.model.shade = &shade;
    c.model.n_shade = 1;
    c.element[0].shade = 0;
    gradin_patch_emission all = {.model = &c.model};
    cut room;
    gradin_scene scene;
    cr_assert(gradin_patches_make(desk_arena, &c.model, 1.5, &room.patches, &error) == GRADIN_OK);
    cr_assert(gradin_room_scene_make(desk_arena, &c.model, &scene, &error) == GRADIN_OK);
    cr_assert(gradin_emission_order(desk_arena, &c.model, &room.patches, &all.n_same, &error) ==
              GRADIN_OK);
    cr_assert(gradin_exchange_make(desk_arena, &room.patches,
                                   gradin_room_sight_make(desk_arena, &c.model, &scene),
                                   &room.exchange, &error) == GRADIN_OK);
    int n = room.patches.n;
    cr_assert(all.n_same > 0 && all.n_same < n);
    all.patches = &room.patches;
    all.exchange = &room.exchange;
    for (int state = 0; state < STATES; state++)
        all.power_1m2[state] = desk_numbers((size_t)(GRADIN_N_BAND * CHAMBER_ELEMENTS * n));
    cr_assert(gradin_emission_solve(desk_arena, &all, 2, &error) == GRADIN_OK);
    double *alpha = desk_numbers((size_t)(STATES * GRADIN_N_BAND * n));
    for (int state = 0; state < STATES; state++)
        gradin_patches_alpha(&c.model, &room.patches, (gradin_shade_state)state, NULL,
                             alpha + state * GRADIN_N_BAND * n, (size_t)n);
    for (int k = 0; k < STATES * GRADIN_N_BAND * CHAMBER_ELEMENTS; k++) {
        int state = k % STATES, row = k / STATES;
        double taken = 0.0;
        for (int i = 0; i < n; i++) {
            double kept = alpha[(state * GRADIN_N_BAND + row / CHAMBER_ELEMENTS) * n + i];
            taken +=
                kept / (1.0 - kept) * room.exchange.area_m2[i] * all.power_1m2[state][row * n + i];
        }
        cr_assert(fabs(taken - 1.0) < 1e-6, "state %d, row %d: %.9f", state, row, taken);
    }
}

/* Two shade states of one layout that also has a third give what they give without it; what the
 * third gives is what a shut shade of its absorption gives. */
Test(radiosity_states, a_half_closed_shade_is_a_third_state) {
    chamber c;
    gradin_shade shade = {.name = "drape", .closed = 0.5};
    gradin_transfer half, shut, mixed;
    gradin_error error = {0};
    chamber_make(&c, 9.0, 8.0, 5.0, 0.2);
    c.model.room_patch_m = 2.5;
    c.model.shade = &shade;
    c.model.n_shade = 1;
    for (int b = 0; b < GRADIN_N_BAND; b++) shade.absorption[b] = 0.1 + 0.03 * b;
    double glass[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        glass[b] = gradin_element_absorption(&c.model, &c.element[0], GRADIN_SHADES_OPEN, b, 1.0);
    c.element[0].shade = 0;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL, &half,
                                   &error) == GRADIN_OK);
    shade.closed = 1.0;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL, &shut,
                                   &error) == GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        shade.absorption[b] = 0.5 * shade.absorption[b] + 0.5 * glass[b];
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL, &mixed,
                                   &error) == GRADIN_OK);
    for (int i = 0; i < GRADIN_N_BAND * CHAMBER_SEATS * CHAMBER_ELEMENTS; i++) {
        double as_set = half.whole_1m2[GRADIN_SHADES_AS_SET][i];
        for (int state = 1; state < GRADIN_N_SHADE_STATE; state++)
            cr_assert(fabs(half.whole_1m2[state][i] / shut.whole_1m2[state][i] - 1.0) < 1e-12);
        cr_assert(fabs(as_set / mixed.whole_1m2[GRADIN_SHADES_SHUT][i] - 1.0) < 1e-12);
        cr_assert(as_set != half.whole_1m2[GRADIN_SHADES_SHUT][i] &&
                  shut.whole_1m2[0] == shut.whole_1m2[GRADIN_SHADES_SHUT]);
    }
}
