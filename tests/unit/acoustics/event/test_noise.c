/* Noise at every seat: an independent sum in decibels, figures of the whole hall. */
#include <criterion/criterion.h>
#include <string.h>

#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/hall.h"

/* Solid angle of the corner rectangle a x b at distance d. */
static double corner_sr(double a, double b, double d) {
    return atan(a * b / (d * sqrt(a * a + b * b + d * d)));
}

/* Direct factor from the closed form; a vent is a point. */
static double direct_1m2(const gradin_element *e, gradin_vec3 eye) {
    double x = eye.x - e->corner_m.x, z = eye.z - e->corner_m.z;
    double d = fabs(eye.y - e->corner_m.y), w = e->width_m - x, up = e->height_m - z;
    if (e->kind == GRADIN_ELEMENT_VENT) return d / GRADIN_PI / pow(x * x + z * z + d * d, 1.5);
    return (corner_sr(w, up, d) + corner_sr(x, up, d) + corner_sr(w, z, d) + corner_sr(x, z, d)) /
           (GRADIN_PI * e->width_m * e->height_m);
}

/* Shortest way over the wall's top edge, by golden-section search along the edge. */
static double over_edge_m(gradin_vec3 from, gradin_vec3 to, double y_m, double top_m) {
    double low = -1e5, high = 1e5, ratio = (sqrt(5.0) - 1.0) / 2.0, best = INFINITY;
    for (int i = 0; i < 200; i++) {
        double at[2] = {high - ratio * (high - low), low + ratio * (high - low)}, way[2];
        for (int k = 0; k < 2; k++) {
            gradin_vec3 edge = {at[k], y_m, top_m};
            way[k] = gradin_norm(gradin_sub(from, edge)) + gradin_norm(gradin_sub(edge, to));
            best = fmin(best, way[k]);
        }
        if (way[0] < way[1])
            high = at[1];
        else
            low = at[0];
    }
    return best;
}

/* R of every build-up; the glazing has tests of its own. */
static double r_db[HALL_BUILDUPS][GRADIN_N_BAND];

static void fill_oblique(const hall *h);

static void fill_r(const hall *h) {
    fill_oblique(h);
    for (int i = 0; i < HALL_BUILDUPS; i++)
        cr_assert(gradin_glazing_r_db(&h->buildup[i], r_db[i], NULL) == GRADIN_OK);
}

/* What a pane or a leaf passes by angle; the glazing has tests of that. */
static gradin_oblique oblique[HALL_ELEMENTS];

static void fill_oblique(const hall *h) {
    for (int i = 0; i < HALL_ELEMENTS; i++)
        if (h->element[i].buildup >= 0)
            cr_assert(gradin_oblique_make(&h->buildup[h->element[i].buildup], h->element[i].width_m,
                                          h->element[i].height_m, &oblique[i], NULL) == GRADIN_OK);
}

/* Mean of q over the hemisphere, doubled: its diffuse tau. */
static double diffuse_of(const gradin_oblique *o, int band) {
    const int n = 2000;
    double sum = 0.0;
    for (int i = 0; i < n; i++) {
        double angle = 0.5 * GRADIN_PI * (i + 0.5) / n;
        sum += 2.0 * gradin_oblique_passed(o, band, angle, NAN) * sin(angle) * 0.5 * GRADIN_PI / n;
    }
    return sum;
}

/* S tau in diffuse incidence. */
static double tau_m2(const hall *h, const gradin_element *e, int band, double closed) {
    double lost_db = e->shade < 0 ? 0.0 : h->shade[0].insertion_loss_db[band];
    double shade = 1.0 - closed + closed * pow(10.0, -lost_db / 10.0);
    if (e->kind == GRADIN_ELEMENT_VENT) return 10.0 * pow(10.0, -e->dn_e_db[band] / 10.0);
    return shade * (e->width_m * e->height_m * pow(10.0, -r_db[e->buildup][band] / 10.0) +
                    e->joint_m * pow(10.0, -(e->joint_r_db + e->joint_shape_db[band]) / 10.0));
}

