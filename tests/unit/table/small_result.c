#include "unit/table/small_result.h"
#include "support/whole.h"

static gradin_model model;
static gradin_assessment assessment;

static const char *const block[] = {"Stalls, \"left\""};
static const char *id[] = {"Stalls-1-1", "Stalls-1-2", "Stalls-2-1"};
static int block_of[] = {0, 0, 0}, row[] = {1, 1, 2}, number[] = {1, 2, 1};
static gradin_seat_kind kind[] = {GRADIN_SEAT_STANDARD, GRADIN_SEAT_WHEELCHAIR,
                                  GRADIN_SEAT_COMPANION};
static gradin_vec3 floor_m[] = {{1.0, 2.0, 0.0}, {1.5, 2.0, 0.0}, {1.0004, 2.9996, 0.25}};
static gradin_vec3 eye_m[] = {{1.0, 2.0, 1.12}, {1.5, 2.0, 1.2}, {1.0004, 2.9996, 1.37}};
static double facing_deg[] = {0.0, 359.96, 90.04};
static double width_m[] = {0.5, 0.9, 0.5}, depth_m[] = {0.9, 1.2, 0.9};
static int sheet[] = {0, 0, 0};
static const char *const occluder[] = {"Stalls-1-1", "front rail"};

static const gradin_buildup buildup[] = {{.name = "laminated"},
                                         {.name = "door", .is_measured = true}};
static const gradin_shade shade[] = {{.name = "blackout", .closed = 1.0}};
static const gradin_element element[] = {
    {.name = "west 1", .kind = GRADIN_ELEMENT_PANE},
    {.name = "smoke vent", .kind = GRADIN_ELEMENT_VENT, .buildup = 1}}; /* so that both are used */
static const gradin_pass flight = {.name = "jet"};

static double visible[] = {1.0, 0.8504, 0.25};
static double hidden[][GRADIN_N_CAUSE] = {{0, 0, 0, 0}, {0, 0.1496, 0, 0}, {0.5, 0.25, 0, 0}};
static int worst_occluder[] = {-1, 1, 0};
static double worst_hidden[] = {0.0, 0.1496, 0.3};
static gradin_c_case c_case[] = {GRADIN_C_NONE, GRADIN_C_NONE, GRADIN_C_ROW_IN_FRONT};
static double c_m[] = {NAN, NAN, -0.0124}, d_m[] = {NAN, NAN, 5.0}, n_m[] = {NAN, NAN, 0.25};
static double r_m[] = {NAN, NAN, 0.12}, t_m[] = {NAN, NAN, 0.9996},
              c_row_m[] = {NAN, 0.0714, -0.0216};
static double c_two_m[] = {NAN, NAN, 0.1534};
static int front_seat[] = {-1, -1, 0}, c_area[] = {0, 0, 0};
static gradin_rating c_class[] = {GRADIN_N_RATING, GRADIN_N_RATING, GRADIN_RATING_POOR};
static gradin_vec2 stage_m[] = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}};
static const gradin_focus stage = {.name = "stage", .polygon = {stage_m, 3}, .weight = 1.0};
static double distance_m[] = {8.0, 8.1, 9.0}, nearest_m[] = {5.0, 5.1, 6.0};
static double off_axis_deg[] = {NAN, NAN, NAN}, down_deg[] = {-0.04, 3.0, 5.0};
static double turn_deg[] = {0.0, 10.0, 20.0}, width_deg[] = {90.0, 80.0, 70.0};
static gradin_rating rating[] = {GRADIN_RATING_CLEAR, GRADIN_RATING_GOOD, GRADIN_RATING_POOR};
static gradin_reason reason[] = {GRADIN_REASON_NONE, GRADIN_REASON_VISIBLE, GRADIN_REASON_C_VALUE};

static double lamax[][SMALL_SEATS] = {{39.96, 41.0, 42.25}, {44.0, 45.0, 46.0}, {38.0, 39.0, 40.0}};
static double systematic[] = {3.0, 3.2, 3.4}, one_event[] = {5.0, 5.1, 5.3};
static gradin_verdict verdict[] = {GRADIN_VERDICT_NEAR, GRADIN_VERDICT_OVER, GRADIN_VERDICT_OVER};
static double laeq[] = {30.0, 31.0, 32.0}, nc[] = {15.0, 27.4, 31.6}, excess[] = {-5.0, 2.4, 6.6};
static double band_db[SMALL_SEATS][GRADIN_N_BAND];
static int loudest[] = {0, 0, 1};
static double r_db[2][GRADIN_N_BAND], share[] = {0.75, 0.25};
static gradin_weighted rw[] = {{.rating_db = 40, .c_db = -2, .ctr_db = -6},
                               {.rating_db = 36, .c_db = 0, .ctr_db = -2}};

