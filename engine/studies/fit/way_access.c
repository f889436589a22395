/* From a seat onto a way: straight over free floor to a cell on which a body stands that is as
 * broad as the way is wanted, or less. */
#include "studies/fit/ways.h"

static const double MORE_M = 0.25; /* beyond half the wanted width */
static const double STEP_M = 0.05;
static const double SHORT_M = 0.20; /* from the middle of a cell to that of another, or to the edge
                                       of the place */
static const double BODY_M = WAYS_BODY_CM / 100.0;

typedef struct stance {
    const ways *w;
    gradin_vec2 at_m, ahead;
    double half_along_m, half_across_m, floor_m, reach_m;
    double slope; /* of the floor that the place stands on */
} stance;

/* The point of the place nearest to `to`. */
static gradin_vec2 edge_m(const stance *s, gradin_vec2 to) {
    double x = to.x - s->at_m.x, y = to.y - s->at_m.y;
    double along_m = x * s->ahead.x + y * s->ahead.y, across_m = x * s->ahead.y - y * s->ahead.x;
    along_m = fmin(fmax(along_m, -s->half_along_m), s->half_along_m);
    across_m = fmin(fmax(across_m, -s->half_across_m), s->half_across_m);
    return (gradin_vec2){s->at_m.x + s->ahead.x * along_m + s->ahead.y * across_m,
                         s->at_m.y + s->ahead.y * along_m - s->ahead.x * across_m};
}

/* So near an open stair that a body would hang over it: nobody leaves a place round its corner. */
static bool is_by_stair(const gradin_model *m, gradin_vec2 at_m) {
    for (int i = 0; i < m->n_vomitory; i++) {
        if (m->vomitory_passage[i]) continue;
        gradin_vec2 near_m = gradin_polygon_nearest_m(m->vomitory[i].polygon, at_m, NULL);
        if (hypot(near_m.x - at_m.x, near_m.y - at_m.y) < BODY_M / 2.0) return true;
    }
    return false;
}

static bool is_stepped_to(const stance *s, int cell) {
    const ways *w = s->w;
    gradin_vec2 to = ways_middle_m(w, cell), from = edge_m(s, to);
    double off_m = hypot(to.x - from.x, to.y - from.y);
    if (off_m > s->reach_m) return false;
    int n = (int)ceil(off_m / STEP_M);
    double floor_m = s->slope > 0.0 ? fit_surface_m(w->model, from, s->floor_m) : s->floor_m;
    double step_m = w->step_m + s->slope * SHORT_M;
    for (int i = 2; i <= n; i++) { /* the first cell may be the place's own */
        int on = ways_cell(
            w, (gradin_vec2){from.x + (to.x - from.x) * i / n, from.y + (to.y - from.y) * i / n});
        if (on < 0 || !(fabs(w->floor_m[on] - floor_m) <= step_m)) return false;
        floor_m = w->floor_m[on];
    }
    return fabs(w->floor_m[cell] - floor_m) <= step_m && !is_by_stair(w->model, from);
}

void ways_from_seat(const ways *w, int seat, ways_visit visit, void *context) {
    const gradin_seats *seats = &w->model->seats;
    stance s = {.w = w,
                .at_m = {seats->floor_m[seat].x, seats->floor_m[seat].y},
                .ahead = gradin_bearing_unit(seats->facing_deg[seat]),
                .half_along_m = seats->depth_m[seat] / 2.0,
                .half_across_m = seats->width_m[seat] / 2.0,
                .floor_m = seats->floor_m[seat].z,
                .reach_m = MORE_M + w->wanted_cm / 200.0};
    s.slope = fit_slope(w->model, s.at_m, s.floor_m);
    double far_m = s.reach_m + hypot(s.half_along_m, s.half_across_m);
    int n = (int)ceil(far_m / fmin(w->column_m, w->row_m));
    for (int row = -n; row <= n; row++)
        for (int column = -n; column <= n; column++) {
            double x = column * w->column_m, y = row * w->row_m;
            gradin_vec2 at_m = {s.at_m.x + w->x.x * x - w->x.y * y,
                                s.at_m.y + w->x.y * x + w->x.x * y};
            int cell = ways_cell(w, at_m);
            if (cell < 0 || w->out_cm[cell] == 0 || !is_stepped_to(&s, cell)) continue;
            gradin_vec2 middle_m = ways_middle_m(w, cell);
            visit(context, seat, cell, hypot(middle_m.x - s.at_m.x, middle_m.y - s.at_m.y));
        }
}
