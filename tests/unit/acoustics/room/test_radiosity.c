/* Radiosity against exact solutions and an independent random walk. */
#include <criterion/criterion.h>
#include <omp.h>
#include <stdlib.h>
#include <string.h>

#include "acoustics/transfer/transfer.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

TestSuite(radiosity, .init = desk_open, .fini = desk_close);

/* One source; power that leaves a square metre of each patch. */
static double *solve(const cut *c, const double *alpha, double air_1m, const double *first) {
    double *leaving = desk_numbers((size_t)c->exchange.n);
    cr_assert(chamber_solve(desk_arena, c, c->exchange.n, 1, alpha, air_1m, 1, first, leaving) ==
              GRADIN_OK);
    return leaving;
}

Test(radiosity, patches_cover_the_room) {
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    cut all = chamber_cut(desk_arena, &c, 1.0);
    double area_m2[4] = {0.0}, seated_m2 = 0.0;
    for (int i = 0; i < all.patches.n; i++) {
        const gradin_patch *p = &all.patches.patch[i];
        area_m2[p->kind] += p->area_m2;
        seated_m2 += p->seated * p->area_m2;
    }
    cr_assert(fabs(area_m2[GRADIN_PATCH_FLOOR] - 48.0) < 1e-9);
    cr_assert(fabs(area_m2[GRADIN_PATCH_CEILING] - 48.0) < 1e-9);
    cr_assert(fabs(area_m2[GRADIN_PATCH_WALL] - (112.0 - 8.0)) < 1e-9, "%.6f",
              area_m2[GRADIN_PATCH_WALL]);
    cr_assert(fabs(area_m2[GRADIN_PATCH_ELEMENT] - 8.0 - 0.04) < 1e-9, "pane and vent");
    cr_assert(fabs(seated_m2 / (CHAMBER_SEATS * 0.45) - 1.0) < 0.12, "%.4f", seated_m2);
}

Test(radiosity, a_block_takes_floor_and_gives_sides) {
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    cut all = chamber_cut(desk_arena, &c, 1.0);
    double floor_m2 = 0.0, wall_m2 = 0.0;
    for (int i = 0; i < all.patches.n; i++) {
        const gradin_patch *p = &all.patches.patch[i];
        if (p->kind == GRADIN_PATCH_FLOOR) floor_m2 += p->area_m2;
        if (p->kind == GRADIN_PATCH_WALL) wall_m2 += p->area_m2;
    }
    cr_assert(fabs(floor_m2 - 48.0) < 1e-6, "floor and top: %.4f", floor_m2);
    cr_assert(fabs(wall_m2 - 104.0 - 16.0) < 1e-6, "walls and sides: %.4f", wall_m2);
}

/* A panel of an arch, 6 of the 8 m across and up to the ceiling: both faces and its end are there,
 * and what it covers of wall, floor and ceiling is not. */
Test(radiosity, an_arch_shows_its_faces) {
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    chamber_block(&c, (gradin_box2){0.0, 2.9, 6.0, 3.1}, 4.0);
    c.occluder[0].cause = GRADIN_CAUSE_ARCH;
    cut all = chamber_cut(desk_arena, &c, 0.5);
    double area_m2[4] = {0.0};
    for (int i = 0; i < all.patches.n; i++)
        area_m2[all.patches.patch[i].kind] += all.patches.patch[i].area_m2;
    cr_assert(fabs(area_m2[GRADIN_PATCH_WALL] - (104.0 + 2.0 * 24.0 + 0.8 - 0.8)) < 0.3, "%.3f",
              area_m2[GRADIN_PATCH_WALL]);
    cr_assert(fabs(area_m2[GRADIN_PATCH_FLOOR] - (48.0 - 1.2)) < 0.3, "%.3f",
              area_m2[GRADIN_PATCH_FLOOR]);
    cr_assert(fabs(area_m2[GRADIN_PATCH_CEILING] - (48.0 - 1.2)) < 0.3, "%.3f",
              area_m2[GRADIN_PATCH_CEILING]);
}

