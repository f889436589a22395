#include "unit/render/fake_hall.h"
#include "support/whole.h"

#include <stdio.h>
#include <string.h>

enum { MAX_SEAT = 800 };

static const gradin_vec2 footprint[] = {{0, 0}, {28, 0}, {28, 26}, {25, 32}, {3, 32}, {0, 26}};
static const gradin_vec2 thrust[] = {{9.5, 20},  {11, 18.5}, {17, 18.5},
                                     {18.5, 20}, {18.5, 29}, {9.5, 29}};
static const gradin_vec2 balcony[] = {{5.6, 28.2}, {8.6, 28.2}, {8.6, 30.4}, {5.6, 30.4}};
static const gradin_focus focus[] = {
    {.name = "main stage", .polygon = {thrust, 6}, .z_m = 0.9, .weight = 1.0},
    {.name = "side platform", .polygon = {balcony, 4}, .z_m = 2.4, .weight = 0.2}};

static const gradin_vec2 column_a[] = {{4.2, 17.2}, {4.7, 17.2}, {4.7, 17.7}, {4.2, 17.7}};
static const gradin_vec2 column_b[] = {{23.3, 17.2}, {23.8, 17.2}, {23.8, 17.7}, {23.3, 17.7}};
static const gradin_vec2 deck_west[] = {{0.2, 3}, {3.4, 3}, {3.4, 24}, {0.2, 24}};
static const gradin_vec2 deck_east[] = {{24.6, 3}, {27.8, 3}, {27.8, 24}, {24.6, 24}};
static const gradin_vec2 arch_west[] = {{5, 30.8}, {10, 30.8}, {10, 31.2}, {5, 31.2}};
static const gradin_vec2 arch_east[] = {{18, 30.8}, {23, 30.8}, {23, 31.2}, {18, 31.2}};
static const gradin_vec2 set_piece[] = {{15.5, 25.2}, {17.9, 25.2}, {17.9, 26.6}, {15.5, 26.6}};
static const gradin_vec2 inner_wall[] = {{20, 30.6}, {20.25, 30.6}, {20.25, 28.2}, {20, 28.2}};
#define SOLID(name_, kind_, corners, low, high, on)                                                \
    {                                                                                              \
        .name = name_, .kind = kind_, .polygon = {corners, 4}, .bottom_m = low, .top_m = high,     \
        .sheet = on                                                                                \
    }
static const gradin_solid solid[] = {SOLID("column W", GRADIN_SOLID_COLUMN, column_a, 0, 12, -1),
                                     SOLID("column E", GRADIN_SOLID_COLUMN, column_b, 0, 12, -1),
                                     SOLID("deck W", GRADIN_SOLID_SLAB, deck_west, 4.0, 4.3, 1),
                                     SOLID("deck E", GRADIN_SOLID_SLAB, deck_east, 4.0, 4.3, 1),
                                     SOLID("arch W", GRADIN_SOLID_ARCH, arch_west, 0, 9, -1),
                                     SOLID("arch E", GRADIN_SOLID_ARCH, arch_east, 0, 9, -1),
                                     SOLID("inner wall", GRADIN_SOLID_WALL, inner_wall, 0, 3, -1),
                                     SOLID("staircase", GRADIN_SOLID_SET, set_piece, 0.9, 3, -1)};

static const gradin_vec3 rail_front[] = {{8.6, 17.2, 0}, {19.4, 17.2, 0}};
static const gradin_vec3 rail_w[] = {{3.4, 3, 4.3}, {3.4, 24, 4.3}};
static const gradin_vec3 rail_e[] = {{24.6, 3, 4.3}, {24.6, 24, 4.3}};
static const gradin_rail rail[] = {
    {"front rail", rail_front, 2, 0.9, 0, 0.05, true, GRADIN_RAIL_BAR, 1, 1.5},
    {"tower W", rail_w, 2, 1.1, 1, 0.05, true, GRADIN_RAIL_BAR, 1, 1.5},
    {"tower E", rail_e, 2, 1.1, 1, 0.05, true, GRADIN_RAIL_BAR, 1, 1.5}};

