/* A source: free field, and the power that falls on an element. */
#include <criterion/criterion.h>

#include "acoustics/source/source.h"
#include "gradin/acoustics/event.h"
#include "support/reference.h"
#include "unit/acoustics/hall.h"

static gradin_source silent_air(double reference_m) {
    gradin_source source = {.reference_m = reference_m};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        source.power[b] = 1.0;
        source.wavelength_m[b] = 340.0 / gradin_band_mid_hz(b);
    }
    return source;
}

/* 1 km further on: 20 lg of the ratio, and ISO 9613-1 attenuation of 1 km at the exact mid-band. */
Test(source, free_field) {
    hall h;
    double near[GRADIN_N_BAND], far[GRADIN_N_BAND];
    hall_make(&h);
    gradin_traffic traffic;
    gradin_arena *arena = gradin_arena_create();
    cr_assert(gradin_pass_traffic(arena, &h.pass, &traffic, NULL) == GRADIN_OK);
    gradin_source source = gradin_source_make(&traffic, &traffic.class_of[0]);
    gradin_source_free_field(&source, 300.0, near);
    gradin_source_free_field(&source, 1300.0, far);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double alpha = gradin_air_absorption_dbm(gradin_band_mid_hz(b), 15.0, 70.0, 101.325);
        double wanted_db = 20.0 * log10(1300.0 / 300.0) + 1000.0 * alpha;
        cr_assert(fabs(10.0 * log10(near[b]) - h.pass.level_db[b]) < 1e-9, "band %d", b);
        cr_assert(fabs(10.0 * log10(near[b] / far[b]) - wanted_db) < 1e-9, "band %d", b);
    }
    gradin_arena_destroy(arena);
}

static double incident_on(const gradin_element *element, gradin_vec3 source_m, int band) {
    gradin_source source = silent_air(100.0);
    double incident[GRADIN_N_BAND], distance_m, angle_rad;
    gradin_source_incident(&source, source_m, element, incident, &angle_rad);
    distance_m = gradin_norm(gradin_sub(source_m, gradin_element_centre_m(element)));
    return incident[band] * distance_m * distance_m / 1e4; /* factor on the free field */
}

/* Pane 1: centre (-2.5, -10, 3), facing -y. */
static double angle_deg_of(const gradin_element *element, gradin_vec3 source_m) {
    gradin_source source = silent_air(100.0);
    double incident[GRADIN_N_BAND], angle_rad;
    gradin_source_incident(&source, source_m, element, incident, &angle_rad);
    return gradin_deg(angle_rad);
}

Test(source, lit_element_sees_the_wave_at_its_angle) {
    hall h;
    hall_make(&h);
    const gradin_element *pane = &h.element[1];
    gradin_vec3 ahead_m = {-2.5, -510.0, 3.0};
    gradin_vec3 sixty_m = {-2.5, -260.0, 3.0 + 250.0 * sqrt(3.0)};
    cr_assert(fabs(incident_on(pane, ahead_m, 10) - 1.0) < 1e-12);
    cr_assert(fabs(incident_on(pane, sixty_m, 10) - 1.0) < 1e-12, "the wave itself, no cosine");
    cr_assert(fabs(angle_deg_of(pane, ahead_m)) < 1e-5);
    cr_assert(fabs(angle_deg_of(pane, sixty_m) - 60.0) < 1e-9);
    cr_assert(angle_deg_of(pane, (gradin_vec3){-2.5, 290.0, 410.0}) == 90.0, "behind its wall");
}

/* In the plane of the wall and above it nothing is in the way: z = 0, D_z = 10 lg 3. Lit, the half
 * shadow is left behind where the way over the edge is 0.1 wavelengths longer. */
Test(source, grazing_is_continuous) {
    hall h;
    hall_make(&h);
    const gradin_element *pane = &h.element[1];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert(fabs(incident_on(pane, (gradin_vec3){-2.5, -10.0, 500.0}, b) - 1.0 / 3.0) < 1e-6,
                  "band %d", b);
    for (double z_m = 4.0; z_m < 1000.0; z_m *= 2.0) {
        double lit = incident_on(pane, (gradin_vec3){40.0, -10.0 - 1e-7, z_m}, 12);
        double dark = incident_on(pane, (gradin_vec3){40.0, -10.0 + 1e-7, z_m}, 12);
        cr_assert(fabs(lit - dark) < 1e-6, "height %g: %g against %g", z_m, lit, dark);
    }
}

/* Worked by hand: source 300 m behind the wall and 400 m over its top, right behind the pane whose
 * centre lies 7 m under the top: over the edge 500 + 7 m, straight sqrt(300^2 + 407^2) m. */
