#include "chamber.h"
#include "support/whole.h"

#include <criterion/criterion.h>

static void make_facade(chamber *c, double x_m, double y_m, double z_m) {
    c->buildup[0] = (gradin_buildup){.name = "measured", .is_measured = true};
    c->element[0] = (gradin_element){.name = "pane",
                                     .kind = GRADIN_ELEMENT_PANE,
                                     .corner_m = {0.25 * x_m, 0.0, 0.25 * z_m},
                                     .along = {1.0, 0.0},
                                     .outward = {0.0, -1.0},
                                     .width_m = 0.5 * x_m,
                                     .height_m = 0.5 * z_m,
                                     .wall_top_m = z_m,
                                     .shade = -1,
                                     .joint_r_db = INFINITY};
    c->element[1] = (gradin_element){.name = "vent",
                                     .kind = GRADIN_ELEMENT_VENT,
                                     .corner_m = {0.5 * x_m, y_m, 0.5 * z_m},
                                     .along = {1.0, 0.0},
                                     .outward = {0.0, 1.0},
                                     .wall_top_m = z_m,
                                     .buildup = -1,
                                     .shade = -1,
                                     .joint_r_db = INFINITY};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        c->buildup[0].measured_r_db[b] = 30.0;
        c->element[1].dn_e_db[b] = 40.0;
    }
}

static void make_seats(chamber *c, double x_m, double y_m) {
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        c->floor_m[i] = (gradin_vec3){x_m * (0.2 + 0.2 * (i % 4)), y_m * (i < 4 ? 0.3 : 0.7), 0.0};
        c->eye_m[i] = gradin_add(c->floor_m[i], (gradin_vec3){0.0, 0.0, 1.2});
        c->width_m[i] = 0.5;
        c->depth_m[i] = 0.9;
    }
    c->model.seats = (gradin_seats){.n_seat = CHAMBER_SEATS,
                                    .floor_m = c->floor_m,
                                    .eye_m = c->eye_m,
                                    .facing_deg = c->facing_deg,
                                    .width_m = c->width_m,
                                    .depth_m = c->depth_m};
}

void chamber_make(chamber *c, double x_m, double y_m, double z_m, double alpha) {
    const gradin_vec2 corner_m[4] = {{0, 0}, {x_m, 0}, {x_m, y_m}, {0, y_m}};
    const double area_m2[GRADIN_N_SURFACE] = {x_m * y_m - CHAMBER_SEATS * 0.45, x_m * y_m,
                                              2.0 * (x_m + y_m) * z_m - 0.25 * x_m * z_m,
                                              CHAMBER_SEATS * 0.45};
    *c = (chamber){.corner_m = {{0}}};
    for (int i = 0; i < 4; i++) c->corner_m[i] = corner_m[i];
    for (int i = 0; i < GRADIN_N_SURFACE; i++) {
        c->surface[i] = (gradin_surface){.name = "surface", .area_m2 = area_m2[i]};
        for (int b = 0; b < GRADIN_N_BAND; b++) c->surface[i].absorption[b] = alpha;
    }
    make_facade(c, x_m, y_m, z_m);
    c->pass = (gradin_pass){.name = "illustrative",
                            .point_m = {1000.0, -300.0, 400.0},
                            .bearing_deg = 90.0,
                            .speed_ms = 80.0,
                            .reference_m = 300.0,
                            .temperature_c = 15.0,
                            .humidity_pct = 70.0,
                            .pressure_kpa = 101.325};
    for (int b = 0; b < GRADIN_N_BAND; b++) c->pass.level_db[b] = 75.0;
    c->model = (gradin_model){.footprint = {c->corner_m, 4},
                              .ceiling_m = z_m,
                              .volume_m3 = x_m * y_m * z_m,
                              .surface = c->surface,
                              .n_surface = GRADIN_N_SURFACE,
                              .scene = {c->occluder, 0},
                              .buildup = c->buildup,
                              .n_buildup = 1,
                              .element = c->element,
                              .n_element = CHAMBER_ELEMENTS,
                              .room_method = GRADIN_ROOM_RADIOSITY,
                              .room_patch_m = 1.5,
                              .pass = &c->pass,
                              .criterion = {.nc = 25.0, .lamax_dba = 40.0}};
    make_seats(c, x_m, y_m);
    whole_model(&c->model);
}

void chamber_block(chamber *c, gradin_box2 plan, double top_m) {
    const gradin_vec2 corner_m[4] = {{plan.x_min_m, plan.y_min_m},
                                     {plan.x_max_m, plan.y_min_m},
                                     {plan.x_max_m, plan.y_max_m},
                                     {plan.x_min_m, plan.y_max_m}};
    for (int i = 0; i < 4; i++) c->block_m[i] = corner_m[i];
    c->occluder[c->model.scene.n_occluder++] =
        (gradin_occluder){.shape = gradin_prism((gradin_polygon){c->block_m, 4}, 0.0, top_m),
                          .cause = GRADIN_CAUSE_STRUCTURE,
                          .owner = GRADIN_NO_OWNER};
}

cut chamber_cut(gradin_arena *arena, const chamber *c, double size_m) {
    cut made;
    gradin_scene scene;
    gradin_error error = {0};
    gradin_status status = gradin_patches_make(arena, &c->model, size_m, &made.patches, &error);
    if (status == GRADIN_OK) status = gradin_room_scene_make(arena, &c->model, &scene, &error);
    if (status == GRADIN_OK)
        status = gradin_exchange_make(arena, &made.patches,
                                      gradin_room_sight_make(arena, &c->model, &scene),
                                      &made.exchange, &error);
    cr_assert(status == GRADIN_OK, "%s", error.diagnostic[0].text);
    return made;
}

gradin_status chamber_solve(gradin_arena *arena, const cut *c, int n_same, int n_state,
                            const double *alpha, double air_1m, int n_source, const double *first,
                            double *leaving) {
    size_t n = (size_t)c->exchange.n;
    gradin_radiosity all = {
        .n = c->exchange.n,
        .n_same = n_same,
        .n_state = n_state,
        .n_source = n_source,
        .area_m2 = c->exchange.area_m2,
        .alpha = alpha,
        .through_m2 = gradin_arena_alloc(arena, n * n, sizeof(double)),
        .first = first,
        .scratch = gradin_arena_alloc(
            arena, gradin_radiosity_scratch(c->exchange.n, n_same, n_source), sizeof(double))};
    cr_assert(all.through_m2 && all.scratch);
    for (int k = 0; k < n_state; k++) all.emission[k] = leaving + (size_t)k * (size_t)n_source * n;
    gradin_radiosity_air_fill(&c->exchange, &c->patches, air_1m, all.through_m2);
    return gradin_radiosity_solve(&all, NULL);
}
