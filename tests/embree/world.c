/* A scene in Embree.
 *
 * Ellipsoid: the implicit quadric (p - c)' N (p - c) = 1 with the full matrix N, its quadratic
 * a t^2 + 2 b t + c solved by the discriminant. (The engine scales to the unit sphere and takes the
 * nearest point of the line.) Capsule: least distance between two segments (Ericson, Real-Time
 * Collision Detection, 2005, section 5.1.9, from memory) against the radius. (The engine intersects
 * a cylinder and two balls.) Both in double precision on the caller's own segment. */
#include "world.h"

#include <stdlib.h>

typedef struct segment {
    struct RTCIntersectContext context; /* first: Embree hands back its address */
    gradin_vec3 eye, way;
    int owner;
} segment;

static bool meets_ellipsoid(const gradin_shape *s, const segment *g) {
    double f[3] = {s->as.solid.forward.x, s->as.solid.forward.y, 0.0};
    double r[3] = {f[1], -f[0], 0.0}, u[3] = {0.0, 0.0, 1.0}, n[3][3];
    double l = s->as.solid.half_forward_m, m = s->as.solid.half_right_m, h = s->as.solid.half_up_m;
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            n[i][k] = f[i] * f[k] / (l * l) + r[i] * r[k] / (m * m) + u[i] * u[k] / (h * h);
    gradin_vec3 c = s->as.solid.centre_m;
    double d[3] = {g->eye.x - c.x, g->eye.y - c.y, g->eye.z - c.z};
    double w[3] = {g->way.x, g->way.y, g->way.z}, a = 0.0, b = 0.0, e = -1.0;
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            a += w[i] * n[i][k] * w[k];
            b += w[i] * n[i][k] * d[k];
            e += d[i] * n[i][k] * d[k];
        }
    double square = b * b - a * e;
    if (square < 0.0) return false;
    return (-b + sqrt(square)) / a > 0.0 && (-b - sqrt(square)) / a < 1.0;
}

static double clamp01(double x) {
    return x < 0.0 ? 0.0 : x > 1.0 ? 1.0 : x;
}

static bool meets_capsule(const gradin_shape *s, const segment *g) {
    gradin_vec3 d1 = g->way, d2 = gradin_sub(s->as.capsule.b_m, s->as.capsule.a_m);
    gradin_vec3 r = gradin_sub(g->eye, s->as.capsule.a_m);
    double a = gradin_dot(d1, d1), e = gradin_dot(d2, d2), f = gradin_dot(d2, r);
    double c = gradin_dot(d1, r), b = gradin_dot(d1, d2), below = a * e - b * b;
    double u = below > 0.0 ? clamp01((b * f - c * e) / below) : 0.0;
    double t = e > 0.0 ? (b * u + f) / e : 0.0;
    if (t < 0.0 || e == 0.0) {
        t = 0.0;
        u = clamp01(-c / a);
    } else if (t > 1.0) {
        t = 1.0;
        u = clamp01((b - c) / a);
    }
    gradin_vec3 gap = gradin_sub(gradin_add(r, gradin_scale(d1, u)), gradin_scale(d2, t));
    return gradin_norm(gap) <= s->as.capsule.radius_m;
}

static void bound(const struct RTCBoundsFunctionArguments *a) {
    const world *w = a->geometryUserPtr;
    const gradin_shape *s = &w->source->occluder[w->round[a->primID]].shape;
    double reach;
    gradin_vec3 p, q;
    if (s->kind == GRADIN_SHAPE_CAPSULE) {
        p = s->as.capsule.a_m;
        q = s->as.capsule.b_m;
        reach = s->as.capsule.radius_m;
    } else {
        p = q = s->as.solid.centre_m;
        reach =
            fmax(s->as.solid.half_up_m, fmax(s->as.solid.half_forward_m, s->as.solid.half_right_m));
    }
    reach += 1e-4;
    a->bounds_o->lower_x = (float)(fmin(p.x, q.x) - reach);
    a->bounds_o->lower_y = (float)(fmin(p.y, q.y) - reach);
    a->bounds_o->lower_z = (float)(fmin(p.z, q.z) - reach);
    a->bounds_o->upper_x = (float)(fmax(p.x, q.x) + reach);
    a->bounds_o->upper_y = (float)(fmax(p.y, q.y) + reach);
    a->bounds_o->upper_z = (float)(fmax(p.z, q.z) + reach);
}

static void occluded(const struct RTCOccludedFunctionNArguments *a) {
    const world *w = a->geometryUserPtr;
    const segment *g = (const segment *)(const void *)a->context;
    const gradin_occluder *o = &w->source->occluder[w->round[a->primID]];
    if (!a->valid[0] || (o->owner >= 0 && o->owner == g->owner)) return;
    bool is_met = o->shape.kind == GRADIN_SHAPE_CAPSULE ? meets_capsule(&o->shape, g)
                                                        : meets_ellipsoid(&o->shape, g);
    if (is_met) ((struct RTCRay *)a->ray)->tfar = -INFINITY;
}

