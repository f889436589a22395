/* A scene handed to Embree. */
#include "rays.h"

#include <stdlib.h>

enum { RINGS = 9, SECTORS = 10 };

static void attach(RTCScene to, RTCGeometry geometry) {
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(to, geometry);
    rtcReleaseGeometry(geometry);
}

typedef struct mesh {
    float *vertex;
    unsigned *index;
    unsigned n_vertex, n_triangle;
} mesh;

static unsigned add_vertex(mesh *m, double x, double y, double z) {
    float *v = m->vertex + 3 * (size_t)m->n_vertex;
    v[0] = (float)x;
    v[1] = (float)y;
    v[2] = (float)z;
    return m->n_vertex++;
}

static void add_face(mesh *m, unsigned a, unsigned b, unsigned c) {
    unsigned *t = m->index + 3 * (size_t)m->n_triangle++;
    t[0] = a;
    t[1] = b;
    t[2] = c;
}

static void add_ellipsoid(mesh *m, const gradin_shape *s) {
    gradin_vec2 f = s->as.solid.forward;
    unsigned first = m->n_vertex;
    for (int i = 0; i < RINGS; i++)
        for (int k = 0; k < SECTORS; k++) {
            double tilt = GRADIN_PI * i / (RINGS - 1), turn = 2.0 * GRADIN_PI * k / SECTORS;
            double a = s->as.solid.half_forward_m * sin(tilt) * cos(turn);
            double r = s->as.solid.half_right_m * sin(tilt) * sin(turn);
            gradin_vec3 c = s->as.solid.centre_m;
            add_vertex(m, c.x + a * f.x + r * f.y, c.y + a * f.y - r * f.x,
                       c.z + s->as.solid.half_up_m * cos(tilt));
        }
    for (unsigned i = 0; i + 1 < RINGS; i++)
        for (unsigned k = 0; k < SECTORS; k++) {
            unsigned next = (k + 1) % SECTORS, at = first + i * SECTORS;
            add_face(m, at + k, at + next, at + SECTORS + k);
            add_face(m, at + next, at + SECTORS + next, at + SECTORS + k);
        }
}

/* Walls and caps of a convex upright body. */
static void add_upright(mesh *m, const gradin_vec2 *corner, unsigned n, double bottom, double top) {
    unsigned first = m->n_vertex;
    for (unsigned i = 0; i < n; i++) {
        add_vertex(m, corner[i].x, corner[i].y, bottom);
        add_vertex(m, corner[i].x, corner[i].y, top);
    }
    for (unsigned i = 0; i < n; i++) {
        unsigned a = first + 2 * i, b = first + 2 * ((i + 1) % n);
        add_face(m, a, b, a + 1);
        add_face(m, b, b + 1, a + 1);
        if (i == 0 || i + 1 == n) continue;
        add_face(m, first, a, b);
        add_face(m, first + 1, a + 1, b + 1);
    }
}

static void add_box(mesh *m, const gradin_shape *s) {
    gradin_vec2 corner[4], c = {s->as.solid.centre_m.x, s->as.solid.centre_m.y};
    gradin_rectangle_corners(c, gradin_bearing_deg(s->as.solid.forward.x, s->as.solid.forward.y),
                             2.0 * s->as.solid.half_forward_m, 2.0 * s->as.solid.half_right_m,
                             corner);
    add_upright(m, corner, 4, s->as.solid.centre_m.z - s->as.solid.half_up_m,
                s->as.solid.centre_m.z + s->as.solid.half_up_m);
}

static bool is_sphere(const gradin_shape *s) {
    return s->kind == GRADIN_SHAPE_ELLIPSOID &&
           s->as.solid.half_forward_m == s->as.solid.half_right_m &&
           s->as.solid.half_up_m == s->as.solid.half_right_m;
}

static void add_to_mesh(mesh *m, const gradin_shape *s) {
    unsigned a = m->n_vertex;
    if (s->kind == GRADIN_SHAPE_ELLIPSOID && !is_sphere(s)) {
        add_ellipsoid(m, s);
    } else if (s->kind == GRADIN_SHAPE_BOX) {
        add_box(m, s);
    } else if (s->kind == GRADIN_SHAPE_PRISM) {
        add_upright(m, s->as.prism.polygon.corner_m, (unsigned)s->as.prism.polygon.n_corner,
                    s->as.prism.bottom_m, s->as.prism.top_m);
    } else if (s->kind == GRADIN_SHAPE_TRIANGLE) {
        for (int i = 0; i < 3; i++) {
            gradin_vec3 p = s->as.triangle.corner_m[i];
            add_vertex(m, p.x, p.y, p.z);
        }
        add_face(m, a, a + 1, a + 2);
    }
}

