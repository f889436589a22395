/* Room: absorption, reverberation, and the direct field against the exact solid angle. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "acoustics/room/room.h"
#include "unit/acoustics/hall.h"

/* 20 degC, 50 %: 4m in 1/m, octaves 125..8000 Hz, recomputed from ISO 9613-1. */
Test(room, air) {
    static const double wanted_1m[7] = {0.00041, 0.00121, 0.00251, 0.00430,
                                        0.00911, 0.02732, 0.09698};
    for (int i = 0; i < 7; i++) {
        double f_hz = 125 << i; /* nominal frequencies */
        cr_assert(fabs(gradin_room_air_4m(f_hz) - wanted_1m[i]) < 5.1e-6, "%.1f Hz: %.6f", f_hz,
                  gradin_room_air_4m(f_hz));
    }
}

/* Worked by hand: S 2000 m2, mean alpha 0.3, V 6000 m3, no air: A = 2000 ln(1/0.7) = 713.35 m2,
 * T = 55.26 * 6000/(343.2 * 713.35) = 1.3543 s. Sabine's A = 600 m2 is the limit of small alpha. */
Test(room, eyring_by_hand) {
    double a_m2 = gradin_eyring_m2(2000.0, 0.3, 6000.0, 0.0);
    cr_assert(fabs(a_m2 - 713.3499) < 1e-4, "%.5f", a_m2);
    cr_assert(fabs(gradin_reverberation_s(6000.0, a_m2) - 1.354306) < 2e-4, "%.5f",
              gradin_reverberation_s(6000.0, a_m2));
    cr_assert(fabs(gradin_eyring_m2(2000.0, 1e-6, 6000.0, 0.0) - 0.002) < 1e-8);
    cr_assert(fabs(gradin_eyring_m2(2000.0, 0.3, 6000.0, 0.01) - a_m2 - 60.0) < 1e-9);
}

/* Worked by hand from R = (S alpha + 4 m V)/(1 - alpha) (Beranek 1954; Bies, Hansen, Howard 2017,
 * section 6.4): (2000 * 0.3 + 60)/0.7 = 942.857 m2. Beside Eyring's area in its place the level is
 * 10 lg(773.35/660) = 0.69 dB higher. */
Test(room, room_constant_by_hand) {
    double r_m2 = gradin_room_constant_m2(2000.0, 0.3, 6000.0, 0.01);
    cr_assert(fabs(r_m2 - 942.857143) < 1e-6, "%.6f", r_m2);
    cr_assert(fabs(gradin_room_constant_m2(2000.0, 0.3, 6000.0, 0.0) - 857.142857) < 1e-6);
    double eyring = gradin_eyring_m2(2000.0, 0.3, 6000.0, 0.01) / 0.7;
    cr_assert(fabs(10.0 * log10(eyring / r_m2) - 0.6883) < 1e-3);
}

/* 500 Hz (band 10): floor 600 m2 at 0.60, rest 1547 at 0.15; panes 48 m2 and the shut door 5 m2 at
 * 0.04 (heavy plate glass); shut shades 0.40 on the panes; an open door 1. */
Test(room, field) {
    hall h;
    hall_make(&h);
    const double s_m2 = 600.0 + 1547.0 + 53.0, base_m2 = 360.0 + 232.05;
    const double sum_m2[GRADIN_N_SHADE_STATE] = {
        base_m2 + 48.0 * 0.22 + 0.2, base_m2 + 48.0 * 0.04 + 0.2, base_m2 + 48.0 * 0.40 + 0.2};
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        gradin_room_field field;
        cr_assert(gradin_room_field_make(&h.model, (gradin_shade_state)state, &field, NULL) ==
                  GRADIN_OK);
        double alpha = sum_m2[state] / s_m2;
        double a_m2 =
            -s_m2 * log(1.0 - alpha) + 6000.0 * gradin_room_air_4m(gradin_band_mid_hz(10));
        cr_assert(fabs(field.absorption_m2[10] / a_m2 - 1.0) < 1e-12, "state %d", state);
        double lost_m2 = sum_m2[state] + 6000.0 * gradin_room_air_4m(gradin_band_mid_hz(10));
        cr_assert(fabs(field.reverberant_1m2[0][0][10] * lost_m2 / 4.0 - (1.0 - alpha)) < 1e-12);
        cr_assert(fabs(field.reverberation_s[0][10] - 55.26 * 6000.0 / (343.2 * a_m2)) < 1e-12);
    }
    gradin_room_field shut, ajar;
    gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &shut, NULL);
    h.element[HALL_DOOR].open = 1.0;
    gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &ajar, NULL);
    double more_m2 = 5.0 * 0.96 / (1.0 - (sum_m2[1] + 2.4) / s_m2);
    cr_assert(fabs(ajar.absorption_m2[10] - shut.absorption_m2[10] - more_m2) < 0.01);
}

