/* Two eyes past an upright pole: similar triangles give the breadth of each eye's shadow, w D/d,
 * and how far the two lie apart, e (D - d)/d, for a pole of breadth w at d, a strip at D, eyes e
 * apart (derived). */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

#define D 12.0
#define POLE_AT 2.0
#define STRIP 6.0
#define EYES 0.063

static gradin_sight past_pole(gradin_arena *arena, double breadth_m) {
    hall_start(&h);
    /* a strip 6 m wide and so shallow that all of it lies at D, ten rows of samples deep */
    hall_focus(&h, 0.0, 0.0, STRIP, 0.02, 1.2, 1.0);
    hall_seat(&h, 0.0, D, 1.2);
    hall_solid(&h, 0.0, D - POLE_AT, breadth_m, 0.0002, 0.0, 3.0, GRADIN_CAUSE_STRUCTURE, 1);
    h.model.audience.eye_distance_m = EYES;
    return hall_compute(&h, arena, 30000, false);
}

Test(two_eyes, a_pole_narrower_than_the_eyes_hides_nothing_from_both) {
    gradin_arena *arena = gradin_arena_create();
    double breadth = 0.04, shadow = breadth * D / POLE_AT;
    gradin_sight s = past_pole(arena, breadth);
    cr_assert_lt(shadow, EYES * (D - POLE_AT) / POLE_AT);
    /* counted on 2 mm samples: four edges of shadows */
    cr_assert_float_eq(s.one_eye[0], 2.0 * shadow / STRIP, 4.0 * 0.002 / STRIP);
    cr_assert_float_eq(s.both_eyes[0] + s.one_eye[0], 1.0, 1e-12);
    cr_assert_lt(s.visible[0], s.both_eyes[0] + s.one_eye[0]); /* the mid-eye sees less */
    gradin_arena_destroy(arena);
}

Test(two_eyes, a_broad_pole_hides_the_overlap_of_two_shadows) {
    gradin_arena *arena = gradin_arena_create();
    double breadth = 0.20, shadow = breadth * D / POLE_AT;
    double apart = EYES * (D - POLE_AT) / POLE_AT;
    gradin_sight s = past_pole(arena, breadth);
    cr_assert_float_eq(s.one_eye[0], 2.0 * apart / STRIP, 4.0 * 0.002 / STRIP);
    cr_assert_float_eq(1.0 - s.both_eyes[0] - s.one_eye[0], (shadow - apart) / STRIP,
                       2.0 * 0.002 / STRIP);
    gradin_arena_destroy(arena);
}

Test(two_eyes, without_a_distance_there_are_none) {
    gradin_arena *arena = gradin_arena_create();
    past_pole(arena, 0.1);
    h.model.audience.eye_distance_m = 0.0;
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_null(s.both_eyes);
    cr_assert_null(s.one_eye);
    gradin_arena_destroy(arena);
}
