/* Noise at every seat: invariants, contract, faults, threads. */
#include <criterion/criterion.h>
#include <omp.h>
#include <string.h>

#include "base/faults.h"
#include "unit/acoustics/hall.h"

Test(noise, mirror_images_are_equal) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    gradin_noise noise = hall_noise(arena, &h);
    for (int seat = 0; seat < 6; seat++)
        for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
            cr_assert(fabs(noise.lamax_db[state][seat] - noise.lamax_db[state][seat + 6]) < 1e-9,
                      "seat %d state %d", seat, state);
    for (int i = 0; i < 2; i++) cr_assert(fabs(noise.share[i] - noise.share[3 - i]) < 1e-12);
    gradin_arena_destroy(arena);
}

static void expect_all_lower(const gradin_noise *high, const gradin_noise *low, const char *what) {
    for (int seat = 0; seat < high->n_seat; seat++)
        cr_assert(low->lamax_db[0][seat] < high->lamax_db[0][seat], "%s, seat %d: %.3f, %.3f", what,
                  seat, high->lamax_db[0][seat], low->lamax_db[0][seat]);
}

Test(noise, levels_fall_when_they_must) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    gradin_noise noise = hall_noise(arena, &h), other;
    for (int seat = 0; seat < HALL_SEATS; seat++) {
        cr_assert(noise.lamax_db[GRADIN_SHADES_SHUT][seat] <
                  noise.lamax_db[GRADIN_SHADES_AS_SET][seat]);
        cr_assert(noise.lamax_db[GRADIN_SHADES_AS_SET][seat] <
                  noise.lamax_db[GRADIN_SHADES_OPEN][seat]);
        cr_assert(noise.laeq_db[seat] < noise.lamax_db[GRADIN_SHADES_AS_SET][seat]);
    }
    h.pass.point_m.z = 800.0;
    other = hall_noise(arena, &h);
    expect_all_lower(&noise, &other, "twice the altitude");
    hall_make(&h);
    for (int i = 0; i < HALL_PANES; i++) h.element[i].buildup = HALL_SINGLE;
    other = hall_noise(arena, &h);
    expect_all_lower(&other, &noise, "double for single glazing");
    for (int b = 0; b < GRADIN_N_BAND; b++) h.surface[1].absorption[b] = 0.6;
    noise = hall_noise(arena, &h);
    expect_all_lower(&other, &noise, "more absorption");
    hall_make(&h);
    noise = hall_noise(arena, &h);
    for (int i = 0; i < 6; i++) h.element[i].joint_r_db = 10.0;
    other = hall_noise(arena, &h);
    expect_all_lower(&other, &noise, "tight joints");
    gradin_arena_destroy(arena);
}

Test(noise, a_hole_dominates) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    h.element[HALL_DOOR].corner_m.y = -10.0; /* on the lit side */
    h.element[HALL_DOOR].outward = (gradin_vec2){0.0, -1.0};
    h.element[HALL_DOOR].open = 1.0;
    gradin_noise noise = hall_noise(arena, &h);
    cr_assert(noise.share[HALL_DOOR] > 0.9, "%.3f", noise.share[HALL_DOOR]);
    for (int seat = 0; seat < HALL_SEATS; seat++)
        cr_assert(noise.loudest_element[seat] == HALL_DOOR, "seat %d", seat);
    gradin_arena_destroy(arena);
}

/* A hall whose shades are set open or shut is the other hall's state of that name: transmission and
 * the room's absorption both follow the shades. */
Test(noise, shades_as_set_meet_both_states) {
    gradin_arena *arena = gradin_arena_create();
    const gradin_shade_state state[2] = {GRADIN_SHADES_OPEN, GRADIN_SHADES_SHUT};
    hall h;
    hall_make(&h);
    for (int b = 0; b < GRADIN_N_BAND; b++) h.shade[0].absorption[b] = 0.9;
    gradin_noise half = hall_noise(arena, &h);
    for (int closed = 0; closed <= 1; closed++) {
        h.shade[0].closed = closed;
        gradin_noise set = hall_noise(arena, &h);
        for (int seat = 0; seat < HALL_SEATS; seat++)
            cr_assert(fabs(set.lamax_db[GRADIN_SHADES_AS_SET][seat] -
                           half.lamax_db[state[closed]][seat]) < 1e-9,
                      "closed %d seat %d", closed, seat);
        cr_assert(set.d2m_nt_w_db[GRADIN_SHADES_AS_SET] == half.d2m_nt_w_db[state[closed]]);
    }
    gradin_arena_destroy(arena);
}

