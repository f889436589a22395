/* The ways out of the hall: doors, and open vomitories that lead out, which are doors in the floor:
 * the side at which the stair or ramp comes up, as wide as its narrowest place, at the height of
 * the floor there. */
#include "studies/fit/fit.h"

static const double INSIDE_M = 0.06; /* from the side to the floor it comes up on */

static gradin_vec2 out_of(gradin_polygon p, int side) {
    gradin_vec2 a = p.corner_m[side], b = p.corner_m[(side + 1) % p.n_corner];
    double length_m = hypot(b.x - a.x, b.y - a.y);
    gradin_vec2 right = {(b.y - a.y) / length_m, (a.x - b.x) / length_m};
    gradin_vec2 probe = {0.5 * (a.x + b.x) + right.x * 1e-3, 0.5 * (a.y + b.y) + right.y * 1e-3};
    return gradin_polygon_contains(p, probe) ? (gradin_vec2){-right.x, -right.y} : right;
}

/* Of the sides that look nearest to the bearing the longest. */
static int top_side(gradin_polygon p, double top_deg) {
    int found = 0;
    double best = -INFINITY;
    gradin_vec2 top = gradin_bearing_unit(top_deg);
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner], out = out_of(p, i);
        double fit = out.x * top.x + out.y * top.y + 1e-6 * hypot(b.x - a.x, b.y - a.y);
        if (fit <= best) continue;
        best = fit;
        found = i;
    }
    return found;
}

static gradin_element stair_door(const gradin_model *m, int stair) {
    gradin_polygon p = m->vomitory[stair].polygon;
    int side = top_side(p, m->vomitory_top_deg[stair]);
    gradin_vec2 a = p.corner_m[side], b = p.corner_m[(side + 1) % p.n_corner],
                out = out_of(p, side);
    double length_m = hypot(b.x - a.x, b.y - a.y), stated_m = m->vomitory_exit_m[stair];
    double width_m = stated_m < length_m ? stated_m : length_m; /* NAN: as wide as the side */
    gradin_vec2 along = {(b.x - a.x) / length_m, (b.y - a.y) / length_m};
    gradin_vec2 corner = {a.x + along.x * 0.5 * (length_m - width_m),
                          a.y + along.y * 0.5 * (length_m - width_m)};
    gradin_vec2 before = {0.5 * (a.x + b.x) + out.x * INSIDE_M,
                          0.5 * (a.y + b.y) + out.y * INSIDE_M};
    return (gradin_element){.name = m->vomitory[stair].name,
                            .kind = GRADIN_ELEMENT_DOOR,
                            .corner_m = {corner.x, corner.y, fit_surface_m(m, before, 0.0)},
                            .along = along,
                            .outward = {-out.x, -out.y},
                            .width_m = width_m,
                            .exit = GRADIN_EXIT_BY_HAND};
}

bool fit_list_gates(gradin_arena *arena, const gradin_model *m, fit_gates *out) {
    *out = (fit_gates){0};
    out->item =
        gradin_arena_alloc(arena, (size_t)(m->n_element + m->n_vomitory) + 1, sizeof *out->item);
    for (int i = 0; out->item && i < m->n_element; i++)
        if (m->element[i].kind == GRADIN_ELEMENT_DOOR && m->element[i].exit != GRADIN_EXIT_NONE)
            out->item[out->n++] = (fit_gate){.door = m->element[i], .stair = -1};
    for (int i = 0; out->item && i < m->n_vomitory; i++)
        if (m->vomitory_leads[i] != GRADIN_UNDER_NO_EXIT)
            out->item[out->n++] =
                (fit_gate){.door = stair_door(m, i),
                           .stair = i,
                           .has_steps = m->vomitory_leads[i] == GRADIN_UNDER_STAIRS};
    return out->item != NULL;
}
