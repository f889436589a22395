/* Parts of the fixed floor that are not at 0. The plane of heights stated corner by corner has the
 * normal that the areas of the outline's three projections give (Newell's method, from memory), in
 * which no corner is preferred, and goes through the corners' mean. */
#include "venue/parts.h"

static const double OFF_PLANE_M = 0.01; /* heights are stated to the centimetre or quarter inch */
static const double TOUCH_M = 0.02;     /* drawn this far into another one is drawn at it */
static const double MOST_SLOPE = 0.5;

static gradin_vec2 gradient_of(const gradin_floor_region *f) {
    gradin_vec2 up = gradin_bearing_unit(f->uphill_deg);
    if (!f->corner_z_m) return (gradin_vec2){f->slope * up.x, f->slope * up.y};
    gradin_vec3 normal = {0.0, 0.0, 0.0};
    for (int i = 0; i < f->polygon.n_corner; i++) {
        int next = (i + 1) % f->polygon.n_corner;
        gradin_vec2 a = f->polygon.corner_m[i], b = f->polygon.corner_m[next];
        double a_z = f->corner_z_m[i], b_z = f->corner_z_m[next];
        normal.x += (a.y - b.y) * (a_z + b_z);
        normal.y += (a_z - b_z) * (a.x + b.x);
        normal.z += (a.x - b.x) * (a.y + b.y);
    }
    return (gradin_vec2){-normal.x / normal.z, -normal.y / normal.z};
}

/* A point of the plane: the mean of the corners, or a lowest corner. */
static gradin_vec3 point_of(const gradin_floor_region *f) {
    gradin_vec2 up = gradient_of(f);
    gradin_vec3 sum = {0.0, 0.0, 0.0}, lowest = {NAN, NAN, f->z_m};
    int n = f->polygon.n_corner;
    for (int i = 0; i < n; i++) {
        gradin_vec2 at = f->polygon.corner_m[i];
        bool is_lower = !(at.x * up.x + at.y * up.y >= lowest.x * up.x + lowest.y * up.y);
        if (is_lower) lowest.x = at.x, lowest.y = at.y;
        sum = gradin_add(sum, (gradin_vec3){at.x, at.y, f->corner_z_m ? f->corner_z_m[i] : 0.0});
    }
    return f->corner_z_m ? gradin_scale(sum, 1.0 / n) : lowest;
}

double gradin_floor_region_z_m(const gradin_floor_region *f, gradin_vec2 at_m) {
    if (!f || !f->polygon.corner_m) return NAN;
    gradin_vec2 up = gradient_of(f);
    gradin_vec3 from = point_of(f);
    return from.z + up.x * (at_m.x - from.x) + up.y * (at_m.y - from.y);
}

double gradin_floor_region_slope(const gradin_floor_region *f, double *uphill_deg) {
    if (uphill_deg) *uphill_deg = NAN;
    if (!f || !f->polygon.corner_m) return NAN;
    gradin_vec2 up = gradient_of(f);
    double slope = hypot(up.x, up.y);
    if (uphill_deg && slope > 1e-9) *uphill_deg = gradin_bearing_deg(up.x, up.y);
    return slope;
}

int gradin_floor_region_find(const gradin_floor_region *region, int n, gradin_vec2 at_m) {
    for (int i = 0; region && i < n; i++)
        if (gradin_polygon_contains(region[i].polygon, at_m)) return i;
    return -1;
}

static void check_plane(complaints *c, const gradin_venue *v, const gradin_floor_region *f,
                        const gradin_place *at) {
    char off[LENGTH_CHARS];
    int worst = -1;
    double worst_m = OFF_PLANE_M;
    for (int i = 0; f->corner_z_m && i < f->polygon.n_corner; i++) {
        double off_m = fabs(f->corner_z_m[i] - gradin_floor_region_z_m(f, f->polygon.corner_m[i]));
        if (off_m <= worst_m) continue;
        worst_m = off_m;
        worst = i;
    }
    if (worst >= 0)
        refuse(c, at,
               "floor %s is no plane: corner %d is %s off the one that fits its corners best; cut "
               "it into several",
               f->name, worst + 1, length_text(off, worst_m, stated_unit_of(v->units)));
    else if (gradin_floor_region_slope(f, NULL) > MOST_SLOPE + 1e-9)
        refuse(c, at, "floor %s rises by %.2f per unit of length; at most %.2f is allowed", f->name,
               gradin_floor_region_slope(f, NULL), MOST_SLOPE);
}

static void check_extent(complaints *c, const gradin_venue *v, const gradin_floor_region *f,
                         const gradin_place *at) {
    if (!ends_at_walls(v, f->polygon))
        refuse(c, at, "floor %s reaches outside the room's footprint", f->name);
    for (int i = 0; i < f->polygon.n_corner; i++) {
        if (gradin_floor_region_z_m(f, f->polygon.corner_m[i]) < v->ceiling_m) continue;
        refuse(c, at, "floor %s reaches the ceiling", f->name);
        return;
    }
}

static void check_others(complaints *c, const gradin_venue *v, int index, const gradin_place *at) {
    const gradin_floor_region *f = &v->floor[index];
    for (int i = 0; i < index; i++)
        if (gradin_polygon_overlap(f->polygon, v->floor[i].polygon, TOUCH_M))
            refuse(c, at, "floor %s overlaps floor %s", f->name, v->floor[i].name);
    for (int i = 0; i < v->n_section; i++) {
        gradin_vec2 corner_m[4];
        gradin_section_corners(&v->section[i], corner_m);
        if (!gradin_polygon_overlap(f->polygon, (gradin_polygon){corner_m, 4}, TOUCH_M)) continue;
        refuse(c, at, "floor %s overlaps lift %s", f->name, v->section[i].name);
        return;
    }
}

void check_floors(complaints *c, const gradin_venue *v) {
    for (int i = 0; i < v->n_floor; i++) {
        const gradin_floor_region *f = &v->floor[i];
        const gradin_place *at = f->at ? f->at : &(gradin_place){.key = f->name};
        check_plane(c, v, f, at);
        check_extent(c, v, f, at);
        check_others(c, v, i, at);
    }
}