static void set_model(void) {
    model = (gradin_model){.venue_name = "Small room",
                           .layout_name = "Three seats",
                           .form = GRADIN_FORM_ROUND,
                           .digest = "00112233445566778899aabbccddeeff",
                           .block_name = block,
                           .n_block = 1,
                           .axis_deg = NAN,
                           .focus = &stage,
                           .n_focus = 1,
                           .occluder_name = occluder,
                           .n_occluder_name = 2,
                           .buildup = buildup,
                           .n_buildup = 2,
                           .shade = shade,
                           .n_shade = 1,
                           .element = element,
                           .n_element = SMALL_ELEMENTS,
                           .pass = &flight,
                           .criterion = {25.0, NAN, 0.84}};
    static const char *const level_name[] = {"main floor"};
    model.level_name = model.sheet_name = level_name;
    model.n_level = 1;
    model.seats = (gradin_seats){.n_seat = SMALL_SEATS,
                                 .id = id,
                                 .block = block_of,
                                 .row = row,
                                 .number = number,
                                 .kind = kind,
                                 .floor_m = floor_m,
                                 .eye_m = eye_m,
                                 .facing_deg = facing_deg,
                                 .width_m = width_m,
                                 .depth_m = depth_m,
                                 .sheet = sheet,
                                 .level = sheet,
                                 .n_sheet = 1,
                                 .n_wheelchair = 1,
                                 .n_companion = 1};
    model.limits =
        (gradin_limits){.visible_min = {0.95, 0.85, NAN}, .distance_max_m = {15, 20, 25}};
}

static void set_sight(gradin_sight *s) {
    *s = (gradin_sight){.n_seat = SMALL_SEATS,
                        .n_sample = 1000,
                        .visible = visible,
                        .hidden = &hidden[0][0],
                        .worst_occluder = worst_occluder,
                        .worst_hidden = worst_hidden,
                        .c_case = c_case,
                        .c_m = c_m,
                        .d_m = d_m,
                        .n_m = n_m,
                        .r_m = r_m,
                        .t_m = t_m,
                        .c_row_m = c_row_m,
                        .c_two_m = c_two_m,
                        .front_seat = front_seat,
                        .c_area = c_area,
                        .c_class = c_class,
                        .n_c_class = {0, 0, 0, 1, 2},
                        .distance_m = distance_m,
                        .nearest_m = nearest_m,
                        .off_axis_deg = off_axis_deg,
                        .down_deg = down_deg,
                        .turn_deg = turn_deg,
                        .width_deg = width_deg,
                        .rating = rating,
                        .reason = reason,
                        .n_rating = {1, 1, 0, 1}};
}

static void set_noise(gradin_noise *n) {
    *n = (gradin_noise){.n_seat = SMALL_SEATS,
                        .n_element = SMALL_ELEMENTS,
                        .n_buildup = 2,
                        .lamax_db = {lamax[0], lamax[1], lamax[2]},
                        .laeq_db = laeq,
                        .band_db = &band_db[0][0],
                        .nc = nc,
                        .excess_db = excess,
                        .loudest_element = loudest,
                        .r_db = &r_db[0][0],
                        .rw = rw,
                        .d2m_nt_w_db = {44, 42, 47},
                        .share = share,
                        .outside_lamax_db = 76.25,
                        .maximum_s = -0.5,
                        .closest_m = 320.0,
                        .window_s = 60.0,
                        .uncertainty = {.source_db = 2.0, .scatter_db = 4.0, .room_db = 1.0},
                        .systematic_db = systematic,
                        .uncertainty_db = one_event,
                        .verdict = verdict,
                        .uncertainty_source = "made up"};
    for (int i = 0; i < SMALL_SEATS; i++)
        for (int band = 0; band < GRADIN_N_BAND; band++) band_db[i][band] = 10.0 * i + band;
    band_db[0][20] = -INFINITY;
    for (int band = 0; band < GRADIN_N_BAND; band++) r_db[0][band] = r_db[1][band] = 20.0 + band;
}

gradin_assessment *small_result(void) {
    static gradin_level_sum level_sum = {3, {1, 1, 0, 1}, {0.25, 0.37, 0.8504, 0.97, 1.0}};
    set_model();
    assessment = (gradin_assessment){.model = &model,
                                     .has_noise = true,
                                     .worst_seat = {2, 1, 0},
                                     .n_worst = 3,
                                     .level = &level_sum,
                                     .visible = {0.25, 0.37, 0.8504, 0.97, 1.0},
                                     .c_value_m = {-0.0124, -0.0124, -0.0124, -0.0124, -0.0124},
                                     .distance_m = {8, 8.02, 8.1, 8.82, 9},
                                     .nc = {15, 17.5, 27.4, 30.8, 31.6},
                                     .systematic = {3.0, 3.0, 3.0, 3.2, 3.4},
                                     .n_verdict = {0, 0, 1, 2}};
    set_sight(&assessment.sight);
    set_noise(&assessment.noise);
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        assessment.lamax_db[k] = (gradin_spread){lamax[k][0], lamax[k][0] + 0.2, lamax[k][1],
                                                 lamax[k][2] - 0.2, lamax[k][2]};
    whole_model(&model);
    return &assessment;
}

gradin_assessment *small_result_quiet(void) {
    gradin_assessment *a = small_result();
    gradin_spread none = {NAN, NAN, NAN, NAN, NAN};
    a->has_noise = false;
    a->noise = (gradin_noise){0};
    for (int k = 0; k < (int)GRADIN_N_VERDICT; k++) a->n_verdict[k] = 0;
    a->nc = none;
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++) a->lamax_db[k] = none;
    model.pass = NULL;
    return a;
}