/* What an element lets in of a plane wave, m2, at an angle. */
static double passed_m2(const hall *h, int i, int band, double closed, double angle_rad) {
    static double diffuse[HALL_ELEMENTS][GRADIN_N_BAND];
    const gradin_element *e = &h->element[i];
    double lost_db = e->shade < 0 ? 0.0 : h->shade[0].insertion_loss_db[band];
    double shade = 1.0 - closed + closed * pow(10.0, -lost_db / 10.0);
    if (e->kind == GRADIN_ELEMENT_VENT) return 0.5 * 10.0 * pow(10.0, -e->dn_e_db[band] / 10.0);
    if (diffuse[i][band] == 0.0) diffuse[i][band] = diffuse_of(&oblique[i], band);
    double shape = gradin_oblique_passed(&oblique[i], band, angle_rad, NAN) / diffuse[i][band];
    if (e->buildup == HALL_DOUBLE) shape = 0.8 * shape + 0.2 * 0.5; /* edges mix a fifth */
    double joint_db = e->joint_r_db + e->joint_shape_db[band];
    return shade * (e->width_m * e->height_m * pow(10.0, -r_db[e->buildup][band] / 10.0) * shape +
                    0.5 * e->joint_m * pow(10.0, -joint_db / 10.0));
}

/* Level of the wave at an element, dB, and its angle, with the source at x_m on the track. */
static double incident_db(const hall *h, const gradin_element *e, int band, double x_m,
                          double *angle_rad) {
    double hz = gradin_band_mid_hz(band), c_ms = 343.2 * sqrt(288.15 / 293.15);
    gradin_vec3 centre = {e->corner_m.x + e->width_m / 2.0, e->corner_m.y,
                          e->corner_m.z + e->height_m / 2.0};
    gradin_vec3 source = {x_m, -300.0, 400.0};
    double r_m = gradin_norm(gradin_sub(source, centre));
    double detour_m = over_edge_m(source, centre, e->corner_m.y, e->wall_top_m) - r_m;
    double bent = 1.0 / fmin(3.0 + 20.0 * detour_m * hz / c_ms, 100.0);
    double lit = fmax((source.y - centre.y) * e->outward.y / r_m, 0.0);
    double clear = fmin(lit * lit * (e->wall_top_m - centre.z) * hz / c_ms / 0.2, 1.0);
    *angle_rad = acos(lit);
    return h->pass.level_db[band] - 20.0 * log10(r_m / 300.0) -
           (r_m - 300.0) * gradin_air_absorption_dbm(hz, 15.0, 70.0, 101.325) +
           10.0 * log10(bent + (1.0 - bent) * clear);
}

/* Band levels at a seat, shades half closed. The room as in hall_make(). */
static void seat_bands_db(const hall *h, gradin_vec3 eye, double x_m, double *band_db) {
    static const double glass[7] = {0.18, 0.18, 0.06, 0.04, 0.03, 0.02, 0.02};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double hz = gradin_band_mid_hz(b), square = 0.0;
        double air = gradin_air_absorption_dbm(hz, 20.0, 50.0, 101.325) * 4.0 / 10.0 * log(10.0);
        double alpha =
            (600.0 * h->surface[0].absorption[b] + 1547.0 * h->surface[1].absorption[b] +
             48.0 * (0.5 * glass[b / 3] + 0.5 * h->shade[0].absorption[b]) + 5.0 * glass[b / 3]) /
            2200.0;
        double room = 4.0 * (1.0 - alpha) / (2200.0 * alpha + 6000.0 * air);
        for (int i = 0; i < HALL_ELEMENTS; i++) {
            const gradin_element *e = &h->element[i];
            double angle_rad, in_db = incident_db(h, e, b, x_m, &angle_rad);
            square += pow(10.0, in_db / 10.0) *
                      passed_m2(h, i, b, e->shade < 0 ? 0.0 : 0.5, angle_rad) *
                      (room + direct_1m2(e, eye));
        }
        band_db[b] = 10.0 * log10(square);
    }
}