static void hand_over(RTCScene scene, RTCGeometry geometry) {
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(scene, geometry);
    rtcReleaseGeometry(geometry);
}

static void add_triangles(RTCDevice device, RTCScene scene, const gradin_vec3 *corner, int n,
                          const unsigned (*face)[3], int n_face) {
    RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
    float *v = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                       3 * sizeof(float), (size_t)n);
    unsigned *t = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                          3 * sizeof(unsigned), (size_t)n_face);
    for (int i = 0; i < n; i++) {
        v[3 * i] = (float)corner[i].x;
        v[3 * i + 1] = (float)corner[i].y;
        v[3 * i + 2] = (float)corner[i].z;
    }
    for (int i = 0; i < 3 * n_face; i++) t[i] = face[i / 3][i % 3];
    hand_over(scene, g);
}

enum { MAX_CORNER = 64 };

static void add_upright(RTCDevice device, RTCScene scene, const gradin_vec2 *plan, int n,
                        double bottom, double top) {
    gradin_vec3 corner[2 * MAX_CORNER];
    unsigned face[4 * MAX_CORNER][3];
    int n_face = 0;
    for (int i = 0; i < n; i++) {
        unsigned a = (unsigned)i, b = (unsigned)((i + 1) % n), up = (unsigned)n;
        corner[i] = (gradin_vec3){plan[i].x, plan[i].y, bottom};
        corner[n + i] = (gradin_vec3){plan[i].x, plan[i].y, top};
        const unsigned four[4][3] = {
            {a, b, up + b}, {a, up + b, up + a}, {0, a, b}, {up, up + a, up + b}};
        for (int k = 0; k < 4; k++, n_face++)
            for (int j = 0; j < 3; j++) face[n_face][j] = four[k][j];
    }
    add_triangles(device, scene, corner, 2 * n, (const unsigned(*)[3])face, n_face);
}

static void add_flat_faced(RTCDevice device, RTCScene scene, const gradin_shape *s) {
    const unsigned face[1][3] = {{0, 1, 2}};
    gradin_vec2 corner[4];
    if (s->kind == GRADIN_SHAPE_TRIANGLE) {
        add_triangles(device, scene, s->as.triangle.corner_m, 3, face, 1);
    } else if (s->kind == GRADIN_SHAPE_PRISM) {
        add_upright(device, scene, s->as.prism.polygon.corner_m, s->as.prism.polygon.n_corner,
                    s->as.prism.bottom_m, s->as.prism.top_m);
    } else if (s->kind == GRADIN_SHAPE_BOX) {
        gradin_vec3 c = s->as.solid.centre_m;
        gradin_rectangle_corners((gradin_vec2){c.x, c.y},
                                 gradin_bearing_deg(s->as.solid.forward.x, s->as.solid.forward.y),
                                 2.0 * s->as.solid.half_forward_m, 2.0 * s->as.solid.half_right_m,
                                 corner);
        add_upright(device, scene, corner, 4, c.z - s->as.solid.half_up_m,
                    c.z + s->as.solid.half_up_m);
    }
}

bool world_build(world *w, RTCDevice device, const gradin_scene *source) {
    *w = (world){.source = source};
    w->round = malloc(((size_t)source->n_occluder + 1) * sizeof *w->round);
    if (!w->round) return false;
    w->scene = rtcNewScene(device);
    rtcSetSceneFlags(w->scene, RTC_SCENE_FLAG_ROBUST);
    for (int k = 0; k < source->n_occluder; k++) {
        const gradin_shape *s = &source->occluder[k].shape;
        if (s->kind == GRADIN_SHAPE_ELLIPSOID || s->kind == GRADIN_SHAPE_CAPSULE)
            w->round[w->n_round++] = k;
        else
            add_flat_faced(device, w->scene, s);
    }
    RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_USER);
    rtcSetGeometryUserPrimitiveCount(g, w->n_round);
    rtcSetGeometryUserData(g, w);
    rtcSetGeometryBoundsFunction(g, (RTCBoundsFunction)bound, NULL);
    rtcSetGeometryOccludedFunction(g, occluded);
    hand_over(w->scene, g);
    rtcCommitScene(w->scene);
    return true;
}

void world_free(world *w) {
    rtcReleaseScene(w->scene);
    free(w->round);
}

bool world_hides(const world *w, gradin_vec3 eye, gradin_vec3 sample, int owner) {
    segment g = {.eye = eye, .way = gradin_sub(sample, eye), .owner = owner};
    rtcInitIntersectContext(&g.context);
    struct RTCRay ray = {.org_x = (float)eye.x,
                         .org_y = (float)eye.y,
                         .org_z = (float)eye.z,
                         .dir_x = (float)g.way.x,
                         .dir_y = (float)g.way.y,
                         .dir_z = (float)g.way.z,
                         .tfar = (float)(1.0 - WORLD_END),
                         .mask = ~0u};
    rtcOccluded1(w->scene, &g.context, &ray);
    return ray.tfar < 0.0f;
}
