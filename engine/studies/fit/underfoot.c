/* What a person stands on at a point, and who sits near it. */
#include "studies/fit/fit.h"

static const double STEP_M = 0.25; /* more is no step; common practice, no source */
static const double HEADROOM_M = 2.0, RAIL_M = 0.05;
static const double ON_M = 0.002; /* what stands on a floor is at its height */

fit_frame fit_frame_of(const gradin_section *s) {
    double dx = s->corner_m[1].x - s->corner_m[0].x, dy = s->corner_m[1].y - s->corner_m[0].y;
    double length_m = hypot(dx, dy);
    return (fit_frame){{dx / length_m, dy / length_m}};
}

gradin_vec2 fit_to_frame(fit_frame f, gradin_vec2 at_m) {
    return (gradin_vec2){at_m.x * f.x.x + at_m.y * f.x.y, at_m.y * f.x.x - at_m.x * f.x.y};
}

gradin_vec2 fit_from_frame(fit_frame f, gradin_vec2 at_m) {
    return (gradin_vec2){at_m.x * f.x.x - at_m.y * f.x.y, at_m.x * f.x.y + at_m.y * f.x.x};
}

static gradin_box2 whole_of(const gradin_section *s) {
    fit_frame frame = fit_frame_of(s);
    gradin_vec2 low_m = fit_to_frame(frame, s->corner_m[0]),
                high_m = fit_to_frame(frame, s->corner_m[2]);
    return (gradin_box2){low_m.x, low_m.y, high_m.x, high_m.y};
}

gradin_box2 fit_tread(const gradin_section *s, int tread) {
    const gradin_setting *set = &s->machine->setting;
    gradin_box2 box = whole_of(s);
    double x = (box.x_max_m - box.x_min_m) / set->n_step,
           y = (box.y_max_m - box.y_min_m) / set->n_step;
    gradin_vec2 front = fit_to_frame(fit_frame_of(s), gradin_bearing_unit(set->facing_deg));
    int back = set->n_step - 1 - tread;
    if (set->n_step == 1) return box;
    if (fabs(front.x) > 0.5) {
        int k = front.x > 0.0 ? back : tread; /* the lowest tread is in front */
        return (gradin_box2){box.x_min_m + k * x, box.y_min_m, box.x_min_m + (k + 1) * x,
                             box.y_max_m};
    }
    int k = front.y > 0.0 ? back : tread;
    return (gradin_box2){box.x_min_m, box.y_min_m + k * y, box.x_max_m, box.y_min_m + (k + 1) * y};
}

static bool is_in(gradin_box2 box, gradin_vec2 at_m) {
    return at_m.x >= box.x_min_m && at_m.x < box.x_max_m && at_m.y >= box.y_min_m &&
           at_m.y < box.y_max_m;
}

static bool is_over_stair(const gradin_model *m, gradin_vec2 at_m) {
    for (int i = 0; i < m->n_vomitory; i++)
        if (!m->vomitory_passage[i] && gradin_polygon_contains(m->vomitory[i].polygon, at_m))
            return true;
    return false;
}

/* Within the circle round the section's corners? Most sections are told off by this alone. */
static bool may_be_in(const gradin_section *s, gradin_vec2 at_m) {
    gradin_vec2 a = s->corner_m[0], b = s->corner_m[2];
    double x = at_m.x - 0.5 * (a.x + b.x), y = at_m.y - 0.5 * (a.y + b.y);
    double across2 = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
    return x * x + y * y <= 0.2501 * across2;
}

/* NAN where no lift is. */
static double lift_m(const gradin_model *m, gradin_vec2 at_m) {
    for (int i = 0; i < m->n_section; i++) {
        if (!may_be_in(&m->section[i], at_m)) continue;
        gradin_vec2 there_m = fit_to_frame(fit_frame_of(&m->section[i]), at_m);
        if (!is_in(whole_of(&m->section[i]), there_m)) continue;
        for (int tread = 0; tread < m->section[i].machine->setting.n_step; tread++)
            if (is_in(fit_tread(&m->section[i], tread), there_m))
                return m->section[i].machine->setting.position +
                       tread * m->section[i].machine->setting.riser_m;
    }
    return NAN;
}