/* Reciprocity and closure, and how little the closing has to do in an empty box. */
Test(radiosity, exchange_is_symmetric_and_closed) {
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    c.model.n_element = 0;
    cut box = chamber_cut(desk_arena, &c, 1.0);
    cr_assert(box.exchange.raw_low > 0.995 && box.exchange.raw_high < 1.005, "%.4f .. %.4f",
              box.exchange.raw_low, box.exchange.raw_high);
    c.model.n_element = CHAMBER_ELEMENTS;
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    cut all = chamber_cut(desk_arena, &c, 1.0);
    for (int i = 0; i < all.exchange.n; i++) {
        double sum_m2 = 0.0;
        for (int j = 0; j < all.exchange.n; j++) {
            sum_m2 += desk_exchange_m2(&all.exchange, i, j);
            cr_assert(desk_exchange_m2(&all.exchange, i, j) ==
                          desk_exchange_m2(&all.exchange, j, i),
                      "%d, %d", i, j);
            cr_assert(desk_exchange_m2(&all.exchange, i, j) >= 0.0);
        }
        cr_assert(fabs(sum_m2 / all.exchange.area_m2[i] - 1.0) < 2e-9, "row %d", i);
    }
}

/* A closed room of any shape, all of it giving off M a square metre: B = M/alpha everywhere. */
Test(radiosity, uniform_emission) {
    const double emission = 0.7, absorbs[3] = {0.05, 0.4, 1.0};
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    cut all = chamber_cut(desk_arena, &c, 1.3);
    int n = all.exchange.n;
    double *first = desk_numbers((size_t)n), *alpha = desk_numbers((size_t)n);
    for (int k = 0; k < 3; k++) {
        for (int i = 0; i < n; i++) {
            first[i] = emission * all.exchange.area_m2[i]; /* rows sum to the area */
            alpha[i] = absorbs[k];
        }
        double *leaving = solve(&all, alpha, 0.0, first);
        for (int i = 0; i < n; i++)
            cr_assert(fabs((emission + leaving[i]) * absorbs[k] / emission - 1.0) < 1e-7,
                      "alpha %.2f, patch %d: %.9f", absorbs[k], i, leaving[i]);
    }
}

/* Inside a sphere F_ij = A_j/S: whatever the source, the reverberant incidence is everywhere
 * rho W/(alpha S) (Kuttruff, "Room Acoustics"; the integrating sphere). */
Test(radiosity, sphere) {
    enum { N = 40 };
    gradin_patch patch[N] = {{.element = -1}};
    double area_m2[N], exchange_m2[N * N], alpha[N], first[N] = {0.0}, sum_m2 = 0.0, power = 3.0;
    for (int i = 0; i < N; i++) sum_m2 += area_m2[i] = 0.5 + 0.1 * (i * 7 % 11);
    for (int i = 0; i < N; i++) {
        alpha[i] = 0.15;
        for (int j = 0; j < N; j++) exchange_m2[i * N + j] = area_m2[i] * area_m2[j] / sum_m2;
    }
    first[3] = 0.8 * power;
    first[17] = 0.2 * power;
    cut sphere = {{patch, N}, {.n = N, .area_m2 = area_m2, .exchange_m2 = exchange_m2}};
    double *leaving = solve(&sphere, alpha, 0.0, first);
    for (int i = 0; i < N; i++) {
        double incident = leaving[i] / 0.85 - first[i] / area_m2[i];
        cr_assert(fabs(incident * 0.15 * sum_m2 / (0.85 * power) - 1.0) < 1e-10, "patch %d", i);
    }
}

/* What the sources give is what walls and air take. */
Test(radiosity, energy) {
    chamber c;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    cut all = chamber_cut(desk_arena, &c, 1.0);
    int n = all.exchange.n;
    double *first = desk_numbers((size_t)n), *alpha = desk_numbers((size_t)n);
    for (int i = 0; i < n; i++) alpha[i] = 0.02 + 0.9 * (i * 13 % 29) / 29.0;
    first[5] = 0.25;
    first[n / 2] = 0.75;
    for (int air = 0; air < 2; air++) {
        double air_1m = air * 0.01, taken = 0.0, lost = 0.0;
        double *leaving = solve(&all, alpha, air_1m, first);
        for (int i = 0; i < n; i++) {
            double incident = first[i];
            for (int j = 0; j < n; j++) {
                double through =
                    gradin_radiosity_through_air_m2(&all.exchange, &all.patches, air_1m, i, j);
                incident += through * leaving[j];
                lost += (desk_exchange_m2(&all.exchange, i, j) - through) * leaving[j];
            }
            taken += alpha[i] * incident;
        }
        cr_assert(fabs(taken + lost - 1.0) < 1e-6, "air %d: %.9f + %.9f", air, taken, lost);
        cr_assert(air ? lost > 0.001 : lost == 0.0);
    }
}

