#include "hall.h"
#include "support/whole.h"

#include <criterion/criterion.h>

static gradin_layer glass(double thickness_m) {
    return (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                          .thickness_m = thickness_m,
                          .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                          .young_pa = GRADIN_GLASS_YOUNG_PA,
                          .poisson = GRADIN_GLASS_POISSON,
                          .loss = GRADIN_GLASS_LOSS};
}

static void make_glazing(hall *h) {
    h->single[0] = glass(0.006);
    h->pair[0] = glass(0.006);
    h->pair[1] = (gradin_layer){.kind = GRADIN_LAYER_GAP,
                                .thickness_m = 0.016,
                                .density_kgm3 = GRADIN_AIR_DENSITY_KGM3,
                                .speed_ms = GRADIN_AIR_SPEED_MS};
    h->pair[2] = glass(0.010);
    h->buildup[HALL_SINGLE] = (gradin_buildup){.name = "single", .layer = h->single, .n_layer = 1};
    h->buildup[HALL_DOUBLE] = (gradin_buildup){.name = "double", .layer = h->pair, .n_layer = 3};
    h->buildup[HALL_MEASURED] = (gradin_buildup){.name = "door leaf", .is_measured = true};
    h->shade[0] = (gradin_shade){.name = "blackout", .closed = 0.5};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        h->buildup[HALL_MEASURED].measured_r_db[b] = 20.0 + b;
        h->shade[0].insertion_loss_db[b] = 1.0 + 0.3 * b;
        h->shade[0].absorption[b] = 0.1 + 0.03 * b;
    }
}

static void make_elements(hall *h) {
    static const double pane_x_m[HALL_PANES] = {-8.0, -4.0, 1.0, 5.0};
    for (int i = 0; i < HALL_PANES; i++)
        h->element[i] = (gradin_element){.name = "pane",
                                         .kind = GRADIN_ELEMENT_PANE,
                                         .corner_m = {pane_x_m[i], -10.0, 1.0},
                                         .along = {1.0, 0.0},
                                         .outward = {0.0, -1.0},
                                         .width_m = 3.0,
                                         .height_m = 4.0,
                                         .wall_top_m = 10.0,
                                         .buildup = HALL_DOUBLE,
                                         .shade = 0,
                                         .joint_m = 14.0,
                                         .joint_r_db = 50.0};
    h->element[HALL_DOOR] = (gradin_element){.name = "door",
                                             .kind = GRADIN_ELEMENT_DOOR,
                                             .corner_m = {-1.0, 10.0, 0.0},
                                             .along = {1.0, 0.0},
                                             .outward = {0.0, 1.0},
                                             .width_m = 2.0,
                                             .height_m = 2.5,
                                             .wall_top_m = 10.0,
                                             .buildup = HALL_MEASURED,
                                             .shade = -1,
                                             .joint_r_db = INFINITY};
    h->element[HALL_VENT] = (gradin_element){.name = "vent",
                                             .kind = GRADIN_ELEMENT_VENT,
                                             .corner_m = {0.0, -10.0, 8.0},
                                             .along = {1.0, 0.0},
                                             .outward = {0.0, -1.0},
                                             .wall_top_m = 10.0,
                                             .buildup = -1,
                                             .shade = -1,
                                             .joint_r_db = INFINITY};
    for (int b = 0; b < GRADIN_N_BAND; b++) h->element[HALL_VENT].dn_e_db[b] = 45.0 + 0.5 * b;
}

static void make_room(hall *h) {
    const gradin_vec2 corner_m[4] = {{-15, -10}, {15, -10}, {15, 10}, {-15, 10}};
    const gradin_vec2 seat_m[6] = {{2, -6}, {6, -6}, {3, 0}, {9, 1}, {2, 7}, {12, 8}};
    for (int i = 0; i < 4; i++) h->corner_m[i] = corner_m[i];
    for (int i = 0; i < 6; i++) {
        h->eye_m[i] = (gradin_vec3){seat_m[i].x, seat_m[i].y, 1.2};
        h->eye_m[i + 6] = (gradin_vec3){-seat_m[i].x, seat_m[i].y, 1.2};
    }
    h->surface[0] = (gradin_surface){.name = "floor", .area_m2 = 600.0};
    h->surface[1] = (gradin_surface){.name = "rest", .area_m2 = 1547.0};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        h->surface[0].absorption[b] = 0.4 + 0.02 * b;
        h->surface[1].absorption[b] = 0.1 + 0.005 * b;
    }
}

static void make_pass(hall *h) {
    h->pass = (gradin_pass){.name = "illustrative",
                            .point_m = {1000.0, -300.0, 400.0},
                            .bearing_deg = 90.0,
                            .speed_ms = 80.0,
                            .reference_m = 300.0,
                            .temperature_c = 15.0,
                            .humidity_pct = 70.0,
                            .pressure_kpa = 101.325};
    for (int b = 0; b < GRADIN_N_BAND; b++) h->pass.level_db[b] = 78.0 - 0.05 * (b - 8) * (b - 8);
}

void hall_make(hall *h) {
    *h = (hall){.corner_m = {{0}}};
    make_glazing(h);
    make_elements(h);
    make_room(h);
    make_pass(h);
    h->model = (gradin_model){.venue_name = "hall",
                              .layout_name = "test",
                              .footprint = {h->corner_m, 4},
                              .ceiling_m = 10.0,
                              .volume_m3 = 6000.0,
                              .surface = h->surface,
                              .n_surface = 2,
                              .seats = {.n_seat = HALL_SEATS, .eye_m = h->eye_m},
                              .scene = {h->occluder, 0},
                              .buildup = h->buildup,
                              .n_buildup = HALL_BUILDUPS,
                              .shade = h->shade,
                              .n_shade = 1,
                              .element = h->element,
                              .n_element = HALL_ELEMENTS,
                              .pass = &h->pass,
                              .criterion = {.nc = 25.0, .lamax_dba = 40.0}};
    whole_model(&h->model);
}

void hall_add(hall *h, gradin_shape shape, gradin_cause cause) {
    h->occluder[h->model.scene.n_occluder++] =
        (gradin_occluder){.shape = shape, .cause = (int)cause, .owner = GRADIN_NO_OWNER};
}

gradin_noise hall_noise(gradin_arena *arena, const hall *h) {
    gradin_noise noise;
    gradin_error error = {0};
    gradin_status status = gradin_noise_compute(arena, &h->model, NULL, &noise, &error);
    cr_assert(status == GRADIN_OK, "%s", error.diagnostic[0].text);
    return noise;
}