/* Pane 3 leaks most into the room, but a seat close to pane 0 hears pane 0. */
Test(noise, a_near_pane_is_loudest) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    h.element[3].joint_r_db = 44.0;
    h.eye_m[0] = (gradin_vec3){-6.5, -9.5, 3.0};
    h.eye_m[1] = (gradin_vec3){14.0, 9.0, 1.2};
    gradin_noise noise = hall_noise(arena, &h);
    cr_assert(noise.share[3] > noise.share[0], "%.3f, %.3f", noise.share[3], noise.share[0]);
    cr_assert(noise.loudest_element[0] == 0, "%d", noise.loudest_element[0]);
    cr_assert(noise.loudest_element[1] == 3, "%d", noise.loudest_element[1]);
    gradin_arena_destroy(arena);
}

/* A wall between the panes and the rear seats takes the direct field away, and nothing else. */
Test(noise, structure_leaves_the_reverberant_field) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    h.element[1].joint_r_db = 40.0; /* brings most where only the reverberant field is left */
    gradin_noise open = hall_noise(arena, &h);
    hall_add(&h, gradin_box((gradin_vec3){0.0, -2.0, 5.0}, 0.0, 0.1, 15.0, 5.0),
             GRADIN_CAUSE_STRUCTURE);
    gradin_noise hidden = hall_noise(arena, &h);
    for (int seat = 0; seat < 6; seat++) {
        double lost_db = open.lamax_db[0][seat] - hidden.lamax_db[0][seat];
        bool is_behind = h.eye_m[seat].y > -2.0;
        cr_assert(is_behind ? lost_db > 0.001 && lost_db < 3.0 : lost_db >= 0.0 && lost_db < 0.05,
                  "seat %d loses %.4f dB", seat, lost_db);
        cr_assert(!is_behind || hidden.loudest_element[seat] == 1, "seat %d", seat);
    }
    gradin_arena_destroy(arena);
}

Test(noise, bad_use) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    gradin_noise noise;
    hall_make(&h);
    cr_assert(gradin_noise_compute(NULL, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    cr_assert(gradin_noise_compute(arena, NULL, NULL, &noise, NULL) == GRADIN_BAD_USE);
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, NULL, NULL) == GRADIN_BAD_USE);
    h.model.pass = NULL;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.model.n_element = 0;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.element[2].buildup = HALL_BUILDUPS;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.element[2].shade = 1;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.model.footprint.n_corner = 2;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.model.volume_m3 = -1.0;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.pair[1].speed_ms = 0.0;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_BAD_INPUT);
    hall_make(&h);
    h.pass.level_db[4] = NAN;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_NUMERIC);
    hall_make(&h);
    h.model.seats.n_seat = 0;
    cr_assert(gradin_noise_compute(arena, &h.model, NULL, &noise, NULL) == GRADIN_OK, "no seats");
    gradin_arena_destroy(arena);
}

static bool same(const double *a, const double *b, int n) {
    return memcmp(a, b, (size_t)n * sizeof *a) == 0;
}

Test(noise, threads_do_not_change_a_byte) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    hall_add(&h, gradin_box((gradin_vec3){3.0, -4.0, 2.0}, 20.0, 0.5, 2.0, 2.0),
             GRADIN_CAUSE_STRUCTURE);
    omp_set_num_threads(1);
    gradin_noise one = hall_noise(arena, &h);
    for (int n_thread = 2; n_thread <= 5; n_thread++) {
        omp_set_num_threads(n_thread);
        gradin_noise more = hall_noise(arena, &h);
        for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
            cr_assert(same(one.lamax_db[state], more.lamax_db[state], HALL_SEATS));
        cr_assert(same(one.laeq_db, more.laeq_db, HALL_SEATS));
        cr_assert(same(one.band_db, more.band_db, HALL_SEATS * GRADIN_N_BAND));
        cr_assert(same(one.nc, more.nc, HALL_SEATS) && same(one.share, more.share, HALL_ELEMENTS));
        cr_assert(same(one.excess_db, more.excess_db, HALL_SEATS));
        cr_assert(memcmp(one.loudest_element, more.loudest_element, HALL_SEATS * sizeof(int)) == 0);
    }
    gradin_arena_destroy(arena);
}

Test(noise, every_allocation_may_fail) {
    hall h;
    hall_make(&h);
    gradin_status status = GRADIN_NO_MEMORY;
    long n = 0;
    while (status != GRADIN_OK) {
        gradin_noise noise;
        gradin_arena *arena = gradin_arena_create();
        gradin_alloc_fail_at(++n);
        status = gradin_noise_compute(arena, &h.model, NULL, &noise, NULL);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "allocation %ld: %d", n,
                  (int)status);
        gradin_arena_destroy(arena);
    }
    cr_assert(n > 20, "only %ld allocations", n);
}