Test(room, bad_rooms) {
    hall h;
    gradin_room_field field;
    hall_make(&h);
    h.model.volume_m3 = 0.0;
    cr_assert(gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &field, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    h.model.n_surface = 0;
    h.model.n_element = 0;
    cr_assert(gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &field, NULL) == GRADIN_BAD_USE);
    hall_make(&h);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        h.surface[0].absorption[b] = h.surface[1].absorption[b] = 1.0;
    h.model.n_element = 0;
    cr_assert(gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &field, NULL) == GRADIN_OK);
    cr_assert(isfinite(field.absorption_m2[5]) && field.reverberant_1m2[0][0][5] > 0.0);
}

/* reference/absorption/values.csv holds the published octaves of heavy plate glass. */
Test(room, glass_absorption_is_the_published_one) {
    double octave[6];
    char line[256], *end = NULL;
    FILE *file = fopen(GRADIN_SOURCE_DIR "/reference/absorption/values.csv", "r");
    cr_assert(file != NULL);
    while (fgets(line, sizeof line, file) && strncmp(line, "heavy plate glass,", 18) != 0) {
    }
    fclose(file);
    cr_assert(strncmp(line, "heavy plate glass,", 18) == 0);
    end = line + 17;
    for (int i = 0; i < 6; i++) octave[i] = strtod(end + 1, &end);
    for (int b = 0; b < GRADIN_N_BAND; b++) { /* a room of glass alone */
        hall h;
        gradin_room_field field;
        hall_make(&h);
        h.model.n_surface = 0;
        h.model.n_element = HALL_PANES;
        gradin_room_field_make(&h.model, GRADIN_SHADES_OPEN, &field, NULL);
        double air_m2 = 6000.0 * gradin_room_air_4m(gradin_band_mid_hz(b));
        double alpha = 1.0 - exp(-(field.absorption_m2[b] - air_m2) / 48.0);
        int at = b < 3 ? 0 : b / 3 - 1;
        cr_assert(fabs(alpha - octave[at]) < 1e-9, "band %d: %.4f", b, alpha);
    }
}

/* Solid angle of the corner rectangle a x b at distance d (closed form). */
static double corner_sr(double a, double b, double d) {
    return atan(a * b / (d * sqrt(a * a + b * b + d * d)));
}

/* Exact: solid angle over pi S. */
static double exact_1m2(const gradin_element *e, gradin_vec3 eye) {
    double x = (eye.x - e->corner_m.x) * e->along.x + (eye.y - e->corner_m.y) * e->along.y;
    double d = -((eye.x - e->corner_m.x) * e->outward.x + (eye.y - e->corner_m.y) * e->outward.y);
    double z = eye.z - e->corner_m.z, w = e->width_m - x, h = e->height_m - z;
    double sr = corner_sr(w, h, d) + corner_sr(x, h, d) + corner_sr(w, z, d) + corner_sr(x, z, d);
    return sr / (GRADIN_PI * e->width_m * e->height_m);
}

typedef struct rays {
    gradin_arena *arena;
    gradin_scene scene;
    gradin_mask_scene *sight;
} rays;

static rays rays_of(const hall *h) {
    rays r = {.arena = gradin_arena_create()};
    cr_assert(gradin_room_scene_make(r.arena, &h->model, &r.scene, NULL) == GRADIN_OK);
    r.sight = gradin_room_sight_make(r.arena, &h->model, &r.scene);
    cr_assert(r.sight != NULL);
    return r;
}

static double direct(const hall *h, const gradin_element *element, gradin_vec3 eye_m) {
    rays r = rays_of(h);
    double value = gradin_direct_1m2(element, eye_m, r.sight);
    gradin_arena_destroy(r.arena);
    return value;
}

Test(room, direct_field_is_the_solid_angle) {
    hall h;
    hall_make(&h);
    for (double y = -9.5; y < 10.0; y += 1.3)
        for (double x = -14.0; x < 15.0; x += 3.7) {
            gradin_vec3 eye_m = {x, y, 1.4};
            double got = direct(&h, &h.element[0], eye_m), wanted = exact_1m2(&h.element[0], eye_m);
            cr_assert(fabs(got / wanted - 1.0) < 1e-9, "(%.1f, %.1f): %.5g, not %.5g", x, y, got,
                      wanted);
        }
    gradin_vec3 at_glass_m = {-6.5, -9.999, 3.0};
    cr_assert(direct(&h, &h.element[0], at_glass_m) <= 2.0 / 12.0);
    cr_assert(direct(&h, &h.element[0], (gradin_vec3){0.0, -12.0, 1.2}) == 0.0, "outside");
}