Test(source, shadow_over_the_top_edge) {
    hall h;
    hall_make(&h);
    const gradin_element *pane = &h.element[1];
    gradin_vec3 source_m = {-2.5, 290.0, 410.0};
    double z_m = 507.0 - sqrt(300.0 * 300.0 + 407.0 * 407.0);
    cr_assert(fabs(z_m - 1.3826) < 0.001, "%.4f", z_m);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double dz_db = fmin(10.0 * log10(3.0 + 20.0 * z_m * gradin_band_mid_hz(b) / 340.0), 20.0);
        double wanted = pow(10.0, -0.1 * dz_db);
        double factor = incident_on(pane, source_m, b);
        cr_assert(fabs(factor / wanted - 1.0) < 1e-9, "band %d: %g, not %g", b, factor, wanted);
    }
    cr_assert(fabs(incident_on(pane, (gradin_vec3){-2.5, 290.0, 12.0}, 20) - 0.01) < 1e-12);
}

/* Off to one side: the shortest of all ways over the edge, searched in steps of 0.1 mm. */
Test(source, shadow_aslant) {
    hall h;
    hall_make(&h);
    const gradin_element *pane = &h.element[1];
    gradin_vec3 source_m = {57.5, 30.0, 40.0}, centre_m = {-2.5, -10.0, 3.0};
    double least_m = INFINITY;
    for (int i = 0; i < 600000; i++) {
        gradin_vec3 edge_m = {-2.5 + 1e-4 * i, -10.0, 10.0};
        least_m = fmin(least_m, gradin_norm(gradin_sub(source_m, edge_m)) +
                                    gradin_norm(gradin_sub(edge_m, centre_m)));
    }
    double z_m = least_m - gradin_norm(gradin_sub(source_m, centre_m));
    double wanted = 1.0 / (3.0 + 20.0 * z_m * gradin_band_mid_hz(0) / 340.0);
    double factor = incident_on(pane, source_m, 0);
    cr_assert(fabs(factor / wanted - 1.0) < 1e-6, "%.9g, not %.9g", factor, wanted);
}

/* An L of a building, 12 m high: a bay in the inner corner's north wall, its middle at (20, 10, 3),
 * faces north; the wing to the west stands between it and low sources in the west. */
static const gradin_vec2 l_corner_m[6] = {{0, 0}, {40, 0}, {40, 10}, {10, 10}, {10, 30}, {0, 30}};
static const gradin_element bay_in_the_corner = {.kind = GRADIN_ELEMENT_PANE,
                                                 .corner_m = {18.0, 10.0, 1.0},
                                                 .along = {1.0, 0.0},
                                                 .outward = {0.0, 1.0},
                                                 .width_m = 4.0,
                                                 .height_m = 4.0,
                                                 .wall_top_m = 12.0};

static double l_shaped(gradin_vec3 source_m, int band) {
    gradin_element bay = bay_in_the_corner;
    gradin_model model = {
        .footprint = {l_corner_m, 6}, .ceiling_m = 11.0, .element = &bay, .n_element = 1};
    gradin_source source = silent_air(100.0);
    gradin_shape building;
    double incident[GRADIN_N_BAND], angle_rad;
    cr_assert(gradin_building_make(&model, &building));
    cr_assert(building.as.prism.top_m == 12.0);
    source.building = &building;
    gradin_source_incident(&source, source_m, &bay, incident, &angle_rad);
    double apart_m = gradin_norm(gradin_sub(source_m, (gradin_vec3){20.0, 10.0, 3.0}));
    return incident[band] * apart_m * apart_m / 1e4;
}

/* The way to (-180, 110, 53) enters the wing's wall x = 10 a twentieth of the way on, at y = 15 and
 * z = 5.5: over the edge above it there are 13.0 and 217.2 m instead of 229.1 m. */
Test(source, shadow_of_another_wing) {
    gradin_vec3 low_m = {-180.0, 110.0, 53.0}, high_m = {-180.0, 110.0, 203.0};
    gradin_vec3 bay_m = {20.0, 10.05, 3.0}, edge_m = {10.0, 15.0475, 12.0};
    double z_m = gradin_norm(gradin_sub(edge_m, bay_m)) + gradin_norm(gradin_sub(low_m, edge_m)) -
                 gradin_norm(gradin_sub(low_m, bay_m));
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double dz = fmin(3.0 + 20.0 * z_m * gradin_band_mid_hz(b) / 340.0, 100.0);
        double wanted = fmax(1.0 / dz, 0.01); /* what bends over its own wall is the least */
        cr_assert(fabs(l_shaped(low_m, b) / wanted - 1.0) < 1e-6, "band %d: %g, not %g", b,
                  l_shaped(low_m, b), wanted);
    }
    /* 203 m up the way passes 13 m over the roof; from the north-east nothing is in the way */
    cr_assert(fabs(l_shaped(high_m, 12) - 1.0) < 1e-12);
    cr_assert(fabs(l_shaped((gradin_vec3){20.0, 210.0, 3.0}, 12) - 1.0) < 1e-12);
}

Test(source, a_plan_without_wings) {
    hall h;
    gradin_shape building;
    hall_make(&h);
    cr_assert(!gradin_building_make(&h.model, &building));
}

/* Hard ground doubles the energy on a wall, whose image source is as far away; a roof and a wall
 * turned away have none of it; grass sends back less the steeper the wave falls. */
