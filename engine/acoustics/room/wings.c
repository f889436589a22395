/* Where the diffuse room must not be asked for: a part of the plan round a corner that turns
 * inwards takes more than half of the power that enters it.
 *
 * Two diffuse rooms with an opening S between them, the source in one of them (Cremer and Mueller,
 * "Principles and Applications of Room Acoustics", 1978, coupled rooms; Kuttruff, "Room Acoustics",
 * chapter on coupled rooms; both from memory): in the other one, of absorption A,
 *   (1) g2/g1 = S/(S + A)
 * the coupling factor. One field for all has g2 = g1: it is off by 10 lg(1 + A/S). Each edge of the
 * plan that meets such a corner is carried on to the next wall; it cuts the plan in two, and the
 * smaller part is the one without the source. A is its surface times the mean absorption at 500 Hz,
 * S the cut up to the ceiling. Only cuts that part a seat from an element of the facade count.
 *
 * The limit of half, 3 dB, is a choice: as much as all else of the room is uncertain by
 * (event/uncertainty.c) and more. (1) takes each part as diffuse: beside radiosity it says 4.4 dB
 * of an L where seats differ by up to 5.5 dB (test_wings.c). Limits: one cut at a time. */
#include "acoustics/envelope/element.h"
#include "acoustics/room/limits.h"
#include "acoustics/room/room.h"

#include <stdio.h>

enum { MIDDLE_BAND = 10 }; /* 500 Hz */

static const double most_off_db = 3.0, inside_m = 0.05, least_way_m = 1e-6;

/* A part of the plan and the cut that makes it. */
typedef struct wing {
    gradin_polygon plan;
    double cut_m;
} wing;

static double cross(gradin_vec2 a, gradin_vec2 b) {
    return a.x * b.y - a.y * b.x;
}

static gradin_vec2 minus(gradin_vec2 a, gradin_vec2 b) {
    return (gradin_vec2){a.x - b.x, a.y - b.y};
}

static gradin_vec2 corner_of(gradin_polygon p, int i) {
    return p.corner_m[(i + p.n_corner) % p.n_corner];
}

static double signed_m2(gradin_polygon p) {
    double sum_m2 = 0.0;
    for (int i = 0; i < p.n_corner; i++)
        sum_m2 += 0.5 * cross(corner_of(p, i), corner_of(p, i + 1));
    return sum_m2;
}

/* From a corner along a unit vector to the next wall: how far, and the edge that is met. */
static double way_m(gradin_polygon p, int corner, gradin_vec2 ahead, int *edge) {
    double least_m = INFINITY;
    gradin_vec2 from = corner_of(p, corner);
    for (int j = 0; j < p.n_corner; j++) {
        gradin_vec2 a = corner_of(p, j), side = minus(corner_of(p, j + 1), a);
        double turn = cross(ahead, side);
        if (j == corner || (j + 1) % p.n_corner == corner || turn == 0.0) continue;
        double way = cross(minus(a, from), side) / turn;
        double along = cross(minus(a, from), ahead) / turn;
        if (along < 0.0 || along > 1.0 || way < least_way_m || way >= least_m) continue;
        least_m = way;
        *edge = j;
    }
    return least_m;
}

/* The corners from `corner` to the edge that is met, and the place there; corner_m[n_corner + 2].
 */
static wing cut(gradin_polygon p, int corner, gradin_vec2 ahead, gradin_vec2 *corner_m) {
    int edge = -1, n = 0;
    double length_m = hypot(ahead.x, ahead.y);
    ahead = (gradin_vec2){ahead.x / length_m, ahead.y / length_m};
    double far_m = way_m(p, corner, ahead, &edge);
    if (edge < 0) return (wing){.cut_m = 0.0};
    gradin_vec2 from = corner_of(p, corner);
    for (int i = corner;; i++) {
        corner_m[n++] = corner_of(p, i);
        if (i % p.n_corner == edge) break;
    }
    corner_m[n++] = (gradin_vec2){from.x + far_m * ahead.x, from.y + far_m * ahead.y};
    return (wing){{corner_m, n}, far_m};
}

