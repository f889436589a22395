/* Does the venue fit together: facade entries on walls, lifts and panels in the room, names unlike.
 */
#include "venue/venue.h"

static const double ON_WALL_M = 0.05; /* farther from the footprint's edge is no wall */
static const double BEYOND_M = 1e-6;

static bool is_on_wall(const venue *v, gradin_vec2 at_m) {
    gradin_vec2 near_m = gradin_polygon_nearest_m(v->footprint, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y) <= ON_WALL_M;
}

static void check_entry(reader *r, const venue *v, const facade_entry *e) {
    gradin_vec2 along = gradin_bearing_unit(e->bearing_deg);
    double length_m = e->count * e->width_m;
    gradin_vec2 end_m = {e->start_m.x + along.x * length_m, e->start_m.y + along.y * length_m};
    gradin_vec2 middle_m = {(e->start_m.x + end_m.x) / 2.0, (e->start_m.y + end_m.y) / 2.0};
    if (!is_on_wall(v, e->start_m) || !is_on_wall(v, middle_m) || !is_on_wall(v, end_m))
        complain(r, e->at, "%s does not lie on an edge of the room's footprint", e->name);
    if (e->sill_m + e->height_m > v->ceiling_m + BEYOND_M)
        complain(r, e->at, "%s reaches above the ceiling", e->name);
}

static void check_elements(reader *r, const venue *v) {
    int n = 0;
    for (int i = 0; i < v->n_facade; i++) {
        n += v->facade[i].count;
        check_entry(r, v, &v->facade[i]);
    }
    if (n > GRADIN_MAX_BAY)
        complain(r, v->facade[0].at, "the facade has %d elements; at most %d are allowed", n,
                 GRADIN_MAX_BAY);
}

static bool is_box_inside(const venue *v, gradin_box2 box) {
    const gradin_vec2 corner_m[4] = {{box.x_min_m, box.y_min_m},
                                     {box.x_max_m, box.y_min_m},
                                     {box.x_max_m, box.y_max_m},
                                     {box.x_min_m, box.y_max_m}};
    for (int i = 0; i < 4; i++)
        if (!gradin_polygon_contains(v->footprint, corner_m[i])) return false;
    return true;
}

static bool do_boxes_overlap(gradin_box2 a, gradin_box2 b) {
    return a.x_min_m < b.x_max_m - BEYOND_M && b.x_min_m < a.x_max_m - BEYOND_M &&
           a.y_min_m < b.y_max_m - BEYOND_M && b.y_min_m < a.y_max_m - BEYOND_M;
}

static gradin_box2 grid_box(const lift_grid *g) {
    return (gradin_box2){g->origin_m.x, g->origin_m.y, g->origin_m.x + g->n_column * g->size_m[0],
                         g->origin_m.y + g->n_row * g->size_m[1]};
}

static void check_grids(reader *r, const venue *v) {
    for (int i = 0; i < v->n_grid; i++) {
        if (!is_box_inside(v, grid_box(&v->grid[i])))
            complain(r, v->grid[i].at, "lifts %s reach outside the room's footprint",
                     v->grid[i].name);
        for (int k = 0; k < i; k++)
            if (do_boxes_overlap(grid_box(&v->grid[i]), grid_box(&v->grid[k])))
                complain(r, v->grid[i].at, "lifts %s overlap lifts %s", v->grid[i].name,
                         v->grid[k].name);
    }
}

void check_venue(reader *r, const venue *v) {
    check_elements(r, v);
    check_grids(r, v);
}
