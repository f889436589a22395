/* Loads of the demo's layouts against sums by hand; default live loads against reference/loads. */
#include "gradin/files.h"
#include "gradin/studies/fit.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_machinery machinery;
static gradin_carrier *carrier;
static gradin_payload *payload;
static gradin_block_load *block;
static gradin_solid *solid;
static gradin_fit fit;

static void *copy(const void *from, int n, int extra, size_t size) {
    void *made = gradin_arena_alloc(arena, (size_t)(n + extra), size);
    cr_assert(made);
    memcpy(made, from, (size_t)n * size);
    return made;
}

static void read_model(const char *layout) {
    char path[512];
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", layout);
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK, "%s", path);
    machinery = *model.machinery;
    model.machinery = &machinery;
    gradin_loads *loads = &machinery.loads;
    loads->carrier = carrier = copy(loads->carrier, loads->n_carrier, 0, sizeof *carrier);
    loads->payload = payload = copy(loads->payload, loads->n_payload, 0, sizeof *payload);
    loads->block = block = copy(loads->block, model.n_block, 0, sizeof *block);
    for (int i = 0; i < loads->n_carrier; i++) carrier[i].limit = (gradin_load_limit){NAN, NAN};
    for (int i = 0; i < loads->n_payload; i++) payload[i].most_people = 0;
    for (int i = 0; i < loads->n_payload; i++) payload[i].most_kg = NAN;
    model.solid = solid = copy(model.solid, model.n_solid, 1, sizeof *solid);
}

static gradin_carrier *named(const char *name) {
    for (int i = 0; i < machinery.loads.n_carrier; i++)
        if (strcmp(carrier[i].name, name) == 0) return &carrier[i];
    cr_assert_fail("%s", name);
    return NULL;
}

static void check(void) {
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
}

/* A box of mass_kg over x0..x1, y0..y1 with its foot at z. */
static void put_thing(double x0, double x1, double y0, double y1, double z_m, double mass_kg) {
    static gradin_vec2 corner_m[4];
    corner_m[0] = (gradin_vec2){x0, y0}, corner_m[1] = (gradin_vec2){x1, y0};
    corner_m[2] = (gradin_vec2){x1, y1}, corner_m[3] = (gradin_vec2){x0, y1};
    solid[model.n_solid++] = (gradin_solid){.name = "piano",
                                            .kind = GRADIN_SOLID_SET,
                                            .polygon = {corner_m, 4},
                                            .bottom_m = z_m,
                                            .top_m = z_m + 1.0,
                                            .mass_kg = mass_kg};
}

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(loads, .init = open_arena, .fini = close_arena);

/* F-C1 of the thrust: 2.7 x 2.7 m, three treads of five seats (2.7/0.52) of 14 kg each:
 * 4.0 + 15 x 14 x 9.80665e-3 / 7.29 kN/m2, and that over 7.29 m2. */
Test(loads, a_section_of_seats_by_hand) {
    read_model("thrust");
    int n_seat = 0, section = named("F-C1")->index;
    for (int i = 0; i < model.seats.n_seat; i++) n_seat += model.seats.section[i] == section;
    cr_assert_eq(n_seat, 15);
    double spread_kn_m2 = 4.0 + 15 * 14 * 9.80665e-3 / 7.29;
    named("F-C1")->limit = (gradin_load_limit){spread_kn_m2 + 0.001, spread_kn_m2 * 7.29 + 0.001};
    check();
    cr_expect_eq(fit.n_limited, 1);
    cr_expect_eq(fit.n_overload, 0);
    cr_expect(fit.is_met);
    named("F-C1")->limit = (gradin_load_limit){spread_kn_m2 - 0.001, spread_kn_m2 * 7.29 - 0.001};
    check();
    cr_assert_eq(fit.n_overload, 2);
    cr_expect(!fit.is_met);
    cr_expect_str_eq(fit.overload[0].where, "F-C1");
    cr_expect_str_eq(fit.overload[0].what, "seated");
    cr_expect_eq(fit.overload[0].kind, GRADIN_LOAD_SPREAD);
    cr_expect_float_eq(fit.overload[0].load, spread_kn_m2, 1e-9);
    cr_expect_float_eq(fit.overload[1].load, spread_kn_m2 * 7.29, 1e-9);
}

/* A wheelchair place brings no seat, a companion's does: one seat less of F-C1's fifteen. */
Test(loads, only_a_wheelchair_place_brings_no_seat) {
    static const gradin_seat_kind kinds[] = {GRADIN_SEAT_WHEELCHAIR, GRADIN_SEAT_COMPANION};
    for (int k = 0; k < 2; k++) {
        read_model("thrust");
        gradin_seat_kind *kind = copy(model.seats.kind, model.seats.n_seat, 0, sizeof *kind);
        model.seats.kind = kind;
        int seat = 0, section = named("F-C1")->index;
        while (model.seats.section[seat] != section) seat++;
        kind[seat] = kinds[k];
        named("F-C1")->limit.total_kn = 0.1;
        check();
        cr_assert_eq(fit.n_overload, 1);
        cr_expect_float_eq(fit.overload[0].load, 4.0 * 7.29 + (14 + k) * 14 * 9.80665e-3, 1e-9);
    }
}

