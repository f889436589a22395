/* The line to which C is measured: the layout's own c_line, or else the edge of the lowest floor
 * area: of all that no other lies wholly below. So a ramp that falls from the stage's height does
 * not take the line away from its front. Where nothing but uprights or points is looked at, there
 * is no line and no C. Neither the order of the areas nor their weights decide. */
#include "sightline/c_value/c_seat.h"

#define SAME_HEIGHT_M 1e-6
#define SAME_M 1e-9

static double highest_m(const gradin_focus *floor) {
    double most_m = -INFINITY;
    for (int i = 0; i < floor->polygon.n_corner; i++)
        most_m = fmax(most_m, gradin_focus_z_m(floor, floor->polygon.corner_m[i]));
    return most_m;
}

static bool is_of_line(const gradin_model *model, int area) {
    const gradin_focus *mine = &model->focus[area];
    if (mine->kind != GRADIN_FOCUS_FLOOR) return false;
    for (int i = 0; i < model->n_focus; i++) {
        const gradin_focus *other = &model->focus[i];
        if (other->kind == GRADIN_FOCUS_FLOOR &&
            highest_m(other) < gradin_focus_lowest_m(mine) - SAME_HEIGHT_M)
            return false;
    }
    return true;
}

/* Where the ray from + t*way, t >= 0, meets the stretch a to b. */
static bool meet_stretch(gradin_vec2 from, gradin_vec2 way, gradin_vec2 a, gradin_vec2 b,
                         double *t) {
    double share;
    gradin_vec3 a_m = {a.x, a.y, 0.0}, b_m = {b.x, b.y, 0.0};
    return gradin_plan_cross(from, way, a_m, b_m, t, &share) && *t >= 0.0;
}

static bool meet_path(gradin_vec2 from, gradin_vec2 way, const gradin_vec2 *point_m, int n,
                      double *least) {
    double t;
    *least = INFINITY;
    for (int i = 0; i + 1 < n; i++)
        if (meet_stretch(from, way, point_m[i], point_m[i + 1], &t)) *least = fmin(*least, t);
    return isfinite(*least);
}

/* One of two points that are as near is chosen by where it lies, never by the order of areas. */
static bool is_nearer(const gradin_c_point *a, const gradin_c_point *b) {
    if (fabs(a->ahead_m - b->ahead_m) > SAME_M) return a->ahead_m < b->ahead_m;
    if (fabs(a->at_m.x - b->at_m.x) > SAME_M) return a->at_m.x < b->at_m.x;
    return a->at_m.y < b->at_m.y - SAME_M;
}

static gradin_c_point point_of(const gradin_model *model, int area, gradin_vec2 from,
                               gradin_vec2 p) {
    double z_m = area < 0 ? model->c_line->z_m : gradin_focus_z_m(&model->focus[area], p);
    return (gradin_c_point){{p.x, p.y, z_m}, hypot(p.x - from.x, p.y - from.y), area};
}

static void take_met(const gradin_model *model, int area, gradin_vec2 from, gradin_vec2 way,
                     double t, gradin_c_point *best) {
    gradin_c_point p =
        point_of(model, area, from, (gradin_vec2){from.x + t * way.x, from.y + t * way.y});
    p.ahead_m = t;
    if (is_nearer(&p, best)) *best = p;
}

static const gradin_c_point NOWHERE = {{NAN, NAN, NAN}, INFINITY, -1};

bool gradin_c_line_meet(const gradin_model *model, gradin_vec2 from_m, gradin_vec2 way,
                        gradin_c_point *point) {
    double t;
    if (!model || !point) return false;
    *point = NOWHERE;
    const gradin_c_line *line = model->c_line;
    if (line && meet_path(from_m, way, line->point_m, line->n_point, &t))
        take_met(model, -1, from_m, way, t, point);
    for (int a = 0; !line && a < model->n_focus; a++)
        if (is_of_line(model, a) && gradin_polygon_ray_m(model->focus[a].polygon, from_m, way, &t))
            take_met(model, a, from_m, way, t, point);
    return isfinite(point->ahead_m);
}

bool gradin_c_line_nearest(const gradin_model *model, gradin_vec2 from_m, gradin_c_point *point) {
    if (!model || !point) return false;
    *point = NOWHERE;
    const gradin_c_line *line = model->c_line;
    if (line)
        *point = point_of(model, -1, from_m,
                          gradin_sight_path_nearest(from_m, line->point_m, line->n_point));
    for (int a = 0; !line && a < model->n_focus; a++) {
        if (!is_of_line(model, a)) continue;
        gradin_c_point p =
            point_of(model, a, from_m, gradin_sight_nearest(&model->focus[a], from_m));
        if (is_nearer(&p, point)) *point = p;
    }
    return isfinite(point->ahead_m);
}

/* By size, so that two halves of a floor are looked at as the whole is. Without a floor, all that
 * is looked at, each alike. */
void gradin_sight_c_parts(const gradin_model *model, double *part) {
    bool has_floor = false;
    double sum = 0.0;
    for (int a = 0; a < model->n_focus; a++)
        has_floor |= model->focus[a].kind == GRADIN_FOCUS_FLOOR;
    for (int a = 0; a < model->n_focus; a++) {
        part[a] = !has_floor             ? 1.0
                  : is_of_line(model, a) ? gradin_sight_size_m2(&model->focus[a])
                                         : 0.0;
        sum += part[a];
    }
    for (int a = 0; a < model->n_focus; a++) part[a] /= sum;
}

gradin_vec2 gradin_sight_floor_middle(const gradin_model *model) {
    double part[GRADIN_MAX_FOCUS];
    gradin_vec2 middle_m = {0.0, 0.0};
    gradin_sight_c_parts(model, part);
    for (int a = 0; a < model->n_focus; a++) {
        gradin_vec3 of_area_m = gradin_focus_middle_m(&model->focus[a]);
        middle_m.x += part[a] * of_area_m.x;
        middle_m.y += part[a] * of_area_m.y;
    }
    return middle_m;
}
