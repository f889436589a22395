/* Solids of kind mesh: a model file scaled, turned and set down in the room. Its triangles hide;
 * its outline, the convex hull of its corners on plan, with its bottom and top stands for it on
 * plans, against machines and seats, and for loads. */
#include "files/mesh/mesh.h"

#include "files/schema/values.h"

#include <string.h>

static const double least_area_m2 = 1e-12; /* smaller triangles hide nothing and are dropped */
static const double least_size_m = 0.01;   /* of the outline: a cloth without thickness */
static const double reach_m = 1000.0;      /* from the plan origin */

static const double unit_of_m[] = {1.0, GRADIN_FOOT_M, 0.001};

static gradin_vec3 put_corner(const stated_solid *p, gradin_vec3 c) {
    gradin_vec2 north = gradin_bearing_unit(p->turn_deg); /* where the model's y goes */
    gradin_vec3 v = gradin_scale(c, unit_of_m[p->unit]);
    if (p->up == 1) v = (gradin_vec3){v.x, -v.z, v.y};
    return (gradin_vec3){v.x * north.y + v.y * north.x + p->at_m.x,
                         v.y * north.y - v.x * north.x + p->at_m.y, v.z};
}

static bool has_area(const gradin_vec3 c[3]) {
    return gradin_norm(gradin_cross(gradin_sub(c[1], c[0]), gradin_sub(c[2], c[0]))) >
           2.0 * least_area_m2;
}

/* Puts every triangle in its place and drops those without an area. */
static void put_triangles(const stated_solid *p, mesh *m) {
    int n = 0;
    for (int k = 0; k < m->n_triangle; k++) {
        gradin_vec3 corner[3];
        for (int i = 0; i < 3; i++) corner[i] = put_corner(p, m->corner[k][i]);
        if (has_area(corner)) memcpy(m->corner[n++], corner, sizeof corner);
    }
    m->n_triangle = n;
}

typedef struct extent {
    double low_m, high_m, furthest_m;
} extent;

static extent extent_of(const mesh *m) {
    extent e = {INFINITY, -INFINITY, 0.0};
    for (int k = 0; k < m->n_triangle; k++)
        for (int i = 0; i < 3; i++) {
            gradin_vec3 c = m->corner[k][i];
            e.low_m = fmin(e.low_m, c.z);
            e.high_m = fmax(e.high_m, c.z);
            e.furthest_m = fmax(e.furthest_m, fmax(fmax(fabs(c.x), fabs(c.y)), fabs(c.z)));
        }
    return e;
}

static void lift(mesh *m, double up_m) {
    for (int k = 0; k < m->n_triangle; k++)
        for (int i = 0; i < 3; i++) m->corner[k][i].z += up_m;
}

enum { FIRST_HULL = 4096 };

/* Points of a hull to be; those inside what is there so far go as soon as the room is full. */
typedef struct rim {
    gradin_arena *arena;
    gradin_vec2 *point, *hull; /* [capacity], [capacity + 1] */
    int n, capacity;
} rim;

static bool widen(rim *w, int capacity) {
    gradin_vec2 *old = w->point;
    w->point = gradin_arena_alloc(w->arena, (size_t)capacity, sizeof *w->point);
    w->hull = gradin_arena_alloc(w->arena, (size_t)capacity + 1, sizeof *w->hull);
    if (!w->point || !w->hull) return false;
    if (w->n > 0) memcpy(w->point, old, (size_t)w->n * sizeof *old);
    w->capacity = capacity;
    return true;
}

static void tidy(rim *w) {
    w->n = gradin_convex_hull(w->point, w->n, w->hull);
    memcpy(w->point, w->hull, (size_t)w->n * sizeof *w->point);
}

static bool add_point(rim *w, gradin_vec3 c) {
    if (w->n == w->capacity) {
        tidy(w);
        if (w->n > w->capacity / 2 && !widen(w, 2 * w->capacity)) return false;
    }
    w->point[w->n++] = (gradin_vec2){c.x, c.y};
    return true;
}

static bool gather(rim *w, const mesh *m) {
    if (!widen(w, FIRST_HULL)) return false;
    for (int k = 0; k < m->n_triangle; k++)
        for (int i = 0; i < 3; i++)
            if (!add_point(w, m->corner[k][i])) return false;
    tidy(w);
    return true;
}

/* The hull between two lines along edge i. */
typedef struct strip {
    double bearing_deg;
    gradin_vec2 centre_m;
    double along_m, across_m;
} strip;