/* Treads of the thrust's stage (focus on it), the empty floor beside it (nobody placed). */
Test(loads, the_use_gives_the_live_load) {
    read_model("thrust");
    named("F-D5")->limit.spread_kn_m2 = named("F-A1")->limit.spread_kn_m2 = 0.1;
    machinery.loads.occupancy.load_kn_m2[GRADIN_USE_STAGE] = 7.0;
    check();
    cr_assert_eq(fit.n_overload, 2);
    cr_expect_str_eq(fit.overload[0].what, "open floor");
    cr_expect_float_eq(fit.overload[0].load, 5.0, 1e-12);
    cr_expect_str_eq(fit.overload[1].what, "stage");
    cr_expect_float_eq(fit.overload[1].load, 7.0, 1e-12);
}

/* 1,000 kg on 2 x 1 m over the seam of F-D5 and F-E5 (x 15.0) at 0.9 m, three quarters on F-D5. */
Test(loads, a_thing_is_shared_by_area) {
    read_model("thrust");
    put_thing(13.5, 15.5, 14.0, 15.0, 0.9, 1000.0);
    double kn = 9.80665;
    named("F-D5")->limit.total_kn = named("F-E5")->limit.total_kn = 0.1;
    check();
    cr_assert_eq(fit.n_overload, 2);
    cr_expect_float_eq(fit.overload[0].load, 5.0 * 7.29 + 0.75 * kn, 1e-9);
    cr_expect_float_eq(fit.overload[1].load, 5.0 * 7.29 + 0.25 * kn, 1e-9);
    cr_expect_str_eq(fit.overload[0].what, "piano");
    named("F-D5")->limit = (gradin_load_limit){kn / 2.0 - 0.001, NAN};
    named("F-E5")->limit.total_kn = NAN;
    check();
    cr_expect_eq(fit.overload[0].kind, GRADIN_LOAD_UNDER);
    cr_expect_float_eq(fit.overload[0].load, kn / 2.0, 1e-9);
    cr_expect_null(fit.hanging);
    solid[model.n_solid - 1].bottom_m = 3.0; /* in the air */
    check();
    cr_assert(fit.hanging);
    cr_expect_str_eq(fit.hanging, "piano");
}

/* W2: two levels of two rows of nine: 36 people of 75 kg, 36 seats of 14 kg. */
Test(loads, a_tower_by_its_payload) {
    read_model("thrust");
    cr_assert_str_eq(payload[1].name, "W2");
    payload[1].most_people = 35;
    payload[1].most_kg = 3203.0;
    check();
    cr_assert_eq(fit.n_overload, 2);
    cr_expect_float_eq(fit.overload[0].load, 36.0, 1e-12);
    cr_expect_float_eq(fit.overload[1].load, 36 * (75.0 + 14.0), 1e-9);
    payload[1].most_people = 36;
    payload[1].most_kg = 3205.0;
    check();
    cr_expect_eq(fit.n_overload, 0);
}

/* The flat floor's chairs stand on lifts; what is left of the fixed floor is open. A thing beside
 * the lifts stands on it; a heavier statement of the venue counts. */
Test(loads, the_fixed_floor) {
    read_model("flat_floor");
    named("fixed floor")->limit.spread_kn_m2 = 4.9;
    check();
    cr_assert_eq(fit.n_overload, 1);
    cr_expect_float_eq(fit.overload[0].load, 5.0, 1e-12);
    named("fixed floor")->limit.spread_kn_m2 = 5.0;
    put_thing(1.0, 2.0, 10.0, 11.0, 0.0, 600.0);
    check();
    cr_assert_eq(fit.n_overload, 1);
    cr_expect_eq(fit.overload[0].kind, GRADIN_LOAD_UNDER);
    cr_expect_float_eq(fit.overload[0].load, 0.6 * 9.80665, 1e-9);
}

Test(loads, nothing_stated_is_nothing_checked) {
    read_model("thrust");
    machinery.loads.is_stated = false;
    check();
    cr_expect_eq(fit.n_limited, 0);
    cr_expect_eq(fit.n_overload, 0);
}

/* reference/loads: psf against kN/m2 there, and the demo's defaults against the first source. */
Test(loads, defaults_are_those_of_the_reference) {
    FILE *file = fopen(GRADIN_SOURCE_DIR "/reference/loads/values.csv", "r");
    char line[200], source[40], use[20], category[100], unit[10];
    double stated, kn_m2;
    int n = 0;
    cr_assert(file && fgets(line, sizeof line, file));
    read_model("thrust");
    while (fgets(line, sizeof line, file)) {
        cr_assert_eq(sscanf(line, "%39[^,],%19[^,],%99[^,],%lf,%9[^,],%lf", source, use, category,
                            &stated, unit, &kn_m2),
                     6, "%s", line);
        double factor = unit[0] == 'p' ? 4.4482216152605e-3 / 0.09290304 : 1.0;
        cr_expect_float_eq(kn_m2, stated * factor, 0.005, "%s", line);
        int k = use[1] == 'e'   ? GRADIN_USE_SEATED
                : use[0] == 'o' ? GRADIN_USE_OPEN
                                : GRADIN_USE_STAGE;
        if (source[0] == 'e') cr_expect_eq(machinery.loads.occupancy.load_kn_m2[k], kn_m2);
        n++;
    }
    fclose(file);
    cr_expect_eq(n, 6);
}