static void count_mesh(const gradin_scene *scene, size_t *n_vertex, size_t *n_triangle) {
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_shape *s = &scene->occluder[k].shape;
        size_t n = s->kind == GRADIN_SHAPE_PRISM ? (size_t)s->as.prism.polygon.n_corner : 4;
        bool is_small = s->kind == GRADIN_SHAPE_TRIANGLE,
             is_round = s->kind == GRADIN_SHAPE_ELLIPSOID;
        *n_vertex += is_small ? 3 : is_round ? RINGS * SECTORS : 2 * n;
        *n_triangle += is_small ? 1 : is_round ? 2 * RINGS * SECTORS : 4 * n;
    }
}

static void add_meshes(RTCDevice device, RTCScene to, const gradin_scene *scene) {
    size_t n_vertex = 0, n_triangle = 0;
    count_mesh(scene, &n_vertex, &n_triangle);
    mesh m = {malloc(n_vertex * 3 * sizeof(float)), malloc(n_triangle * 3 * sizeof(unsigned)), 0,
              0};
    if (!m.vertex || !m.index) abort();
    for (int k = 0; k < scene->n_occluder; k++) add_to_mesh(&m, &scene->occluder[k].shape);
    if (m.n_triangle > 0) {
        RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
        float *v = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                           3 * sizeof(float), m.n_vertex);
        unsigned *t = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                              3 * sizeof(unsigned), m.n_triangle);
        for (size_t i = 0; i < 3 * (size_t)m.n_vertex; i++) v[i] = m.vertex[i];
        for (size_t i = 0; i < 3 * (size_t)m.n_triangle; i++) t[i] = m.index[i];
        attach(to, g);
    }
    free(m.vertex);
    free(m.index);
}

static void put_ball(float *v, gradin_vec3 p, double radius) {
    v[0] = (float)p.x;
    v[1] = (float)p.y;
    v[2] = (float)p.z;
    v[3] = (float)radius;
}

static void add_spheres(RTCDevice device, RTCScene to, const gradin_scene *scene) {
    unsigned n = 0, at = 0;
    for (int k = 0; k < scene->n_occluder; k++) n += is_sphere(&scene->occluder[k].shape);
    if (n == 0) return;
    RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_SPHERE_POINT);
    float *v = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4,
                                       4 * sizeof(float), n);
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_shape *s = &scene->occluder[k].shape;
        if (is_sphere(s)) put_ball(v + 4 * at++, s->as.solid.centre_m, s->as.solid.half_up_m);
    }
    attach(to, g);
}

static void add_bars(RTCDevice device, RTCScene to, const gradin_scene *scene) {
    unsigned n = 0, at = 0;
    for (int k = 0; k < scene->n_occluder; k++)
        n += scene->occluder[k].shape.kind == GRADIN_SHAPE_CAPSULE;
    if (n == 0) return;
    RTCGeometry g = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_ROUND_LINEAR_CURVE);
    float *v = rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4,
                                       4 * sizeof(float), 2 * (size_t)n);
    unsigned *first =
        rtcSetNewGeometryBuffer(g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT, sizeof(unsigned), n);
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_shape *s = &scene->occluder[k].shape;
        if (s->kind != GRADIN_SHAPE_CAPSULE) continue;
        first[at] = 2 * at;
        put_ball(v + 8 * (size_t)at, s->as.capsule.a_m, s->as.capsule.radius_m);
        put_ball(v + 8 * (size_t)at++ + 4, s->as.capsule.b_m, s->as.capsule.radius_m);
    }
    attach(to, g);
}

RTCScene rays_build(RTCDevice device, const gradin_scene *scene) {
    RTCScene to = rtcNewScene(device);
    rtcSetSceneBuildQuality(to, RTC_BUILD_QUALITY_HIGH);
    add_meshes(device, to, scene);
    add_spheres(device, to, scene);
    add_bars(device, to, scene);
    rtcCommitScene(to);
    return to;
}