static strip strip_along(gradin_polygon hull, int i) {
    gradin_vec2 a = hull.corner_m[i], b = hull.corner_m[(i + 1) % hull.n_corner];
    strip s = {.bearing_deg = gradin_bearing_deg(b.x - a.x, b.y - a.y)};
    gradin_vec2 u = gradin_bearing_unit(s.bearing_deg);
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};
    for (int k = 0; k < hull.n_corner; k++) {
        gradin_vec2 c = {hull.corner_m[k].x - a.x, hull.corner_m[k].y - a.y};
        double at[2] = {c.x * u.x + c.y * u.y, c.x * u.y - c.y * u.x};
        for (int j = 0; j < 2; j++) {
            low[j] = fmin(low[j], at[j]);
            high[j] = fmax(high[j], at[j]);
        }
    }
    double along_m = (low[0] + high[0]) / 2.0, right_m = (low[1] + high[1]) / 2.0;
    s.centre_m =
        (gradin_vec2){a.x + u.x * along_m + u.y * right_m, a.y + u.y * along_m - u.x * right_m};
    s.along_m = high[0] - low[0];
    s.across_m = high[1] - low[1];
    return s;
}

/* A sheet that stands upright gets the least thickness. */
static bool thicken(gradin_polygon hull, gradin_vec2 corner_m[4]) {
    strip thinnest = strip_along(hull, 0);
    for (int i = 1; i < hull.n_corner; i++) {
        strip s = strip_along(hull, i);
        if (s.across_m < thinnest.across_m) thinnest = s;
    }
    if (thinnest.across_m >= least_size_m) return false;
    gradin_rectangle_corners(thinnest.centre_m, thinnest.bearing_deg,
                             fmax(thinnest.along_m, least_size_m), least_size_m, corner_m);
    return true;
}

static bool outline(reader *r, const mesh *m, gradin_polygon *out) {
    rim w = {.arena = gradin_arena_create()};
    gradin_vec2 four_m[4];
    bool good = note_failure(&r->c, w.arena) && (gather(&w, m) || note_failure(&r->c, NULL));
    bool is_thin = good && thicken((gradin_polygon){w.point, w.n}, four_m);
    int n = is_thin ? 4 : w.n;
    gradin_vec2 *corner = good ? alloc(&r->c, n, sizeof *corner) : NULL;
    if (corner) memcpy(corner, is_thin ? four_m : w.point, (size_t)n * sizeof *corner);
    *out = (gradin_polygon){corner, n};
    if (w.arena) gradin_arena_destroy(w.arena);
    return corner != NULL;
}

/* Where the triangles reach once they stand; false after a complaint. */
static bool stand(reader *r, const stated_solid *p, const char *path, mesh *m, extent *e) {
    put_triangles(p, m);
    *e = extent_of(m);
    double up_m = isnan(p->bottom_m) || m->n_triangle == 0 ? 0.0 : p->bottom_m - e->low_m;
    if (up_m != 0.0) lift(m, up_m);
    *e = extent_of(m);
    if (m->n_triangle == 0)
        complain(r, map_get(p->at, "file"), "%s holds no triangle that has an area", path);
    else if (!(e->furthest_m <= reach_m))
        complain(r, map_get(p->at, "file"),
                 "%s reaches further than %.0f m (%.0f ft) from the plan origin; check "
                 "'unit' and 'at'",
                 path, reach_m, reach_m / GRADIN_FOOT_M);
    else
        return true;
    return false;
}

static const gradin_mesh_source *source_of(reader *r, const stated_solid *s) {
    gradin_mesh_source *made = alloc(&r->c, 1, sizeof *made);
    if (made)
        *made = (gradin_mesh_source){s->file, s->unit, s->up, s->at_m, s->turn_deg, s->bottom_m};
    return made;
}

void fill_mesh_solid(reader *r, const stated_solid *s, gradin_solid *solid) {
    mesh m;
    extent e;
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, s->file));
    if (!path || !mesh_read_file(r, map_get(s->at, "file"), path, &m) ||
        !stand(r, s, path, &m, &e) || !outline(r, &m, &solid->polygon))
        return;
    solid->kind = GRADIN_SOLID_MESH;
    solid->bottom_m = e.low_m;
    solid->top_m = fmax(e.high_m, e.low_m + least_size_m);
    solid->triangle_m = (const gradin_vec3(*)[3])m.corner;
    solid->n_triangle = m.n_triangle;
    solid->source = source_of(r, s);
}
