/* A focus without a height of its own must lie on one level, or on one slope: it is held against
 * every tread, part of the floor and the fixed floor that its outline lies over, each at the
 * corners of what the two have in common, where planes are farthest apart. */
#include "model/build.h"

static const double OFF_M = 0.005;
static const double SLIVER_M = 0.02; /* drawn this far over an edge is drawn to it */

/* A plane over an outline: a lift tread, or a part of the floor. */
typedef struct footing_part {
    gradin_polygon outline;
    const gradin_floor_region *region; /* NULL: level at z_m */
    double z_m;
} footing_part;

/* What a focus and one part have in common, corner by corner. */
typedef struct meeting {
    const gradin_focus *focus;
    const footing_part *part;
    gradin_box2 box;
    double off_m; /* the farthest apart */
} meeting;

static void meet_at(meeting *m, gradin_vec2 at_m) {
    const footing_part *p = m->part;
    double z_m = p->region ? gradin_floor_region_z_m(p->region, at_m) : p->z_m;
    m->off_m = fmax(m->off_m, fabs(z_m - gradin_focus_z_m(m->focus, at_m)));
    m->box.x_min_m = fmin(m->box.x_min_m, at_m.x);
    m->box.y_min_m = fmin(m->box.y_min_m, at_m.y);
    m->box.x_max_m = fmax(m->box.x_max_m, at_m.x);
    m->box.y_max_m = fmax(m->box.y_max_m, at_m.y);
}

static void meet_corners(meeting *m, gradin_polygon of, gradin_polygon within) {
    for (int i = 0; i < of.n_corner; i++)
        if (gradin_polygon_contains(within, of.corner_m[i])) meet_at(m, of.corner_m[i]);
}

/* Where the sides from a to b and from c to d cross. */
static void meet_sides(meeting *m, const gradin_vec2 a[2], const gradin_vec2 c[2]) {
    double ux = a[1].x - a[0].x, uy = a[1].y - a[0].y, vx = c[1].x - c[0].x, vy = c[1].y - c[0].y;
    double wx = c[0].x - a[0].x, wy = c[0].y - a[0].y, det = ux * vy - uy * vx;
    double t = (wx * vy - wy * vx) / det, s = (wx * uy - wy * ux) / det;
    if (!(t >= 0.0 && t <= 1.0 && s >= 0.0 && s <= 1.0)) return; /* alongside: NAN */
    meet_at(m, (gradin_vec2){a[0].x + t * ux, a[0].y + t * uy});
}

static void meet_all_sides(meeting *m, gradin_polygon a, gradin_polygon b) {
    for (int i = 0; i < a.n_corner; i++)
        for (int k = 0; k < b.n_corner; k++) {
            const gradin_vec2 one[2] = {a.corner_m[i], a.corner_m[(i + 1) % a.n_corner]};
            const gradin_vec2 other[2] = {b.corner_m[k], b.corner_m[(k + 1) % b.n_corner]};
            meet_sides(m, one, other);
        }
}

/* The area in common is taken from *left_m2; true when the two lie apart there. */
static bool is_apart(const gradin_focus *f, const footing_part *part, double *left_m2) {
    double common_m2 = gradin_polygon_common_m2(f->polygon, part->outline);
    if (!(common_m2 > 0.0)) return false;
    *left_m2 -= common_m2;
    meeting m = {f, part, {INFINITY, INFINITY, -INFINITY, -INFINITY}, 0.0};
    meet_corners(&m, f->polygon, part->outline);
    meet_corners(&m, part->outline, f->polygon);
    meet_all_sides(&m, f->polygon, part->outline);
    double length_m = hypot(m.box.x_max_m - m.box.x_min_m, m.box.y_max_m - m.box.y_min_m);
    return common_m2 > SLIVER_M * length_m && m.off_m > OFF_M;
}

static bool is_off_lift(const builder *b, const gradin_focus *f, int section, double *left_m2) {
    const gradin_setting *set =
        &gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SECTION, section)->set;
    for (int tread = 0; tread < set->n_step; tread++) {
        gradin_vec2 corner_m[4];
        gradin_tread_corners(&b->v->section[section], set, tread, corner_m);
        const footing_part part = {{corner_m, 4}, NULL, set->position + tread * set->riser_m};
        if (is_apart(f, &part, left_m2)) return true;
    }
    return false;
}

static bool is_on_several(const builder *b, const gradin_focus *f) {
    double left_m2 = gradin_polygon_area_m2(f->polygon);
    for (int i = 0; i < b->v->n_section; i++)
        if (is_off_lift(b, f, i, &left_m2)) return true;
    for (int i = 0; i < b->v->n_floor; i++) {
        const gradin_floor_region *region = &b->v->floor[i];
        const footing_part part = {region->polygon, region, NAN};
        if (is_apart(f, &part, &left_m2)) return true;
    }
    bool has_floor = left_m2 > 0.5 * SLIVER_M * gradin_polygon_perimeter_m(f->polygon);
    return has_floor && (f->slope > 0.0 || fabs(f->z_m) > OFF_M);
}

void check_focus_height(builder *b, const gradin_focus *f) {
    if (is_on_several(b, f))
        refuse(b->c, f->at, "focus %s lies over surfaces of several heights; give z", f->name);
}
