/* Parts of the facade: their shares are those of the elements, and a part made perfect does what
 * computing the hall again without it does. */
#include <criterion/criterion.h>
#include <string.h>

#include "acoustics/envelope/element.h"
#include "unit/acoustics/hall.h"

static gradin_facade rank(gradin_arena *arena, const hall *h, gradin_noise *noise) {
    gradin_facade facade;
    *noise = hall_noise(arena, h);
    cr_assert_eq(gradin_facade_rank(arena, &h->model, noise, &facade, NULL), GRADIN_OK);
    return facade;
}

static const gradin_facade_part *part_of(const gradin_facade *facade, gradin_shade_state state,
                                         const char *entry, gradin_part_kind kind) {
    for (int i = 0; i < facade->n_part; i++) {
        const gradin_facade_part *part = &facade->part[state][i];
        if (part->kind == kind && strcmp(part->entry, entry) == 0) return part;
    }
    cr_assert_fail("no part %d of %s", kind, entry);
    return NULL;
}

static void make_leaky(hall *h) {
    hall_make(h);
    h->element[HALL_DOOR].open = 0.02;
    h->element[HALL_DOOR].joint_m = 9.0;
    h->element[HALL_DOOR].joint_r_db = 25.0;
}

Test(facade_rank, shares_are_those_of_the_elements) {
    hall h;
    gradin_noise noise;
    gradin_arena *arena = gradin_arena_create();
    make_leaky(&h);
    gradin_facade facade = rank(arena, &h, &noise);
    cr_assert_eq(facade.n_part, 6); /* glass and seals of panes, three of the door, the vent */
    double door = 0.0, panes = 0.0;
    for (int k = GRADIN_PART_BODY; k <= GRADIN_PART_OPENING; k++)
        door += part_of(&facade, GRADIN_SHADES_AS_SET, "door", (gradin_part_kind)k)->share;
    for (int e = 0; e < HALL_PANES; e++) panes += noise.share[e];
    cr_assert_float_eq(door, noise.share[HALL_DOOR], 1e-12);
    cr_assert_float_eq(part_of(&facade, GRADIN_SHADES_AS_SET, "pane", GRADIN_PART_BODY)->share +
                           part_of(&facade, GRADIN_SHADES_AS_SET, "pane", GRADIN_PART_SEALS)->share,
                       panes, 1e-12);
    gradin_arena_destroy(arena);
}

Test(facade_rank, shares_sum_to_one_and_fall) {
    hall h;
    gradin_noise noise;
    gradin_arena *arena = gradin_arena_create();
    make_leaky(&h);
    gradin_facade facade = rank(arena, &h, &noise);
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        double sum = 0.0, band[GRADIN_N_BAND] = {0.0};
        for (int i = 0; i < facade.n_part; i++) {
            const gradin_facade_part *part = &facade.part[state][i];
            if (i) cr_assert(part->share <= facade.part[state][i - 1].share, "part %d", i);
            sum += part->share;
            for (int b = 0; b < GRADIN_N_BAND; b++) band[b] += part->band_share[b];
        }
        cr_assert_float_eq(sum, 1.0, 1e-12);
        for (int b = 0; b < GRADIN_N_BAND; b++) cr_assert_float_eq(band[b], 1.0, 1e-12);
    }
    /* shut shades are on the glass only, so the door's opening gains */
    cr_assert_gt(part_of(&facade, GRADIN_SHADES_SHUT, "door", GRADIN_PART_OPENING)->share,
                 part_of(&facade, GRADIN_SHADES_OPEN, "door", GRADIN_PART_OPENING)->share);
    gradin_arena_destroy(arena);
}

/* Seals of the door with 200 dB instead of 3: level and rating move as foretold. */
Test(facade_rank, a_perfect_part_does_what_a_new_computation_does) {
    hall h;
    gradin_noise before, after;
    gradin_arena *arena = gradin_arena_create();
    make_leaky(&h);
    h.element[HALL_DOOR].open = 0.0;
    h.element[HALL_DOOR].joint_r_db = 3.0;
    gradin_facade facade = rank(arena, &h, &before);
    const gradin_facade_part *seals =
        part_of(&facade, GRADIN_SHADES_AS_SET, "door", GRADIN_PART_SEALS);
    cr_assert_gt(seals->share, 0.3);
    cr_assert_float_eq(seals->without_db, 10.0 * log10(1.0 - seals->share), 1e-12);
    h.element[HALL_DOOR].joint_r_db = 200.0;
    rank(arena, &h, &after);
    cr_assert_eq(after.d2m_nt_w_db[GRADIN_SHADES_AS_SET], seals->d2m_nt_w_without_db);
    cr_assert_gt(seals->d2m_nt_w_without_db, before.d2m_nt_w_db[GRADIN_SHADES_AS_SET]);
    /* shares of what is left grow by the power taken away */
    cr_assert_float_eq(after.share[0] / before.share[0], 1.0 / (1.0 - seals->share), 1e-9);
    gradin_arena_destroy(arena);
}

Test(facade_rank, a_lone_part_has_nothing_beside_it) {
    hall h;
    gradin_noise noise;
    gradin_arena *arena = gradin_arena_create();
    hall_make(&h);
    h.model.element = &h.element[HALL_VENT];
    h.model.n_element = 1;
    gradin_facade facade = rank(arena, &h, &noise);
    cr_assert_eq(facade.n_part, 1);
    cr_assert_eq(facade.part[0][0].kind, GRADIN_PART_VENT);
    cr_assert_float_eq(facade.part[0][0].share, 1.0, 1e-12);
    cr_assert(isinf(facade.part[0][0].without_db));
    cr_assert_eq(gradin_facade_rank(arena, &h.model, NULL, &facade, NULL), GRADIN_BAD_USE);
    gradin_arena_destroy(arena);
}