static void expect_closed(const double *m, const double *wanted, int n) {
    for (int i = 0; i < n; i++) {
        double sum = 0.0;
        for (int j = 0; j < n; j++) {
            sum += m[i * n + j];
            cr_assert(m[i * n + j] == m[j * n + i] && m[i * n + j] >= 0.0, "%d, %d", i, j);
        }
        cr_assert(fabs(sum / wanted[i] - 1.0) < 2e-9, "row %d: %.12f", i, sum / wanted[i]);
    }
}

/* Patch 0 sees patch 1 alone, which is smaller: a scaling alone has no answer. What 0 lacks stays
 * with it, 1 still sees the room, and the room's own patches hardly notice. */
Test(radiosity, a_patch_that_only_a_smaller_one_sees_keeps_the_rest) {
    enum { N = 6 };
    double area[N] = {1.0, 0.6, 8.0, 9.0, 7.0, 8.0}, m[N * N] = {0.0}, scratch[3 * N];
    for (int i = 2; i < N; i++)
        for (int j = 2; j < N; j++) m[i * N + j] = i == j ? 0.0 : area[i] * area[j] / 24.0;
    m[0 * N + 1] = m[1 * N + 0] = 0.1;
    for (int j = 2; j < N; j++) m[1 * N + j] = m[j * N + 1] = 0.1;
    double kept = gradin_exchange_close(m, area, N, scratch);
    expect_closed(m, area, N);
    cr_assert(fabs(kept - m[0]) < 1e-7 && m[0] >= 0.4, "kept %.6f, of it %.6f", kept, m[0]);
    cr_assert(m[1 * N + 0] < 0.75 * area[1], "%.6f goes back", m[1 * N + 0]);
    for (int i = 2; i < N; i++) cr_assert(m[i * N + i] < 1e-7, "patch %d", i);
}

/* Equal areas have an answer, but steps towards it hardly move. */
Test(radiosity, two_patches_that_see_little_else_close) {
    enum { N = 5 };
    double area[N] = {0.5, 0.5, 8.0, 9.0, 7.0}, m[N * N] = {0.0}, scratch[3 * N];
    for (int i = 2; i < N; i++)
        for (int j = 2; j < N; j++) m[i * N + j] = i == j ? 0.0 : area[i] * area[j] / 16.0;
    m[0 * N + 1] = m[1 * N + 0] = 0.4;
    m[0 * N + 2] = m[2 * N + 0] = 1e-5;
    m[1 * N + 3] = m[3 * N + 1] = 3e-4;
    double kept = gradin_exchange_close(m, area, N, scratch);
    expect_closed(m, area, N);
    cr_assert(kept < 0.01, "%.6f", kept);
}

enum { N_SEAT_BOX = 7 };
typedef struct curve {
    gradin_vec2 corner_m[N_SEAT_BOX][4];
    gradin_occluder box[N_SEAT_BOX];
} curve;

/* Boxes side by side on an arc, touching half way back and open behind. */
static void put_curve(chamber *c, curve *row, double front_m, double width_m, double top_m) {
    const double turn = 2.0 * atan(0.5 * width_m / (front_m + 0.45));
    for (int k = 0; k < N_SEAT_BOX; k++) {
        double angle = (k - (N_SEAT_BOX - 1) / 2) * turn;
        gradin_vec2 out = {sin(angle), -cos(angle)}, side = {cos(angle), sin(angle)};
        for (int i = 0; i < 4; i++) {
            double deep_m = front_m + (i / 2) * 0.9;
            double along_m = (i == 1 || i == 2 ? 0.5 : -0.5) * width_m;
            row->corner_m[k][i] = (gradin_vec2){4.0 + deep_m * out.x + along_m * side.x,
                                                4.0 + front_m + deep_m * out.y + along_m * side.y};
        }
        row->box[k] = (gradin_occluder){
            .shape = gradin_prism((gradin_polygon){row->corner_m[k], 4}, 0.0, top_m),
            .cause = GRADIN_CAUSE_STRUCTURE,
            .owner = GRADIN_NO_OWNER};
    }
    c->model.scene = (gradin_scene){row->box, N_SEAT_BOX};
}