static bool is_on_lift(const gradin_model *m, gradin_vec2 at_m) {
    for (int i = 0; i < m->n_section; i++)
        if (may_be_in(&m->section[i], at_m) &&
            is_in(whole_of(&m->section[i]), fit_to_frame(fit_frame_of(&m->section[i]), at_m)))
            return true;
    return false;
}

static const gradin_floor_region *region_at(const gradin_model *m, gradin_vec2 at_m) {
    int found = gradin_floor_region_find(m->floor, m->n_floor, at_m);
    return found < 0 || is_on_lift(m, at_m) ? NULL : &m->floor[found];
}

static double ground_m(const gradin_model *m, gradin_vec2 at_m) {
    double z_m = lift_m(m, at_m);
    if (!isnan(z_m)) return z_m;
    int found = gradin_floor_region_find(m->floor, m->n_floor, at_m);
    return found < 0 ? 0.0 : gradin_floor_region_z_m(&m->floor[found], at_m);
}

double fit_slope(const gradin_model *m, gradin_vec2 at_m, double floor_m) {
    const gradin_floor_region *region = m->n_floor > 0 ? region_at(m, at_m) : NULL;
    if (!region || fabs(gradin_floor_region_z_m(region, at_m) - floor_m) > ON_M) return 0.0;
    return gradin_floor_region_slope(region, NULL);
}

bool fit_is_fixed_floor(const gradin_model *m, gradin_vec2 at_m) {
    return gradin_polygon_contains(m->footprint, at_m) && !is_over_stair(m, at_m) &&
           !is_on_lift(m, at_m) && !region_at(m, at_m) && fit_surface_m(m, at_m, 0.0) == 0.0;
}

/* The highest where several cross: their floors are one. */
const gradin_passage *fit_passage(const gradin_model *m, gradin_vec2 at_m) {
    const gradin_passage *highest = NULL;
    for (int i = 0; i < m->n_vomitory; i++) {
        const gradin_passage *way = m->vomitory_passage[i];
        if (way && (!highest || way->headroom_m > highest->headroom_m) &&
            gradin_polygon_contains(m->vomitory[i].polygon, at_m))
            highest = way;
    }
    return highest;
}

/* What of a row's platform is over a passage: its tread above the headroom, or nothing. */
static bool is_platform_at(const gradin_platform *p, const gradin_passage *way, double ground_m,
                           double reach_m) {
    double bottom_m = p->bottom_m;
    if (way && bottom_m < ground_m + way->headroom_m - 1e-6) {
        bottom_m = p->top_m - way->cover_m;
        if (bottom_m < ground_m + way->headroom_m - 1e-6) return false;
    }
    return p->top_m <= reach_m + STEP_M || bottom_m <= reach_m; /* no way under it */
}

double fit_surface_m(const gradin_model *m, gradin_vec2 at_m, double reach_m) {
    if (!gradin_polygon_contains(m->footprint, at_m) || is_over_stair(m, at_m)) return -INFINITY;
    double surface_m = ground_m(m, at_m), ground = surface_m;
    const gradin_passage *way = m->n_platform > 0 ? fit_passage(m, at_m) : NULL;
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].top_m <= reach_m + STEP_M && m->solid[i].top_m > surface_m &&
            gradin_polygon_contains(m->solid[i].polygon, at_m))
            surface_m = m->solid[i].top_m;
    for (int i = 0; i < m->n_platform; i++) {
        const gradin_platform *p = &m->platform[i];
        if (p->top_m > surface_m && is_platform_at(p, way, ground, reach_m) &&
            gradin_polygon_contains(p->polygon, at_m))
            surface_m = p->top_m;
    }
    return surface_m;
}

double fit_carrier_m(const gradin_model *m, gradin_vec2 at_m, double under_m) {
    return fit_surface_m(m, at_m, under_m - STEP_M + ON_M);
}

