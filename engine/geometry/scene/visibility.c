/* First occluder met between one eye and each of many samples.
 *
 * The reference tests every occluder. The quick kernel looks at samples in tiles of 64 and drops,
 * for all samples and then for each tile, the occluders that cannot hide any (geometry/cull.h); the
 * rest are met in order of nearest possible distance, and a tile ends when all of its samples are
 * hidden by something nearer than all that is left. Whatever is not dropped goes through the same
 * gradin_shape_hit() and the same tie rule, so both give the same answer bit for bit. */
#include "geometry/scene/cull.h"

#include <stdlib.h>

enum { TILE = 64 };

static bool is_own(const gradin_occluder *occluder, int owner) {
    return occluder->owner != GRADIN_NO_OWNER && occluder->owner == owner;
}

void gradin_visibility_reference(const gradin_scene *scene, gradin_vec3 eye_m, int owner,
                                 const gradin_vec3 *sample_m, int n_sample, int32_t *first) {
    for (int i = 0; i < n_sample; i++) {
        double nearest = INFINITY, t;
        first[i] = GRADIN_CLEAR;
        for (int k = 0; k < scene->n_occluder; k++) {
            const gradin_occluder *occluder = &scene->occluder[k];
            if (is_own(occluder, owner)) continue;
            if (!gradin_shape_hit(&occluder->shape, eye_m, sample_m[i], &t) || !(t < nearest))
                continue;
            nearest = t;
            first[i] = k;
        }
    }
}

typedef struct sample_tile {
    double x[TILE], y[TILE], z[TILE]; /* unit directions */
    double slope[TILE], length_m[TILE];
    double score[TILE]; /* scratch: direction . candidate */
    double t[TILE];     /* fraction of the nearest hit so far */
} sample_tile;

struct gradin_visibility_scratch {
    cull_box *box;             /* [n_occluder] */
    cull_candidate *candidate; /* [n_occluder] those kept for all samples, by near_m */
    sample_tile tile;
};

gradin_visibility_scratch *gradin_visibility_scratch_create(gradin_arena *arena,
                                                            const gradin_scene *scene) {
    if (!arena || !scene) return NULL;
    size_t n = (size_t)scene->n_occluder;
    gradin_visibility_scratch *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    s->box = gradin_arena_alloc(arena, n, sizeof *s->box);
    s->candidate = gradin_arena_alloc(arena, n, sizeof *s->candidate);
    if (!s->box || !s->candidate) return NULL;
    for (int k = 0; k < scene->n_occluder; k++)
        s->box[k] = gradin_cull_shape_box(&scene->occluder[k].shape);
    return s;
}

static void extend_box(cull_box *box, gradin_vec3 p) {
    box->low = (gradin_vec3){fmin(box->low.x, p.x), fmin(box->low.y, p.y), fmin(box->low.z, p.z)};
    box->high =
        (gradin_vec3){fmax(box->high.x, p.x), fmax(box->high.y, p.y), fmax(box->high.z, p.z)};
}

static double slope_of(gradin_vec3 way) {
    return way.z / sqrt(way.x * way.x + way.y * way.y);
}

static cull_bundle gather(gradin_vec3 eye, const gradin_vec3 *sample, int n) {
    cull_bundle b = {.box = {eye, eye},
                     .sample_low_m = INFINITY,
                     .cos_half = 1.0,
                     .slope_min = INFINITY,
                     .slope_max = -INFINITY};
    gradin_vec3 sum = {0.0, 0.0, 0.0};
    for (int i = 0; i < n; i++) {
        gradin_vec3 way = gradin_sub(sample[i], eye);
        double length = gradin_norm(way);
        extend_box(&b.box, sample[i]);
        b.sample_low_m = fmin(b.sample_low_m, sample[i].z);
        b.far_m = fmax(b.far_m, length);
        if (length > 0.0) sum = gradin_add(sum, gradin_scale(way, 1.0 / length));
        double slope = length > 0.0 ? slope_of(way) : 0.0;
        b.slope_min = fmin(b.slope_min, slope);
        b.slope_max = fmax(b.slope_max, slope);
    }
    double size = gradin_norm(sum);
    if (size > 0.0) b.axis = gradin_scale(sum, 1.0 / size);
    for (int i = 0; i < n; i++) {
        gradin_vec3 way = gradin_sub(sample[i], eye);
        double length = gradin_norm(way);
        double cosine = length > 0.0 ? gradin_dot(way, b.axis) / length : -1.0;
        b.cos_half = fmin(b.cos_half, cosine);
    }
    b.cos_half -= 1e-12;
    b.sin_half = sqrt(fmax(0.0, 1.0 - b.cos_half * b.cos_half));
    b.chord = sqrt(fmax(0.0, 2.0 - 2.0 * b.cos_half));
    return b;
}

