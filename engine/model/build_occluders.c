/* Everything that can hide the focus: the audience, rails, obstacles. */
#include "model/build.h"

static bool add_person(builder *b, int seat) {
    const gradin_seats *s = &b->model->seats;
    gradin_shape shape[GRADIN_N_BODY];
    int name = add_occluder_name(b, s->id[seat]);
    if (name < 0) return false;
    gradin_body_shapes(&b->p->audience, s->eye_m[seat], s->facing_deg[seat], shape);
    for (int k = 0; k < GRADIN_N_BODY; k++)
        if (!add_occluder(b, shape[k], GRADIN_CAUSE_HEAD, seat, name)) return false;
    return true;
}

static bool add_people(builder *b) {
    for (int i = 0; i < b->model->seats.n_seat; i++)
        if (!add_person(b, i)) return false;
    return true;
}

enum { FEW = 4096, PER_PLACE = 8 };

/* All triangles of models and more than what else there is: a block that has to grow leaves the
 * smaller ones behind in the arena, and that of five million triangles has 640 MB. */
static bool reserve_for_meshes(builder *b) {
    int n = 0;
    for (int i = 0; i < b->n_obstacle; i++)
        if (b->obstacle[i].mesh) n += b->obstacle[i].mesh->n_triangle;
    return n <= FEW || reserve_occluders(b, n + FEW + PER_PLACE * b->n_place);
}

static bool add_triangles(builder *b, const gradin_solid *mesh, gradin_cause cause, int name) {
    bool good = true;
    for (int k = 0; good && k < mesh->n_triangle; k++) {
        const gradin_vec3 *c = mesh->triangle_m[k];
        good = add_occluder(b, gradin_triangle(c[0], c[1], c[2]), cause, GRADIN_NO_OWNER, name);
    }
    return good;
}

static bool add_body(builder *b, const obstacle *o, int name) {
    if (o->mesh) return add_triangles(b, o->mesh, o->cause, name);
    return add_occluder(b, gradin_prism(o->polygon, o->bottom_m, o->top_m), o->cause,
                        GRADIN_NO_OWNER, name);
}

static bool add_obstacles(builder *b) {
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        bool is_new = i == 0 || o->name != b->obstacle[i - 1].name;
        int name = is_new ? add_occluder_name(b, o->name) : b->n_occluder_name - 1;
        if (name < 0 || !add_body(b, o, name)) return false;
    }
    return true;
}

/* From the plane of a part of the floor down to its lowest height, or to 0. */
static bool add_skirt(builder *b, const gradin_floor_region *f, double low_m, int name) {
    for (int i = 0; i < f->polygon.n_corner; i++) {
        gradin_vec2 p = f->polygon.corner_m[i],
                    q = f->polygon.corner_m[(i + 1) % f->polygon.n_corner];
        gradin_vec3 a = {p.x, p.y, gradin_floor_region_z_m(f, p)},
                    c = {q.x, q.y, gradin_floor_region_z_m(f, q)};
        gradin_vec3 a_low = {p.x, p.y, low_m}, c_low = {q.x, q.y, low_m};
        if ((a.z > low_m && !add_occluder(b, gradin_triangle(a, c, a_low), GRADIN_CAUSE_STRUCTURE,
                                          GRADIN_NO_OWNER, name)) ||
            (c.z > low_m && !add_occluder(b, gradin_triangle(c, c_low, a_low),
                                          GRADIN_CAUSE_STRUCTURE, GRADIN_NO_OWNER, name)))
            return false;
    }
    return true;
}

static bool add_floor(builder *b, const gradin_floor_region *f) {
    int n = f->polygon.n_corner, name = add_occluder_name(b, f->name);
    int *scratch = alloc(b->c, n, sizeof *scratch);
    int *corner = alloc(b->c, 3 * n, sizeof *corner);
    double low_m = 0.0;
    if (name < 0 || !scratch || !corner) return false;
    int n_triangle = gradin_polygon_triangles(f->polygon, scratch, corner);
    for (int i = 0; i < n; i++)
        low_m = fmin(low_m, gradin_floor_region_z_m(f, f->polygon.corner_m[i]));
    for (int i = 0; i < n_triangle; i++) {
        gradin_vec3 at_m[3];
        for (int k = 0; k < 3; k++) {
            gradin_vec2 on_plan = f->polygon.corner_m[corner[3 * i + k]];
            at_m[k] = (gradin_vec3){on_plan.x, on_plan.y, gradin_floor_region_z_m(f, on_plan)};
        }
        if (!add_occluder(b, gradin_triangle(at_m[0], at_m[1], at_m[2]), GRADIN_CAUSE_STRUCTURE,
                          GRADIN_NO_OWNER, name))
            return false;
    }
    return add_skirt(b, f, low_m, name);
}

static bool add_floors(builder *b) {
    for (int i = 0; i < b->v->n_floor; i++)
        if (!add_floor(b, &b->v->floor[i])) return false;
    return true;
}

/* Of a platform that reaches down into passages, a cover is left; one on a slab over them stays. */
static double left_m(const builder *b, const place *p, double bottom_m) {
    double low_m = bottom_m;
    for (int k = 0; k < b->p->n_passage; k++)
        if (is_in_headroom(b, p, bottom_m, &b->p->passage[k]))
            low_m = fmax(low_m, p->z_m - b->p->passage[k].cover_m);
    return low_m;
}

static bool add_platforms(builder *b) {
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i];
        double bottom_m;
        if (!platform_below(b, p, &bottom_m)) continue;
        bottom_m = left_m(b, p, bottom_m);
        gradin_polygon under = make_rectangle(b->c, p->at_m, p->facing_deg, p->depth_m, p->width_m);
        int name = add_occluder_name(b, b->block_name[p->block]);
        if (!under.corner_m || name < 0 ||
            !add_occluder(b, gradin_prism(under, bottom_m, p->z_m), GRADIN_CAUSE_STRUCTURE,
                          GRADIN_NO_OWNER, name))
            return false;
    }
    return true;
}

bool build_occluders(builder *b) {
    if (!reserve_for_meshes(b) || !add_people(b) || !build_rails(b) || !add_obstacles(b) ||
        !add_floors(b) || !add_platforms(b))
        return false;
    b->model->scene = (gradin_scene){b->occluder, b->n_occluder};
    b->model->occluder_name = b->occluder_name;
    b->model->n_occluder_name = b->n_occluder_name;
    b->model->rail = b->rail;
    b->model->n_rail = b->n_rail;
    return true;
}
