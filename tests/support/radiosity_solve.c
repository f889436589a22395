/* tests/support/radiosity_solve.c: one radiosity solution for the check against SciPy.
 *
 * A box with a block in it, in two states that differ in the last third of its patches; the second
 * one's solution is printed. Prints n, then n lines "area alpha x y z first leaving", then the
 * exchange areas row by row; then a count of pairs and, for each, both rectangles (corner, along,
 * up, normal: 12 numbers each) and their unhidden exchange area. Air takes 0.01 of the energy a
 * metre. */
#include <stdio.h>

#include "acoustics/patches/radiosity.h"

enum { N_CORNER = 4, N_PAIR = 40 };

static const double air_1m = 0.01;

static void put(gradin_vec3 v) {
    printf("%.17g %.17g %.17g ", v.x, v.y, v.z);
}

static void put_rectangle(const gradin_rectangle *r) {
    put(r->corner_m);
    put(r->along_m);
    put(r->up_m);
    put(r->normal);
}

static void put_pairs(const gradin_patches *p) {
    printf("%d\n", N_PAIR);
    for (int k = 0; k < N_PAIR; k++) {
        const gradin_rectangle *a = &p->patch[k * 37 % p->n].rectangle;
        const gradin_rectangle *b = &p->patch[(k * 53 + 11) % p->n].rectangle;
        put_rectangle(a);
        put_rectangle(b);
        printf("%.17g\n", gradin_form_exchange_m2(a, b));
    }
}

static gradin_status put_solution(gradin_arena *arena, const gradin_patches *p,
                                  const gradin_exchange *x) {
    size_t n = (size_t)x->n;
    int n_same = x->n - x->n / 3;
    double *both = gradin_arena_alloc(arena, 2 * n, sizeof *both), *alpha = both + n;
    double *first = gradin_arena_alloc(arena, n, sizeof *first);
    double *power = gradin_arena_alloc(arena, 2 * n, sizeof *power), *leaving = power + n;
    double *m = gradin_arena_alloc(arena, n * n, sizeof *m);
    double *work =
        gradin_arena_alloc(arena, gradin_radiosity_scratch(x->n, n_same, 1), sizeof *work);
    if (!both || !first || !power || !m || !work) return GRADIN_NO_MEMORY;
    for (size_t i = 0; i < n; i++) {
        alpha[i] = 0.05 + 0.9 * (double)(i * 13 % 29) / 29.0;
        both[i] = (int)i < n_same ? alpha[i] : 0.3;
        first[i] = (double)(i * 7 % 5);
    }
    gradin_radiosity_air_fill(x, p, air_1m, m);
    gradin_status status = gradin_radiosity_solve(&(gradin_radiosity){.n = x->n,
                                                                      .n_same = n_same,
                                                                      .n_state = 2,
                                                                      .n_source = 1,
                                                                      .area_m2 = x->area_m2,
                                                                      .alpha = both,
                                                                      .through_m2 = m,
                                                                      .first = first,
                                                                      .emission = {power, leaving},
                                                                      .scratch = work},
                                                  NULL);
    printf("%d\n", x->n);
    for (size_t i = 0; i < n; i++) {
        printf("%.17g %.17g ", x->area_m2[i], alpha[i]);
        put(p->patch[i].middle_m);
        printf("%.17g %.17g\n", first[i], leaving[i]);
    }
    for (size_t i = 0; i < n * n; i++)
        printf("%.17g%c", x->exchange_m2[i], i % n == n - 1 ? '\n' : ' ');
    return status;
}

int main(void) {
    gradin_vec2 wall[N_CORNER] = {{0, 0}, {9, 0}, {7, 6}, {0, 6}};
    gradin_vec2 block[N_CORNER] = {{3, 2}, {5, 2.5}, {4.5, 4.5}, {2.5, 4}};
    gradin_occluder occluder = {.shape = gradin_prism((gradin_polygon){block, N_CORNER}, 0.0, 2.0),
                                .cause = GRADIN_CAUSE_STRUCTURE,
                                .owner = GRADIN_NO_OWNER};
    gradin_model model = {.footprint = {wall, N_CORNER},
                          .ceiling_m = 4.0,
                          .scene = {.occluder = &occluder, .n_occluder = 1}};
    gradin_arena *arena = gradin_arena_create();
    gradin_patches patches;
    gradin_exchange exchange;
    if (!arena || gradin_patches_make(arena, &model, 1.2, &patches, NULL) != GRADIN_OK ||
        gradin_exchange_make(arena, &patches, gradin_room_sight_make(arena, &model, &model.scene),
                             &exchange, NULL) != GRADIN_OK ||
        put_solution(arena, &patches, &exchange) != GRADIN_OK)
        return 1;
    put_pairs(&patches);
    gradin_arena_destroy(arena);
    return 0;
}