Test(source, ground_before_the_facade) {
    hall h;
    hall_make(&h);
    gradin_source source = silent_air(100.0);
    gradin_vec3 source_m = {-2.5, -3010.0, 1000.0};
    gradin_element *pane = &h.element[1];
    double straight[GRADIN_N_BAND], angle_rad, sum[GRADIN_N_GROUND];
    gradin_source_incident(&source, source_m, pane, straight, &angle_rad);
    for (int ground = 0; ground < GRADIN_N_GROUND; ground++) {
        double with[GRADIN_N_BAND];
        for (int b = 0; b < GRADIN_N_BAND; b++) with[b] = straight[b];
        gradin_source_reflect(&source, (gradin_ground)ground, source_m, pane, with);
        sum[ground] = with[10] / straight[10];
    }
    cr_expect_eq(sum[GRADIN_GROUND_NONE], 1.0);
    cr_expect_float_eq(sum[GRADIN_GROUND_HARD], 2.0, 0.01);
    cr_expect(sum[GRADIN_GROUND_SOFT] > 1.1 && sum[GRADIN_GROUND_SOFT] < 1.9, "%g",
              sum[GRADIN_GROUND_SOFT]);
    double roof[GRADIN_N_BAND] = {1.0}, back[GRADIN_N_BAND] = {1.0};
    pane->tilt_deg = 90.0;
    gradin_source_reflect(&source, GRADIN_GROUND_HARD, source_m, pane, roof);
    pane->tilt_deg = 0.0;
    gradin_source_reflect(&source, GRADIN_GROUND_HARD, (gradin_vec3){-2.5, 3010.0, 1000.0}, pane,
                          back);
    cr_expect(roof[0] == 1.0 && roof[10] == 0.0 && back[0] == 1.0 && back[10] == 0.0);
}

static double with_hard_ground(const gradin_source *source, const gradin_element *element,
                               gradin_vec3 source_m, int band) {
    double incident[GRADIN_N_BAND], angle_rad;
    gradin_source_incident(source, source_m, element, incident, &angle_rad);
    gradin_source_reflect(source, GRADIN_GROUND_HARD, source_m, element, incident);
    return 10.0 * log10(incident[band]);
}

/* A source that crosses the plane of the wall does not jump by the ground's share, and a step of
 * 0.2 degrees out of it is below 1 dB at 500 Hz. */
Test(source, ground_is_continuous_as_a_source_comes_round) {
    hall h;
    hall_make(&h);
    gradin_source source = silent_air(100.0);
    const gradin_element *pane = &h.element[1];
    double before = with_hard_ground(&source, pane, (gradin_vec3){900.0, -10.0 + 1e-7, 370.0}, 10);
    double after = with_hard_ground(&source, pane, (gradin_vec3){900.0, -10.0 - 1e-7, 370.0}, 10);
    cr_expect(fabs(after - before) < 1e-3, "%g, then %g dB", before, after);
    for (double turn_deg = 0.0; turn_deg < 20.0; turn_deg += 0.2, before = after) {
        double out_m = 973.0 * sin(gradin_rad(turn_deg));
        after = with_hard_ground(&source, pane, (gradin_vec3){900.0, -10.0 - out_m, 370.0}, 10);
        cr_expect(fabs(after - before) < 1.0, "%g deg: %g, then %g dB", turn_deg, before, after);
    }
}

/* The wing keeps from the bay what the paved court would send it, too: by the image below. */
Test(source, a_wing_shades_the_ground_before_it) {
    gradin_shape building = gradin_prism((gradin_polygon){l_corner_m, 6}, -100.0, 12.0);
    gradin_element bay = bay_in_the_corner;
    gradin_vec3 low_m = {-180.0, 110.0, 53.0};
    gradin_source source = silent_air(100.0), shaded = source;
    shaded.building = &building;
    double open_db = with_hard_ground(&source, &bay, low_m, 12);
    double shaded_db = with_hard_ground(&shaded, &bay, low_m, 12);
    cr_expect(open_db - shaded_db > 10.0, "%g dB of shade", open_db - shaded_db);
}

/* Delany and Bazley at f/sigma of 0.0025: Z = 5.57 + 6.10 i, worked by hand; at right angles
 * |Z - 1|2/|Z + 1|2 = (4.57^2 + 6.10^2)/(6.57^2 + 6.10^2) = 0.723. sigma is that of class D. */
Test(source, grass_by_its_impedance) {
    reference classes;
    reference_read("ground/classes.csv", &classes);
    cr_expect_eq(
        reference_number(&classes, reference_row(&classes, "D"), "representative_kpa_s_m2"), 200.0);
    cr_expect_float_eq(gradin_ground_energy(GRADIN_GROUND_SOFT, 10, 1.0), 0.723, 0.003);
    cr_expect_float_eq(gradin_ground_energy(GRADIN_GROUND_SOFT, 10, 1e-6), 1.0, 1e-4);
    cr_expect_eq(gradin_ground_energy(GRADIN_GROUND_HARD, 10, 0.3), 1.0);
}