/* The gaps between turned boxes close, give and take alike, and lose nothing. */
Test(radiosity, gaps_of_a_curved_row_lose_no_energy) {
    chamber c;
    curve row;
    chamber_make(&c, 8.0, 6.0, 4.0, 0.3);
    put_curve(&c, &row, 8.0, 0.55, 0.75);
    cut all = chamber_cut(desk_arena, &c, 3.0);
    int n = all.exchange.n;
    cr_assert(all.exchange.raw_low < 0.2, "no gap: %.3f", all.exchange.raw_low);
    expect_closed(all.exchange.exchange_m2, all.exchange.area_m2, n);
    double *first = desk_numbers((size_t)n), *alpha = desk_numbers((size_t)n), taken = 0.0;
    for (int i = 0; i < n; i++) alpha[i] = 0.02 + 0.9 * (i * 13 % 29) / 29.0;
    first[5] = 0.25;
    first[n - 1] = 0.75; /* in a gap */
    double *leaving = solve(&all, alpha, 0.0, first);
    for (int i = 0; i < n; i++) {
        double incident = first[i];
        for (int j = 0; j < n; j++) incident += desk_exchange_m2(&all.exchange, i, j) * leaving[j];
        taken += alpha[i] * incident;
    }
    cr_assert(fabs(taken - 1.0) < 1e-6, "%.9f", taken);
}

/* A cube that absorbs little: Sabine's field, p^2 = 4 W rho c/(alpha S) at every seat. */
Test(radiosity, sabine_limit) {
    const double alpha = 0.01;
    chamber c;
    gradin_transfer transfer;
    chamber_make(&c, 6.0, 6.0, 6.0, alpha);
    c.model.n_element = 1;
    c.element[0].buildup = 0;
    gradin_shade shade = {.name = "same", .closed = 1.0};
    for (int b = 0; b < GRADIN_N_BAND; b++) shade.absorption[b] = alpha;
    c.model.shade = &shade;
    c.model.n_shade = 1;
    c.element[0].shade = 0;
    gradin_error error = {0};
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL,
                                   &transfer, &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    for (int s = 0; s < CHAMBER_SEATS; s++) { /* 50 Hz: no air to speak of */
        double got = transfer.whole_1m2[GRADIN_SHADES_SHUT][gradin_transfer_at(&transfer, 0, s, 0)];
        double wanted = 4.0 / (alpha * 216.0 + 216.0 * gradin_room_air_4m(50.0));
        cr_assert(fabs(got / wanted - 1.0) < 0.02, "seat %d: %.5f, not %.5f", s, got, wanted);
    }
}

static gradin_noise noise_of(const chamber *c) {
    gradin_noise noise;
    gradin_error error = {0};
    cr_assert(gradin_noise_compute(desk_arena, &c->model, NULL, &noise, &error) == GRADIN_OK, "%s",
              error.diagnostic[0].text);
    return noise;
}

/* Halving the patches moves no seat by more than 0.5 dB(A). */
Test(radiosity, refinement_converges) {
    chamber c;
    chamber_make(&c, 16.0, 12.0, 7.0, 0.3);
    for (int b = 0; b < GRADIN_N_BAND; b++) c.surface[GRADIN_SURFACE_SEATING].absorption[b] = 0.8;
    chamber_block(&c, (gradin_box2){6.0, 4.5, 10.0, 7.0}, 2.5);
    c.model.room_patch_m = 2.5;
    gradin_noise coarse = noise_of(&c);
    c.model.room_patch_m = 1.25;
    gradin_noise fine = noise_of(&c);
    cr_assert(fine.n_patch > 3 * coarse.n_patch);
    for (int s = 0; s < CHAMBER_SEATS; s++) {
        double moved_db = fine.lamax_db[0][s] - coarse.lamax_db[0][s];
        cr_assert(fabs(moved_db) < 0.5, "seat %d: %.2f dB", s, moved_db);
    }
}

