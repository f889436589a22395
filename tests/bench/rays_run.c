/* Embree's four ways to trace the rays of a seat. A ray starts OWN_M from the eye, past the
 * person's own body, which costs Embree nothing; a filter would. */
#include "rays.h"

#include <string.h>
#include <time.h>

enum { MAX_RAY = 65536 };
#define OWN_M 0.45

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static struct RTCRay make_ray(gradin_vec3 eye, gradin_vec3 sample) {
    gradin_vec3 way = gradin_sub(sample, eye);
    struct RTCRay r = {.org_x = (float)eye.x,
                       .org_y = (float)eye.y,
                       .org_z = (float)eye.z,
                       .tnear = (float)(OWN_M / gradin_norm(way)),
                       .dir_x = (float)way.x,
                       .dir_y = (float)way.y,
                       .dir_z = (float)way.z,
                       .tfar = 1.0f - 1e-5f,
                       .mask = ~0u};
    return r;
}

#define SET_LANE(packet, lane, ray)                                                                \
    do {                                                                                           \
        (packet).org_x[lane] = (ray).org_x;                                                        \
        (packet).org_y[lane] = (ray).org_y;                                                        \
        (packet).org_z[lane] = (ray).org_z;                                                        \
        (packet).tnear[lane] = (ray).tnear;                                                        \
        (packet).dir_x[lane] = (ray).dir_x;                                                        \
        (packet).dir_y[lane] = (ray).dir_y;                                                        \
        (packet).dir_z[lane] = (ray).dir_z;                                                        \
        (packet).time[lane] = 0.0f;                                                                \
        (packet).tfar[lane] = (ray).tfar;                                                          \
        (packet).mask[lane] = (ray).mask;                                                          \
        (packet).id[lane] = 0;                                                                     \
        (packet).flags[lane] = 0;                                                                  \
    } while (0)

static struct RTCRayHit one[MAX_RAY];
static struct RTCRay ray_only[MAX_RAY];
static struct RTCRayHit8 eight[MAX_RAY / 8];
static struct RTCRayHit16 sixteen[MAX_RAY / 16];

static void fill(gradin_vec3 eye, const gradin_vec3 *sample, int n) {
    for (int i = 0; i < n; i++) {
        one[i].ray = ray_only[i] = make_ray(eye, sample[i]);
        one[i].hit.geomID = RTC_INVALID_GEOMETRY_ID;
        one[i].hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
        SET_LANE(eight[i / 8].ray, i % 8, one[i].ray);
        SET_LANE(sixteen[i / 16].ray, i % 16, one[i].ray);
        eight[i / 8].hit.geomID[i % 8] = RTC_INVALID_GEOMETRY_ID;
        sixteen[i / 16].hit.geomID[i % 16] = RTC_INVALID_GEOMETRY_ID;
    }
}

static const _Alignas(64) int all_lanes[16] = {-1, -1, -1, -1, -1, -1, -1, -1,
                                               -1, -1, -1, -1, -1, -1, -1, -1};

static void last_lanes(int *valid, int n) {
    for (int i = 0; i < 16; i++) valid[i] = i < n ? -1 : 0;
}

static void trace_packets(RTCScene scene, struct RTCIntersectContext *context, int n, int width,
                          bool want_first) {
    _Alignas(64) int valid[16];
    for (int i = 0; i < n; i += width) {
        const int *lanes = all_lanes;
        if (n - i < width) {
            last_lanes(valid, n - i);
            lanes = valid;
        }
        if (width == 8 && want_first)
            rtcIntersect8(lanes, scene, context, &eight[i / 8]);
        else if (width == 8)
            rtcOccluded8(lanes, scene, context, &eight[i / 8].ray);
        else if (want_first)
            rtcIntersect16(lanes, scene, context, &sixteen[i / 16]);
        else
            rtcOccluded16(lanes, scene, context, &sixteen[i / 16].ray);
    }
}

static void trace(RTCScene scene, int n, rays_mode mode, bool want_first) {
    struct RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
    if (mode == RAYS_STREAM && want_first)
        rtcIntersect1M(scene, &context, one, (unsigned)n, sizeof one[0]);
    else if (mode == RAYS_STREAM)
        rtcOccluded1M(scene, &context, ray_only, (unsigned)n, sizeof ray_only[0]);
    else if (mode != RAYS_SINGLE)
        trace_packets(scene, &context, n, mode == RAYS_PACKET_8 ? 8 : 16, want_first);
    else
        for (int i = 0; i < n; i++) {
            if (want_first)
                rtcIntersect1(scene, &context, &one[i]);
            else
                rtcOccluded1(scene, &context, &ray_only[i]);
        }
}

static bool is_clear(int i, rays_mode mode, bool want_first) {
    if (mode == RAYS_PACKET_8)
        return want_first ? eight[i / 8].hit.geomID[i % 8] == RTC_INVALID_GEOMETRY_ID
                          : eight[i / 8].ray.tfar[i % 8] > 0.0f;
    if (mode == RAYS_PACKET_16)
        return want_first ? sixteen[i / 16].hit.geomID[i % 16] == RTC_INVALID_GEOMETRY_ID
                          : sixteen[i / 16].ray.tfar[i % 16] > 0.0f;
    return want_first ? one[i].hit.geomID == RTC_INVALID_GEOMETRY_ID : ray_only[i].tfar > 0.0f;
}

rays_result rays_run(RTCScene scene, const bench_hall *hall, rays_mode mode, bool want_first,
                     double *best_s) {
    rays_result r = {0};
    for (int seat = 0; seat < hall->n_seat; seat++) {
        double taken_s = 0.0;
        for (int area = 0; area < hall->n_area; area++) {
            int n = hall->n_sample[area];
            fill(hall->eye_m[seat], hall->sample_m[area], n);
            double start = now_s();
            trace(scene, n, mode, want_first);
            taken_s += now_s() - start;
            r.n_ray += n;
            for (int i = 0; i < n; i++) r.n_clear += is_clear(i, mode, want_first);
        }
        best_s[seat] = fmin(best_s[seat], taken_s);
        r.seconds += best_s[seat];
    }
    return r;
}