/* Every seat against a fine search for the maximum along the track. Tolerances: 0.1 dB for patches
 * and time steps together. */
Test(noise, equals_an_independent_sum) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    fill_r(&h);
    gradin_noise noise = hall_noise(arena, &h);
    for (int seat = 0; seat < HALL_SEATS; seat += 5) {
        double most_db = -INFINITY, band_db[GRADIN_N_BAND], at_most_db[GRADIN_N_BAND];
        for (double x_m = -200.0; x_m <= 200.0; x_m += 20.0) {
            seat_bands_db(&h, h.eye_m[seat], x_m, band_db);
            if (gradin_level_a_db(band_db) <= most_db) continue;
            most_db = gradin_level_a_db(band_db);
            memcpy(at_most_db, band_db, sizeof band_db);
        }
        double got_db = noise.lamax_db[GRADIN_SHADES_AS_SET][seat];
        cr_assert(fabs(got_db - most_db) < 0.1, "seat %d: %.3f, not %.3f", seat, got_db, most_db);
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double here_db = noise.band_db[seat * GRADIN_N_BAND + b];
            cr_assert(fabs(here_db - at_most_db[b]) < 0.3, "seat %d band %d: %.3f, not %.3f", seat,
                      b, here_db, at_most_db[b]);
        }
    }
    gradin_arena_destroy(arena);
}

/* LAeq times the window equals the exposure of a finely stepped pass. */
Test(noise, mean_over_the_window) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    fill_r(&h);
    gradin_noise noise = hall_noise(arena, &h);
    double band_db[GRADIN_N_BAND], sum = 0.0, half_m = 0.5 * noise.window_s * 80.0;
    const int n = 150;
    for (int i = 0; i < n; i++) {
        seat_bands_db(&h, h.eye_m[2], half_m * (2.0 * (i + 0.5) / n - 1.0), band_db);
        sum += pow(10.0, gradin_level_a_db(band_db) / 10.0) / n;
    }
    cr_assert(fabs(noise.laeq_db[2] - 10.0 * log10(sum)) < 0.1, "%.3f, not %.3f", noise.laeq_db[2],
              10.0 * log10(sum));
    gradin_arena_destroy(arena);
}

Test(noise, facade_and_pass_figures) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    fill_r(&h);
    gradin_noise noise = hall_noise(arena, &h);
    double sum_m2 = 0.0, d_db[16], share = 0.0, band_db[GRADIN_N_BAND];
    for (int b = 3; b < 19; b++) {
        sum_m2 = 0.0;
        for (int e = 0; e < HALL_ELEMENTS; e++)
            sum_m2 += tau_m2(&h, &h.element[e], b, h.element[e].shade < 0 ? 0.0 : 0.5);
        double composite_db = -10.0 * log10(sum_m2 / 53.0);
        cr_assert(fabs(noise.facade_r_db[GRADIN_SHADES_AS_SET][b] - composite_db) < 1e-9, "band %d",
                  b);
        d_db[b - 3] = composite_db + 10.0 * log10(6000.0 / (3.0 * 53.0));
    }
    cr_assert(noise.d2m_nt_w_db[GRADIN_SHADES_AS_SET] == gradin_rate_thirds(d_db).rating_db);
    for (int e = 0; e < HALL_ELEMENTS; e++) share += noise.share[e];
    cr_assert(fabs(share - 1.0) < 1e-12);
    /* roof corner line y = -10, z = 10: 290 m and 390 m away */
    double r_m = hypot(290.0, 390.0);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        band_db[b] =
            h.pass.level_db[b] - 20.0 * log10(r_m / 300.0) -
            (r_m - 300.0) * gradin_air_absorption_dbm(gradin_band_mid_hz(b), 15.0, 70.0, 101.325);
    cr_assert(fabs(noise.outside_lamax_db - gradin_level_a_db(band_db)) < 1e-9);
    cr_assert(fabs(noise.closest_m - r_m) < 1e-9);
    cr_assert(noise.maximum_s == 0.0, "symmetric: %g", noise.maximum_s);
    gradin_arena_destroy(arena);
}

