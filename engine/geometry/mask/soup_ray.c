/* One segment through the triangles: boxes and groups in single precision with slack, sixteen at a
 * time, nearest first; what that leaves open is asked exactly. */
#include "geometry/mask/mask.h"

#define LEAST_WAY 1e-20f

static float away_from_zero(float x) {
    if (x >= 0.0f) return x > LEAST_WAY ? x : LEAST_WAY;
    return x < -LEAST_WAY ? x : -LEAST_WAY;
}

/* Rounding of the way turns it by less than the slack of every test. */
soup_ray gradin_soup_way(gradin_vec3 eye, gradin_vec3 target) {
    return (soup_ray){.inverse = {1.0f / away_from_zero((float)(target.x - eye.x)),
                                  1.0f / away_from_zero((float)(target.y - eye.y)),
                                  1.0f / away_from_zero((float)(target.z - eye.z))},
                      .limit = 1.0f};
}

/* The same and what groups need, written in place: a copy would wait for what has just been stored
 * in parts. */
static inline void set_ray(soup_ray *r, gradin_vec3 eye, gradin_vec3 target) {
    float way[3] = {(float)(target.x - eye.x), (float)(target.y - eye.y),
                    (float)(target.z - eye.z)};
    int z = fabsf(way[0]) > fabsf(way[1]) ? 0 : 1;
    z = fabsf(way[z]) > fabsf(way[2]) ? z : 2;
    for (int a = 0; a < 3; a++) {
        way[a] = away_from_zero(way[a]);
        r->inverse[a] = 1.0f / way[a];
    }
    r->limit = 1.0f;
    r->z = z;
    r->x = z == 2 ? 0 : z + 1;
    r->y = z == 0 ? 2 : z - 1;
    r->shear_x = way[r->x] * r->inverse[z];
    r->shear_y = way[r->y] * r->inverse[z];
    r->reach_m = fabsf(way[z]);
    r->forward = way[z] < 0.0f ? -1.0f : 1.0f;
}

soup_ray gradin_soup_ray(gradin_vec3 eye, gradin_vec3 target) {
    soup_ray r;
    set_ray(&r, eye, target);
    return r;
}

soup_eye gradin_soup_eye(float reach_m, gradin_vec3 eye) {
    soup_eye e = {.eye_m = eye, .at_m = {eye.x, eye.y, eye.z}};
    double most = fmax(fabs(eye.x), fmax(fabs(eye.y), fabs(eye.z)));
    double slack = 1e-6 * (most + (double)reach_m);
    for (int a = 0; a < 3; a++) {
        e.low_m[a] = (float)(e.at_m[a] - slack);
        e.high_m[a] = (float)(e.at_m[a] + slack);
    }
    return e;
}

void gradin_soup_start(soup_search *s, const soup_job *job, gradin_vec3 target) {
    s->target_m = target;
    set_ray(&s->ray, job->eye.eye_m, target);
    s->first = GRADIN_CLEAR;
    s->n_left = job->soup->tree.n_node > 0;
    s->left[0].enter = 0.0f;
    s->left[0].child = 0;
}

double gradin_soup_entry(const soup_search *s, const soup_job *job, int32_t index) {
    double t;
    const gradin_shape *shape = &job->soup->occluder[index].shape;
    return gradin_shape_hit(shape, job->eye.eye_m, s->target_m, &t) ? t : INFINITY;
}

static float less(float x) {
    return x * (1.0f - 1e-6f);
}
static float more(float x) {
    return x * (1.0f + 1e-6f);
}

/* Holds the triangle as first so far; t is its entry or NAN when the bounds have to do. */
static void hold(soup_search *s, int32_t index, float near, float far, double t) {
    bool is_exact = !isnan(t);
    s->first = index;
    s->t = t;
    s->near = is_exact ? less((float)t) : less(near);
    s->far = is_exact ? more((float)t) : more(far);
    s->ray.limit = fminf(s->ray.limit, s->far);
}

/* A triangle that is met, for sure when t is NAN: is it first? */
static void meet(soup_search *s, const soup_job *job, int32_t index, float near, float far,
                 double t) {
    if (s->first == GRADIN_CLEAR || more(far) < s->near) {
        hold(s, index, near, far, t);
        return;
    }
    if (less(near) > s->far) return;
    if (isnan(t)) t = gradin_soup_entry(s, job, index);
    if (isnan(s->t)) hold(s, s->first, s->near, s->far, gradin_soup_entry(s, job, s->first));
    if (t < s->t || (t == s->t && index < s->first)) hold(s, index, near, far, t);
}

static void meet_group(soup_search *s, const soup_job *job, int group) {
    const int32_t *index = job->soup->original + (size_t)SOUP_WIDTH * (size_t)group;
    soup_met met;
    job->table->group(&job->eye, &s->ray, &job->soup->group[group], &met);
    for (uint32_t left = met.sure; left; left &= left - 1) {
        int k = __builtin_ctz(left);
        meet(s, job, index[k], met.near[k], met.far[k], NAN);
        if (job->is_any) return;
    }
    for (uint32_t left = met.doubt; left; left &= left - 1) {
        int32_t k = index[__builtin_ctz(left)];
        double t = gradin_soup_entry(s, job, k);
        if (t == INFINITY) continue;
        meet(s, job, k, (float)t, (float)t, t);
        if (job->is_any) return;
    }
}

/* Puts the children that may be met on the pile, the nearest on top. */
static void open_node(soup_search *s, const soup_job *job, int at) {
    const bvh_node *node = &job->soup->tree.node[at];
    float enter[BVH_WAYS];
    int low = s->n_left;
    for (uint32_t alive = job->table->boxes(&job->eye, &s->ray, node, enter); alive;
         alive &= alive - 1) {
        int k = __builtin_ctz(alive), i = s->n_left++;
        for (; i > low && s->left[i - 1].enter < enter[k]; i--) s->left[i] = s->left[i - 1];
        s->left[i].enter = enter[k];
        s->left[i].child = node->child[k];
    }
}

static void fetch_next(const soup_search *s, const soup_set *soup) {
    int child = s->left[s->n_left - 1].child;
    const char *from =
        child < 0 ? (const char *)&soup->group[-1 - child] : (const char *)&soup->tree.node[child];
    size_t size = child < 0 ? sizeof(soup_group) : sizeof(bvh_node);
    for (size_t byte = 0; byte < size; byte += 64) __builtin_prefetch(from + byte);
}

bool gradin_soup_step(soup_search *s, const soup_job *job) {
    if (s->n_left == 0) return false;
    int child = s->left[--s->n_left].child;
    if (child < 0)
        meet_group(s, job, -1 - child);
    else
        open_node(s, job, child);
    if (job->is_any && s->first != GRADIN_CLEAR) return false;
    while (s->n_left > 0 && s->left[s->n_left - 1].enter > s->ray.limit) s->n_left--;
    if (s->n_left == 0) return false;
    fetch_next(s, job->soup);
    return true;
}