static const gradin_vec2 aisle_w[] = {{7.6, 3.4}, {8.8, 3.4}, {8.8, 16.9}, {7.6, 16.9}};
static const gradin_vec2 aisle_e[] = {{19.2, 3.4}, {20.4, 3.4}, {20.4, 16.9}, {19.2, 16.9}};
static const gradin_vec2 vom[] = {{12.6, 0.3}, {15.4, 0.3}, {15.4, 3.2}, {12.6, 3.2}};
static const gradin_area aisle[] = {{"aisle A", {aisle_w, 4}, NULL},
                                    {"aisle B", {aisle_e, 4}, NULL}};
static const int aisle_sheet[] = {0, 0};
static const char *const level_name[] = {"main floor", "upper"};
static const gradin_area vomitory[] = {{"vomitory 1", {vom, 4}, NULL}};
static const gradin_passage *const no_passage[1];

static const gradin_layer plate = {
    .kind = GRADIN_LAYER_PLATE, .thickness_m = 0.01, .density_kgm3 = 2500.0, .young_pa = 7e10};
static const gradin_buildup buildup[] = {{.name = "laminated", .layer = &plate, .n_layer = 1}};
static gradin_shade shade[] = {{.name = "west shades", .closed = 1.0},
                               {.name = "east shades", .closed = 0.4}};

static gradin_section section[80];
static gradin_machine lift[80];
static gradin_element element[40];
static const char *const block_name[] = {"stalls", "side west", "side east", "tower W", "tower E"};
static const gradin_pass flight = {.name = "take-off",
                                   .point_m = {400, 0, 310},
                                   .bearing_deg = 20,
                                   .speed_ms = 80,
                                   .reference_m = 100};

static void add_sections(gradin_model *model) {
    for (int i = 0; i < 7; i++)
        for (int j = 0; j < 6; j++) {
            gradin_section *s = &section[model->n_section++];
            double x = 3.5 + 3.0 * i, y = 3.3 + 2.3 * j;
            gradin_machine *m = &lift[model->n_section - 1];
            m->setting = (gradin_setting){
                .position = j < 5 ? 0.3 * (5 - j) : 0.0, .n_step = j == 2 ? 3 : 1, .riser_m = 0.15};
            *s = (gradin_section){.name = "F", .machine = m};
            s->corner_m[0] = (gradin_vec2){x, y};
            s->corner_m[1] = (gradin_vec2){x + 3.0, y};
            s->corner_m[2] = (gradin_vec2){x + 3.0, y + 2.3};
            s->corner_m[3] = (gradin_vec2){x, y + 2.3};
        }
    model->section = section;
}

static void add_element(gradin_model *model, gradin_element value) {
    element[model->n_element++] = value;
    model->element = element;
}

static void add_facade(gradin_model *model) {
    for (int i = 0; i < 8; i++) {
        double y = 2.0 + 2.7 * i;
        add_element(model, (gradin_element){.name = "W",
                                            .kind = GRADIN_ELEMENT_PANE,
                                            .corner_m = {0, y, 1},
                                            .along = {0, 1},
                                            .outward = {-1, 0},
                                            .width_m = 2.4,
                                            .height_m = 4,
                                            .shade = 0});
        add_element(model, (gradin_element){.name = "E",
                                            .kind = GRADIN_ELEMENT_PANE,
                                            .corner_m = {28, y, 1},
                                            .along = {0, 1},
                                            .outward = {1, 0},
                                            .width_m = 2.4,
                                            .height_m = 4,
                                            .shade = i == 3 ? -1 : 1});
    }
    add_element(model, (gradin_element){.name = "south door",
                                        .kind = GRADIN_ELEMENT_DOOR,
                                        .corner_m = {13, 0, 0},
                                        .along = {1, 0},
                                        .outward = {0, -1},
                                        .width_m = 2.0,
                                        .shade = -1});
    add_element(model, (gradin_element){.name = "foyer door",
                                        .kind = GRADIN_ELEMENT_DOOR,
                                        .corner_m = {4, 0, 0},
                                        .along = {1, 0},
                                        .outward = {0, -1},
                                        .width_m = 1.2,
                                        .shade = -1,
                                        .open = 0.8});
    add_element(model, (gradin_element){.name = "west exit",
                                        .kind = GRADIN_ELEMENT_DOOR,
                                        .corner_m = {0, 23.8, 0},
                                        .along = {0, 1},
                                        .outward = {-1, 0},
                                        .width_m = 1.2,
                                        .shade = -1});
    add_element(model, (gradin_element){.name = "vent",
                                        .kind = GRADIN_ELEMENT_VENT,
                                        .corner_m = {21, 0, 3},
                                        .along = {1, 0},
                                        .outward = {0, -1},
                                        .width_m = 0.4,
                                        .shade = -1,
                                        .buildup = -1});
}