double fit_off_rail_m(gradin_vec3 a, gradin_vec3 b, gradin_vec2 at_m, double *foot_m) {
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    double t = length2 > 0.0 ? ((at_m.x - a.x) * dx + (at_m.y - a.y) * dy) / length2 : 0.0;
    t = fmin(fmax(t, 0.0), 1.0);
    if (foot_m) *foot_m = a.z + t * (b.z - a.z);
    return hypot(a.x + t * dx - at_m.x, a.y + t * dy - at_m.y);
}

/* Beyond the box round the polygon by more than the margin: most are, of all that is asked. */
static bool is_off_box(gradin_polygon polygon, gradin_vec2 at_m, double margin_m) {
    bool is_west = true, is_east = true, is_south = true, is_north = true;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 p = polygon.corner_m[i];
        is_west = is_west && at_m.x < p.x - margin_m;
        is_east = is_east && at_m.x > p.x + margin_m;
        is_south = is_south && at_m.y < p.y - margin_m;
        is_north = is_north && at_m.y > p.y + margin_m;
    }
    return is_west || is_east || is_south || is_north;
}

/* Surely farther than the margin from the segment on plan; rounding is far below a micrometre. */
static bool is_off_segment(gradin_vec3 a, gradin_vec3 b, gradin_vec2 at_m, double margin_m) {
    const gradin_vec2 end_m[2] = {{a.x, a.y}, {b.x, b.y}};
    return is_off_box((gradin_polygon){end_m, 2}, at_m, margin_m + 1e-6);
}

static bool is_at_rail(const gradin_rail *rail, gradin_vec2 at_m, double height_m,
                       double margin_m) {
    for (int k = 0; k + 1 < rail->n_point; k++) {
        if (is_off_segment(rail->point_m[k], rail->point_m[k + 1], at_m, margin_m)) continue;
        double foot_m,
            off_m = fit_off_rail_m(rail->point_m[k], rail->point_m[k + 1], at_m, &foot_m);
        if (off_m <= margin_m && foot_m < height_m + HEADROOM_M &&
            foot_m + rail->height_m > height_m + STEP_M)
            return true;
    }
    return false;
}

/* Inside the polygon, or no farther from it than the margin. */
static bool is_near(gradin_polygon polygon, gradin_vec2 at_m, double margin_m) {
    if (is_off_box(polygon, at_m, margin_m)) return false;
    if (gradin_polygon_contains(polygon, at_m)) return true;
    gradin_vec2 near_m = gradin_polygon_nearest_m(polygon, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y) <= margin_m;
}

static bool is_by_wall(gradin_polygon footprint, gradin_vec2 at_m, double margin_m) {
    gradin_vec2 near_m = gradin_polygon_nearest_m(footprint, at_m, NULL);
    return !gradin_polygon_contains(footprint, at_m) ||
           hypot(near_m.x - at_m.x, near_m.y - at_m.y) < margin_m;
}

const char *fit_obstacle(const gradin_model *m, gradin_vec2 at_m, double height_m,
                         double margin_m) {
    if (is_by_wall(m->footprint, at_m, margin_m)) return "the wall of the room";
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].bottom_m < height_m + HEADROOM_M && m->solid[i].top_m > height_m + STEP_M &&
            is_near(m->solid[i].polygon, at_m, margin_m))
            return m->solid[i].name;
    for (int i = 0; i < m->n_rail; i++)
        if (is_at_rail(&m->rail[i], at_m, height_m, fmax(margin_m, RAIL_M))) return m->rail[i].name;
    return NULL;
}

/* hypot() takes long: it is asked only near the limit. */
static bool is_within(double x_m, double y_m, double radius_m) {
    return x_m * x_m + y_m * y_m < 1.001 * radius_m * radius_m && hypot(x_m, y_m) < radius_m;
}

bool fit_is_seat_near(const gradin_model *m, gradin_vec2 at_m, double radius_m, int from, int to) {
    for (int i = 0; i < m->seats.n_seat; i++) {
        if (i >= from && i <= to) continue;
        double x = m->seats.floor_m[i].x - at_m.x, y = m->seats.floor_m[i].y - at_m.y;
        if (is_within(x, y, radius_m)) return true;
    }
    return false;
}