/* All the power of a vent crosses a half sphere round it. */
Test(room, direct_field_keeps_the_power) {
    hall h;
    hall_make(&h);
    const int n = 200;
    double power = 0.0, radius_m = 1.7;
    for (int i = 0; i < n; i++) {
        double cosine = (i + 0.5) / n, sine = sqrt(1.0 - cosine * cosine);
        gradin_vec3 eye_m = {radius_m * sine, -10.0 + radius_m * cosine, 8.0};
        power +=
            direct(&h, &h.element[HALL_VENT], eye_m) * 2.0 * GRADIN_PI * radius_m * radius_m / n;
    }
    cr_assert(fabs(power - 1.0) < 1e-4, "%.6f", power);
}

Test(room, what_hides_an_element) {
    hall h;
    hall_make(&h);
    const gradin_element *pane = &h.element[1];
    gradin_vec3 eye_m = {-2.5, 0.0, 3.0};
    double clear = direct(&h, pane, eye_m);
    gradin_shape wall = gradin_box((gradin_vec3){-2.5, -4.0, 5.0}, 0.0, 0.2, 8.0, 5.0);
    hall_add(&h, wall, GRADIN_CAUSE_HEAD);
    hall_add(&h, wall, GRADIN_CAUSE_RAIL);
    cr_assert(direct(&h, pane, eye_m) == clear, "heads and rails do not count");
    h.occluder[0].cause = GRADIN_CAUSE_STRUCTURE;
    cr_assert(direct(&h, pane, eye_m) == 0.0, "structure");
    h.occluder[0].cause = GRADIN_CAUSE_ARCH;
    cr_assert(direct(&h, pane, eye_m) == 0.0, "arch");
    h.occluder[0].shape = gradin_box((gradin_vec3){2.5, -4.0, 5.0}, 0.0, 0.2, 5.0, 5.0);
    double half = direct(&h, pane, eye_m);
    cr_assert(fabs(half / clear - 0.5) < 0.01, "half a pane: %.4f", half / clear);
    h.occluder[0].shape = gradin_box((gradin_vec3){0.0, -10.0, 5.0}, 0.0, 0.02, 15.0, 5.0);
    cr_assert(direct(&h, pane, eye_m) == clear, "the wall that holds the glass");
}

/* A recess: the plan's corner (5, 0) points into the room, so the panes of the south wall are out
 * of sight round it, as far as straight lines say. */
Test(room, own_walls_hide_in_a_concave_plan) {
    hall h;
    hall_make(&h);
    gradin_vec2 plan_m[6] = {{-15, -10}, {5, -10}, {5, 0}, {15, 0}, {15, 10}, {-15, 10}};
    gradin_vec3 round_the_corner_m = {14.0, 0.5, 1.4}, across_m = {-4.0, 5.0, 1.4};
    const gradin_element *pane = &h.element[2]; /* x 1 to 4 */
    double seen = direct(&h, pane, round_the_corner_m), far = direct(&h, pane, across_m);
    h.model.footprint = (gradin_polygon){plan_m, 6};
    cr_assert(seen > 0.0 && direct(&h, pane, round_the_corner_m) == 0.0);
    cr_assert(far > 0.0 && direct(&h, pane, across_m) == far);
    /* From (9, 4) the sight line over the corner meets the south wall at x = -5: all of pane 2 is
     * hidden, all of pane 0 (x -8 to -5) is seen; mirrored winding changes nothing. */
    gradin_vec3 eye_m = {9.0, 4.0, 1.4};
    cr_assert(direct(&h, pane, eye_m) == 0.0);
    double open = direct(&h, &h.element[0], eye_m);
    for (int i = 0; i < 3; i++) {
        gradin_vec2 kept = plan_m[i];
        plan_m[i] = plan_m[5 - i];
        plan_m[5 - i] = kept;
    }
    cr_assert(open > 0.0 && direct(&h, &h.element[0], eye_m) == open);
    cr_assert(direct(&h, pane, eye_m) == 0.0);
    h.model.footprint = (gradin_polygon){h.corner_m, 4};
    cr_assert(direct(&h, &h.element[0], eye_m) == open);
}