/* Seats and elements of a part: does the cut part a seat from an element? */
static bool parts_them(const gradin_model *m, gradin_polygon part) {
    bool has_seat[2] = {false, false}, has_element[2] = {false, false};
    for (int i = 0; i < m->seats.n_seat; i++) {
        gradin_vec3 at = m->seats.floor_m[i];
        has_seat[gradin_polygon_contains(part, (gradin_vec2){at.x, at.y})] = true;
    }
    for (int e = 0; e < m->n_element; e++) {
        const gradin_element *one = &m->element[e];
        gradin_vec3 at = gradin_element_point_m(one, 0.5 * one->width_m, 0.5 * one->height_m);
        gradin_vec3 out = gradin_element_frame(one).outward;
        has_element[gradin_polygon_contains(
            part, (gradin_vec2){at.x - inside_m * out.x, at.y - inside_m * out.y})] = true;
    }
    return (has_seat[0] && has_element[1]) || (has_seat[1] && has_element[0]);
}

static double mean_absorption(const gradin_model *m) {
    double sum_m2 = 0.0, area_m2 = 0.0;
    for (int i = 0; i < m->n_surface; i++) {
        sum_m2 += m->surface[i].area_m2 * m->surface[i].absorption[MIDDLE_BAND];
        area_m2 += m->surface[i].area_m2;
    }
    for (int e = 0; e < m->n_element; e++) {
        double own_m2 = gradin_element_area_m2(&m->element[e]);
        sum_m2 += own_m2 * gradin_element_absorption(m, &m->element[e], GRADIN_SHADES_AS_SET,
                                                     MIDDLE_BAND, 1.0);
        area_m2 += own_m2;
    }
    return area_m2 > 0.0 ? sum_m2 / area_m2 : 0.0;
}

/* By how much one field is off in the smaller part, (1); 0 where nothing is parted. */
static double off_db(const gradin_model *m, const wing *w) {
    double all_m2 = gradin_polygon_area_m2(m->footprint), all_m = 0.0, part_m = 0.0;
    double part_m2 = w->cut_m > 0.0 ? gradin_polygon_area_m2(w->plan) : 0.0;
    if (!(part_m2 > 0.0) || !(part_m2 < all_m2) || !parts_them(m, w->plan)) return 0.0;
    all_m = gradin_polygon_perimeter_m(m->footprint);
    part_m = gradin_polygon_perimeter_m(w->plan) - w->cut_m;
    if (part_m2 > 0.5 * all_m2) part_m2 = all_m2 - part_m2, part_m = all_m - part_m;
    double takes_m2 = mean_absorption(m) * (2.0 * part_m2 + part_m * m->ceiling_m);
    return 10.0 * log10(1.0 + takes_m2 / (w->cut_m * m->ceiling_m)); /* (1) */
}

double gradin_wing_off_db(const gradin_model *m, gradin_vec2 *corner_m, gradin_vec2 *scratch_m) {
    gradin_polygon p = m->footprint;
    double most_db = 0.0, turn = signed_m2(p) > 0.0 ? 1.0 : -1.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 in = minus(corner_of(p, i), corner_of(p, i - 1));
        gradin_vec2 out = minus(corner_of(p, i + 1), corner_of(p, i));
        if (turn * cross(in, out) >= 0.0) continue;
        const gradin_vec2 ahead[2] = {in, {-out.x, -out.y}};
        for (int k = 0; k < 2; k++) {
            wing w = cut(p, i, ahead[k], scratch_m);
            double db = off_db(m, &w);
            if (db > most_db) most_db = db, *corner_m = corner_of(p, i);
        }
    }
    return most_db;
}

gradin_status gradin_diffuse_refuse(const gradin_model *m, gradin_error *error) {
    gradin_vec2 at_m = {0.0, 0.0};
    char db[24], x[24], y[24];
    if (m->has_diffuse_anyway || m->footprint.n_corner < 4) return GRADIN_OK;
    gradin_arena *arena = gradin_arena_create();
    size_t n = (size_t)m->footprint.n_corner + 2;
    gradin_vec2 *scratch_m = arena ? gradin_arena_alloc(arena, n, sizeof *scratch_m) : NULL;
    double off = scratch_m ? gradin_wing_off_db(m, &at_m, scratch_m) : 0.0;
    gradin_arena_destroy(arena);
    if (!scratch_m) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    if (off <= most_off_db) return GRADIN_OK;
    gradin_format_fixed(db, sizeof db, off, 1);
    gradin_format_fixed(x, sizeof x, at_m.x, 1);
    gradin_format_fixed(y, sizeof y, at_m.y, 1);
    return gradin_error_add(
        error, GRADIN_BAD_INPUT, NULL,
        "room_method: diffuse takes the room as one field, but a part of it round "
        "the corner at [%s, %s] m takes more than half of what enters it: one "
        "field is off by some %s dB there; take room_method: radiosity, or state "
        "room_diffuse_anyway: yes",
        x, y, db);
}