static int by_distance(const void *a, const void *b) {
    const cull_candidate *p = a, *q = b;
    if (p->near_m != q->near_m) return p->near_m < q->near_m ? -1 : 1;
    return (p->index > q->index) - (p->index < q->index);
}

static int keep_candidates(const gradin_scene *scene, gradin_vec3 eye, int owner,
                           const cull_bundle *all, gradin_visibility_scratch *s) {
    int n = 0;
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_occluder *occluder = &scene->occluder[k];
        if (is_own(occluder, owner)) continue;
        if (gradin_cull_apart(all, eye, &occluder->shape, s->box[k])) continue;
        cull_candidate c = gradin_cull_look(&occluder->shape, s->box[k], eye);
        c.index = k;
        if (!gradin_cull_outside(all, &c)) s->candidate[n++] = c;
    }
    qsort(s->candidate, (size_t)n, sizeof *s->candidate, by_distance);
    return n;
}

static void fill_tile(sample_tile *tile, gradin_vec3 eye, const gradin_vec3 *sample, int n) {
    for (int i = 0; i < TILE; i++) {
        gradin_vec3 way = gradin_sub(sample[i < n ? i : 0], eye);
        double length = gradin_norm(way), scale = length > 0.0 ? 1.0 / length : 0.0;
        tile->x[i] = way.x * scale;
        tile->y[i] = way.y * scale;
        tile->z[i] = way.z * scale;
        tile->length_m[i] = length;
        tile->slope[i] = length > 0.0 ? slope_of(way) : NAN;
        tile->t[i] = INFINITY;
    }
}

static void score_tile(sample_tile *tile, gradin_vec3 toward) {
    for (int i = 0; i < TILE; i++)
        tile->score[i] = tile->x[i] * toward.x + tile->y[i] * toward.y + tile->z[i] * toward.z;
}

static bool sample_may_meet(const sample_tile *tile, const cull_candidate *c, int i) {
    if (tile->score[i] < c->cos_limit) return false;
    if (tile->slope[i] < c->slope_min || tile->slope[i] > c->slope_max) return false;
    if (c->plane_limit <= 0.0) return true;
    double off = tile->x[i] * c->plane.x + tile->y[i] * c->plane.y + tile->z[i] * c->plane.z;
    return fabs(off) <= c->plane_limit;
}

/* Tests one candidate against the tile's n samples; true when a sample's nearest hit changed. */
static bool meet_candidate(sample_tile *tile, const gradin_shape *shape, const cull_candidate *c,
                           gradin_vec3 eye, const gradin_vec3 *sample, int n, int32_t *first) {
    bool changed = false;
    double t;
    score_tile(tile, c->toward);
    for (int i = 0; i < n; i++) {
        if (!sample_may_meet(tile, c, i)) continue;
        if (tile->t[i] * tile->length_m[i] < c->near_m) continue;
        if (!gradin_shape_hit(shape, eye, sample[i], &t)) continue;
        if (!(t < tile->t[i] || (t == tile->t[i] && c->index < first[i]))) continue;
        tile->t[i] = t;
        first[i] = c->index;
        changed = true;
    }
    return changed;
}

/* Distance beyond which nothing can change the tile's answer. */
static double horizon_m(const sample_tile *tile, int n) {
    double horizon = 0.0;
    for (int i = 0; i < n; i++) horizon = fmax(horizon, tile->t[i] * tile->length_m[i]);
    return horizon;
}

static void see_tile(const gradin_scene *scene, gradin_vec3 eye, const gradin_vec3 *sample, int n,
                     int n_candidate, int32_t *first, gradin_visibility_scratch *s) {
    cull_bundle bundle = gather(eye, sample, n);
    double horizon = INFINITY;
    fill_tile(&s->tile, eye, sample, n);
    for (int i = 0; i < n; i++) first[i] = GRADIN_CLEAR;
    for (int k = 0; k < n_candidate; k++) {
        const cull_candidate *c = &s->candidate[k];
        const gradin_shape *shape = &scene->occluder[c->index].shape;
        if (c->near_m > horizon) break;
        if (gradin_cull_outside(&bundle, c) ||
            gradin_cull_apart(&bundle, eye, shape, s->box[c->index]))
            continue;
        if (meet_candidate(&s->tile, shape, c, eye, sample, n, first))
            horizon = horizon_m(&s->tile, n);
    }
}

void gradin_visibility(const gradin_scene *scene, gradin_vec3 eye_m, int owner,
                       const gradin_vec3 *sample_m, int n_sample, int32_t *first,
                       gradin_visibility_scratch *scratch) {
    cull_bundle all = gather(eye_m, sample_m, n_sample);
    int n_candidate = keep_candidates(scene, eye_m, owner, &all, scratch);
    for (int i = 0; i < n_sample; i += TILE) {
        int n = n_sample - i < TILE ? n_sample - i : TILE;
        see_tile(scene, eye_m, sample_m + i, n, n_candidate, first + i, scratch);
    }
}