static void add_seat(fake_hall *hall, int block, int sheet, double x, double y, double z,
                     double facing_deg, gradin_seat_kind kind, double width_m) {
    gradin_seats *s = &hall->model.seats;
    int i = s->n_seat++;
    s->id[i] = "seat";
    s->block[i] = block;
    s->sheet[i] = sheet;
    s->kind[i] = kind;
    s->floor_m[i] = (gradin_vec3){x, y, z};
    s->eye_m[i] = (gradin_vec3){x, y, z + 1.2};
    s->facing_deg[i] = facing_deg;
    s->width_m[i] = width_m;
    s->depth_m[i] = kind == GRADIN_SEAT_WHEELCHAIR ? 1.5 : 0.9;
    s->n_wheelchair += kind == GRADIN_SEAT_WHEELCHAIR;
    s->n_companion += kind == GRADIN_SEAT_COMPANION;
}

static void add_stalls(fake_hall *hall) {
    for (int row = 0; row < 14; row++)
        for (int k = 0; k < 19; k++)
            add_seat(hall, 0, 0, 9.1 + 0.53 * k + 0.0265 * (row % 2), 16.5 - 0.92 * row, 0.15 * row,
                     0.0, GRADIN_SEAT_STANDARD, 0.53);
    for (int k = 0; k < 4; k++)
        for (int side = 0; side < 2; side++) {
            double facing_deg = side ? 340.0 : 20.0, x = (side ? 20.8 : 4.9) + 1.6 * (k % 2);
            double y = 16.0 - 1.6 * (k / 2);
            gradin_vec2 forward = gradin_bearing_unit(facing_deg);
            add_seat(hall, 0, 0, x, y, 0, facing_deg, GRADIN_SEAT_WHEELCHAIR, 0.9);
            add_seat(hall, 0, 0, x + 0.74 * forward.y, y - 0.74 * forward.x, 0, facing_deg,
                     GRADIN_SEAT_COMPANION, 0.53);
        }
}

static void add_sides(fake_hall *hall) {
    for (int row = 0; row < 4; row++)
        for (int k = 0; k < 14; k++) {
            double y = 19.6 + 0.55 * k;
            add_seat(hall, 1, 0, 8.4 - 0.95 * row, y, 0.2 * row, 90.0, GRADIN_SEAT_STANDARD, 0.53);
            add_seat(hall, 2, 0, 19.6 + 0.95 * row, y, 0.2 * row, 270.0, GRADIN_SEAT_STANDARD,
                     0.53);
        }
    for (int row = 0; row < 3; row++)
        for (int k = 0; k < 7; k++) {
            double r = 12.9 + 0.95 * row, bearing = 214.0 + 2.8 * k;
            gradin_vec2 u = gradin_bearing_unit(bearing);
            add_seat(hall, 1, 0, 14.0 + r * u.x, 21.0 + r * u.y, 0.2 * row, bearing - 180.0,
                     GRADIN_SEAT_STANDARD, 0.53);
            add_seat(hall, 2, 0, 14.0 - r * u.x, 21.0 + r * u.y, 0.2 * row, 180.0 - bearing,
                     GRADIN_SEAT_STANDARD, 0.53);
        }
}

static void add_towers(fake_hall *hall) {
    for (int row = 0; row < 3; row++)
        for (int k = 0; k < 36; k++) {
            double y = 3.4 + 0.57 * k;
            add_seat(hall, 3, 1, 2.8 - 0.9 * row, y, 4.3 + 0.4 * row, 75.0, GRADIN_SEAT_STANDARD,
                     0.55);
            add_seat(hall, 4, 1, 25.2 + 0.9 * row, y, 4.3 + 0.4 * row, 285.0, GRADIN_SEAT_STANDARD,
                     0.55);
        }
}