/* Both methods agree where a field is nearly diffuse: a box of one even absorption. */
Test(radiosity, agrees_with_the_diffuse_field) {
    chamber c;
    chamber_make(&c, 9.0, 8.0, 7.0, 0.1);
    gradin_noise by_patches = noise_of(&c);
    c.model.room_method = GRADIN_ROOM_DIFFUSE;
    gradin_noise diffuse = noise_of(&c);
    cr_assert(diffuse.n_patch == 0 && by_patches.n_patch > 100);
    for (int s = 0; s < CHAMBER_SEATS; s++)
        cr_assert(fabs(by_patches.lamax_db[0][s] - diffuse.lamax_db[0][s]) < 0.5,
                  "seat %d: %.2f, %.2f", s, by_patches.lamax_db[0][s], diffuse.lamax_db[0][s]);
}

Test(radiosity, threads_change_nothing) {
    chamber c;
    chamber_make(&c, 9.0, 8.0, 5.0, 0.2);
    chamber_block(&c, (gradin_box2){3.0, 2.0, 5.0, 4.0}, 2.0);
    gradin_shade shade = {.name = "drape", .closed = 0.5};
    for (int b = 0; b < GRADIN_N_BAND; b++) shade.absorption[b] = 0.6;
    c.model.shade = &shade;
    c.model.n_shade = 1;
    c.element[0].shade = 0;
    int most = omp_get_max_threads();
    gradin_transfer transfer[4];
    const int n_thread[4] = {1, 2, 3, 5};
    for (int k = 0; k < 4; k++) {
        omp_set_num_threads(n_thread[k]);
        cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL,
                                       &transfer[k], NULL) == GRADIN_OK);
    }
    omp_set_num_threads(most);
    size_t size = sizeof(double) * GRADIN_N_BAND * CHAMBER_SEATS * CHAMBER_ELEMENTS;
    for (int k = 1; k < 4; k++)
        for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
            cr_assert(memcmp(transfer[0].whole_1m2[state], transfer[k].whole_1m2[state], size) == 0,
                      "%d threads", n_thread[k]);
}

/* The floor below a slab and the slab's own underside are cut, and in nobody's sight. */
Test(radiosity, only_bare_patches_count_against_their_limit) {
    chamber c;
    gradin_patches patches;
    gradin_error error = {0};
    chamber_make(&c, 30.0, 30.0, 15.0, 0.2);
    chamber_block(&c, (gradin_box2){1.0, 1.0, 29.0, 29.0}, 1.0);
    cr_assert(gradin_patches_make(desk_arena, &c.model, 0.75, &patches, &error) == GRADIN_OK, "%s",
              error.diagnostic[0].text);
    double bare_m2 = 0.0;
    for (int i = 0; i < patches.n; i++) bare_m2 += patches.patch[i].area_m2;
    cr_assert(patches.n > 6000 && patches.n <= GRADIN_MAX_PATCH, "%d", patches.n);
    cr_assert(fabs(bare_m2 - (3600.0 + 4.0 * 28.0)) < 40.0, "%.1f", bare_m2);
}

Test(radiosity, refusals) {
    chamber c;
    gradin_transfer transfer;
    gradin_error error = {0};
    chamber_make(&c, 30.0, 30.0, 15.0, 0.2);
    c.model.room_patch_m = 0.3;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL,
                                   &transfer, &error) == GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text,
                     "the room's surface makes more than 8000 patches; a "
                     "larger room_patch gives fewer, room_method: diffuse "
                     "needs none");
    c.model.n_surface = 2;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL,
                                   &transfer, NULL) == GRADIN_BAD_USE);
    enum { N = 2 };
    gradin_patch patch[N] = {{.element = -1}};
    double area_m2[N] = {1, 1}, exchange_m2[N * N] = {0, 1, 1, 0}, alpha[N] = {0}, first[N] = {1};
    double leaving[N];
    cut bare = {{patch, N}, {.n = N, .area_m2 = area_m2, .exchange_m2 = exchange_m2}};
    for (int n_same = 0; n_same <= N; n_same++)
        cr_assert(chamber_solve(desk_arena, &bare, n_same, 1, alpha, 0.0, 1, first, leaving) ==
                      GRADIN_NUMERIC,
                  "nothing absorbs, %d patches alike", n_same);
}