/* Vents alone have no area: D2m,nT = -10 lg(A0 10^(-Dn,e/10)) + 10 lg(V/3 s) all the same. */
Test(noise, only_vents) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    h.element[0] = h.element[HALL_VENT];
    h.model.n_element = 1;
    gradin_noise noise = hall_noise(arena, &h);
    double d_db[16];
    for (int b = 3; b < 19; b++)
        d_db[b - 3] = h.element[HALL_VENT].dn_e_db[b] - 10.0 + 10.0 * log10(6000.0 / 3.0);
    cr_assert(noise.d2m_nt_w_db[GRADIN_SHADES_OPEN] == gradin_rate_thirds(d_db).rating_db);
    cr_assert(noise.share[0] == 1.0 && isfinite(noise.lamax_db[0][0]));
    gradin_arena_destroy(arena);
}

Test(noise, nc_excess_and_ratings_of_buildups) {
    gradin_arena *arena = gradin_arena_create();
    hall h;
    hall_make(&h);
    gradin_noise noise = hall_noise(arena, &h);
    for (int seat = 0; seat < HALL_SEATS; seat++) {
        double octave_db[GRADIN_N_OCTAVE], excess_db = -INFINITY;
        gradin_octaves_db(&noise.band_db[seat * GRADIN_N_BAND], octave_db);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++)
            excess_db = fmax(excess_db, octave_db[o] - gradin_nc_level_db(25.0, o));
        cr_assert(noise.nc[seat] == gradin_nc(octave_db, NULL));
        cr_assert(fabs(noise.excess_db[seat] - excess_db) < 1e-12);
        double a_db = gradin_level_a_db(&noise.band_db[seat * GRADIN_N_BAND]);
        cr_assert(fabs(a_db - noise.lamax_db[GRADIN_SHADES_AS_SET][seat]) < 1e-9, "seat %d", seat);
    }
    for (int i = 0; i < HALL_BUILDUPS; i++)
        cr_assert(noise.rw[i].rating_db ==
                  gradin_rate_thirds(&noise.r_db[i * GRADIN_N_BAND + 3]).rating_db);
    h.model.criterion.nc = NAN;
    noise = hall_noise(arena, &h);
    cr_assert(isnan(noise.excess_db[0]));
    gradin_arena_destroy(arena);
}

/* Track 290 m beside the room: level with it, below its floor, across its plan 90 m above. */
Test(noise, nearest_point_of_the_room) {
    gradin_arena *arena = gradin_arena_create();
    const gradin_vec3 point_m[4] = {{0, -300, 6}, {0, -300, -5}, {500, 4, 100}, {0, 300, 50}};
    const double wanted_m[4] = {290.0, hypot(290.0, 5.0), 90.0, hypot(290.0, 40.0)};
    for (int i = 0; i < 4; i++) {
        hall h;
        hall_make(&h);
        h.pass.point_m = point_m[i];
        gradin_noise noise = hall_noise(arena, &h);
        double band_db[GRADIN_N_BAND], r_m = wanted_m[i];
        for (int b = 0; b < GRADIN_N_BAND; b++)
            band_db[b] = h.pass.level_db[b] - 20.0 * log10(r_m / 300.0) -
                         (r_m - 300.0) *
                             gradin_air_absorption_dbm(gradin_band_mid_hz(b), 15.0, 70.0, 101.325);
        double wanted_db = gradin_level_a_db(band_db);
        cr_assert(fabs(noise.outside_lamax_db - wanted_db) < 1e-9, "track %d: %.4f, not %.4f", i,
                  noise.outside_lamax_db, wanted_db);
    }
    gradin_arena_destroy(arena);
}