static void add_figures(fake_hall *hall, int i) {
    const gradin_seats *s = &hall->model.seats;
    gradin_sight *sight = &hall->assessment.sight;
    double dx = s->floor_m[i].x - 14.0, dy = 24.0 - s->floor_m[i].y, d = hypot(dx, dy);
    double bearing = gradin_bearing_deg(-dx, dy);
    sight->visible[i] = fmin(1.0, fmax(0.0, 1.12 - 0.02 * d - 0.12 * (i % 5) + 0.02 * (i % 7)));
    sight->c_m[i] = i < 19 || i % 41 == 0 ? NAN : 0.13 - 0.012 * d + 0.04 * (i % 6);
    sight->distance_m[i] = d;
    sight->off_axis_deg[i] = gradin_bearing_gap_deg(180.0, gradin_bearing_deg(dx, -dy));
    sight->turn_deg[i] = gradin_bearing_gap_deg(s->facing_deg[i], bearing);
    sight->rating[i] = sight->visible[i] > 0.9    ? GRADIN_RATING_CLEAR
                       : sight->visible[i] > 0.75 ? GRADIN_RATING_GOOD
                       : sight->visible[i] > 0.5  ? GRADIN_RATING_FAIR
                                                  : GRADIN_RATING_POOR;
    sight->reason[i] =
        sight->rating[i] == GRADIN_RATING_CLEAR ? GRADIN_REASON_NONE : GRADIN_REASON_VISIBLE;
    sight->n_rating[sight->rating[i]]++;
    double edge = fmin(s->floor_m[i].x, 28.0 - s->floor_m[i].x);
    hall->assessment.crowd.clear[i] = (i % 21) / 20.0;
    hall->assessment.noise.lamax_db[GRADIN_SHADES_AS_SET][i] = 55.0 - 1.1 * edge + 0.4 * (i % 4);
    hall->assessment.noise.lamax_db[GRADIN_SHADES_OPEN][i] = 62.0 - 1.4 * edge;
    hall->assessment.noise.lamax_db[GRADIN_SHADES_SHUT][i] = 44.0 - 1.0 * edge;
    hall->assessment.shade_gain_db[i] = 0.9 * edge - 6.6;
    hall->band[0].level_db[i] = 66.0 - edge;
    hall->band[1].level_db[i] = 31.0 - 3.0 * edge;
}

static void set_extremes(gradin_assessment *a) {
    a->sight.visible[25] = 0.0;
    a->sight.visible[26] = 1.0;
    a->sight.visible[27] = NAN;
    a->sight.c_m[30] = -0.412;
    a->sight.c_m[31] = 1.250;
    a->sight.distance_m[40] = 61.25;
    a->sight.turn_deg[41] = 178.0;
    a->noise.lamax_db[GRADIN_SHADES_AS_SET][50] = 103.4;
    a->noise.lamax_db[GRADIN_SHADES_AS_SET][51] = 3.2;
    a->noise.lamax_db[GRADIN_SHADES_AS_SET][52] = -INFINITY;
}

static bool allocate(gradin_arena *arena, fake_hall *hall) {
    gradin_seats *s = &hall->model.seats;
    gradin_sight *g = &hall->assessment.sight;
    double **of_double[] = {&s->facing_deg,
                            &s->width_m,
                            &s->depth_m,
                            &g->visible,
                            &g->c_m,
                            &g->distance_m,
                            &g->off_axis_deg,
                            &g->turn_deg,
                            &hall->assessment.crowd.clear,
                            &hall->assessment.noise.lamax_db[0],
                            &hall->assessment.noise.lamax_db[1],
                            &hall->assessment.noise.lamax_db[2],

                            &hall->assessment.shade_gain_db,
                            &hall->band[0].level_db,
                            &hall->band[1].level_db};
    hall->band[0] = (gradin_band_level){.nominal_hz = 125, .is_octave = true, .limit_db = 60.0};
    hall->band[1] = (gradin_band_level){.nominal_hz = 1250, .limit_db = (double)NAN};
    hall->band[0].spread = (gradin_spread){52.0, 53.5, 58.2, 64.1, 65.7};
    hall->band[1].spread = (gradin_spread){-11.0, -6.0, 8.0, 25.3, 30.1};
    bool all = true;
    for (size_t i = 0; i < sizeof of_double / sizeof of_double[0]; i++)
        all &= (*of_double[i] = gradin_arena_alloc(arena, MAX_SEAT, sizeof(double))) != NULL;
    all &= (s->id = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->id)) != NULL;
    all &= (s->block = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->block)) != NULL;
    all &= (s->sheet = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->sheet)) != NULL;
    all &= (s->kind = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->kind)) != NULL;
    all &= (s->floor_m = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->floor_m)) != NULL;
    all &= (s->eye_m = gradin_arena_alloc(arena, MAX_SEAT, sizeof *s->eye_m)) != NULL;
    all &= (g->rating = gradin_arena_alloc(arena, MAX_SEAT, sizeof *g->rating)) != NULL;
    all &= (g->reason = gradin_arena_alloc(arena, MAX_SEAT, sizeof *g->reason)) != NULL;
    return all;
}

static void set_model(gradin_model *m) {
    m->venue_name = "A hall with a rather long name for the sake of the drawing, by the river";
    m->layout_name = "Thrust, 400 and more places, towers at the sides";
    m->form = GRADIN_FORM_THRUST;
    memcpy(m->digest, "00112233445566778899aabbccddeeff", 33);
    m->footprint = (gradin_polygon){footprint, 6};
    m->ceiling_m = 12.0;
    m->solid = solid;
    m->n_solid = sizeof solid / sizeof solid[0];
    m->rail = rail;
    m->n_rail = 3;
    m->aisle = aisle;
    m->n_aisle = 2;
    m->vomitory = vomitory;
    m->vomitory_passage = no_passage;
    m->n_vomitory = 1;
    m->block_name = block_name;
    m->n_block = 5;
    m->focus = focus;
    m->n_focus = 2;
    m->axis_deg = 180.0;
    m->buildup = buildup;
    m->n_buildup = 1;
    m->shade = shade;
    m->n_shade = 2;
    m->pass = &flight;
    m->limits = (gradin_limits){.visible_min = {0.95, 0.8, 0.6},
                                .c_value_min_m = {0.09, 0.06, 0.03},
                                .head_gap_min_deg = {20, 15, 10},
                                .two_row_c_min_m = {0.09, 0.06, 0.03},
                                .distance_max_m = {15, 20, 25},
                                .off_axis_max_deg = {30, 45, 60},
                                .down_max_deg = {25, 30, 35},
                                .turn_max_deg = {15, 30, 45}};
    m->criterion = (gradin_criterion){25, 45, 0.84};
    m->units = "m";
}

fake_hall *fake_hall_create(gradin_arena *arena) {
    fake_hall *hall = gradin_arena_alloc(arena, 1, sizeof *hall);
    if (!hall || !allocate(arena, hall)) return NULL;
    set_model(&hall->model);
    add_sections(&hall->model);
    add_facade(&hall->model);
    add_stalls(hall);
    add_sides(hall);
    add_towers(hall);
    hall->model.seats.n_sheet = 2;
    hall->model.seats.level = hall->model.seats.sheet;
    hall->model.level_name = hall->model.sheet_name = level_name;
    hall->model.n_level = 2;
    hall->model.aisle_sheet = aisle_sheet;
    gradin_assessment *a = &hall->assessment;
    a->model = &hall->model;
    for (int i = 0; i < hall->model.seats.n_seat; i++) add_figures(hall, i);
    set_extremes(a);
    a->sight.n_seat = a->noise.n_seat = hall->model.seats.n_seat;
    a->has_noise = a->has_crowd = true;
    a->crowd.n_draw = 1000;
    a->crowd.clear_limit = 0.95;
    a->clear_view = (gradin_spread){0.0, 0.1, 0.5, 0.9, 1.0};
    a->noise.uncertainty = (gradin_uncertainty){.source_db = 2.0, .scatter_db = 4.0};
    a->systematic = (gradin_spread){3.0, 3.0, 3.0, 3.0, 3.0};
    whole_model(&hall->model);
    a->visible = (gradin_spread){0.0, 0.41, 0.72, 0.93, 1.0};
    a->c_value_m = (gradin_spread){-0.412, -0.031, 0.088, 0.187, 1.25};
    a->distance_m = (gradin_spread){5.5, 8.1, 12.4, 18.9, 61.25};
    a->lamax_db[0] = (gradin_spread){3.2, 39.5, 44.1, 52.8, 103.4};
    a->lamax_db[1] = (gradin_spread){42.4, 44.5, 50.1, 60.8, 61.2};
    a->lamax_db[2] = (gradin_spread){30.0, 31.5, 35.0, 42.9, 43.6};
    a->shade_gain = (gradin_spread){12.4, 13.0, 15.1, 17.9, 18.0};
    a->band = hall->band;
    a->n_band = 2;
    return hall;
}
