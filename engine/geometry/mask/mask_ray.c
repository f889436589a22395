/* Segments one by one, for samples that lie on no grid of a plane: down the tree of boxes, sixteen
 * boxes at a time in single precision with slack; what may be met is asked of gradin_shape_hit(),
 * so the answer is that of gradin_visibility_reference() bit for bit. Where nobody's name is
 * wanted, a ray first asks what ended the one before it, if anything did: rays come side by side.
 */
#include "geometry/mask/mask_ray.h"
#include "geometry/plan/plan.h"

static gradin_vec3 turned(gradin_vec3 p, gradin_vec2 along) {
    gradin_vec2 q = plan_into((gradin_vec2){p.x, p.y}, along);
    return (gradin_vec3){q.x, q.y, p.z};
}

ray_job gradin_ray_job(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner, bool is_any) {
    gradin_vec3 edgewise = turned(eye_m, scene->lie.edge);
    const mask_table *table = gradin_mask_table();
    return (ray_job){
        .scene = scene,
        .table = table,
        .eye_m = eye_m,
        .edgewise_eye_m = edgewise,
        .eye = gradin_soup_eye(scene->tree.reach_m, edgewise),
        .soup = {&scene->soup, table, gradin_soup_eye(scene->soup.tree.reach_m, eye_m), is_any},
        .owner = owner,
        .is_any = is_any,
        .last = -1};
}

void gradin_ray_meet(ray_search *s, int k) {
    const gradin_mask_scene *scene = s->job->scene;
    const gradin_occluder *o = &scene->exact[scene->original[k]];
    double t;
    if (o->owner != GRADIN_NO_OWNER && o->owner == s->job->owner) return;
    if (!gradin_shape_hit(&o->shape, s->job->eye_m, s->target_m, &t)) return;
    if (s->holder >= 0 &&
        !(t < s->nearest || (t == s->nearest && scene->original[k] < scene->original[s->holder])))
        return;
    s->holder = k;
    s->nearest = t;
    /* above 0, or boxes that hold the eye too would not be opened */
    s->ray.limit = fminf(1.0f, (float)t * (1.0f + 1e-6f) + 1e-9f);
}

static bool is_done(const ray_search *s) {
    return s->job->is_any && s->holder >= 0;
}

/* Asks the leaves that may be met and puts the nodes on the pile, the nearest on top. */
static void open_node(ray_search *s, int at) {
    const bvh_node *node = &s->job->scene->tree.node[at];
    float enter[BVH_WAYS];
    int low = s->n_left;
    uint32_t alive = s->job->table->boxes(&s->job->eye, &s->ray, node, enter);
    for (; alive && !is_done(s); alive &= alive - 1) {
        int k = __builtin_ctz(alive);
        if (node->child[k] < 0) {
            if (enter[k] <= s->ray.limit) gradin_ray_meet(s, -1 - node->child[k]);
            continue;
        }
        int i = s->n_left++;
        for (; i > low && s->left[i - 1].enter < enter[k]; i--) s->left[i] = s->left[i - 1];
        s->left[i].enter = enter[k];
        s->left[i].child = node->child[k];
    }
}

void gradin_ray_search_tree(ray_search *s) {
    if (s->job->scene->tree.n_node == 0) return;
    s->left[0].enter = 0.0f;
    s->left[0].child = 0;
    s->n_left = 1;
    while (s->n_left > 0 && !is_done(s)) {
        int top = --s->n_left;
        if (s->left[top].enter <= s->ray.limit) open_node(s, s->left[top].child);
    }
}

/* The first triangle of the soup, by its index in the caller's scene; *t its entry. */
static int32_t search_soup(const ray_job *job, gradin_vec3 target_m, double *t) {
    soup_search s;
    if (job->scene->soup.n_group == 0) return GRADIN_CLEAR;
    gradin_soup_start(&s, &job->soup, target_m);
    while (gradin_soup_step(&s, &job->soup)) continue;
    if (s.first == GRADIN_CLEAR || job->is_any) return s.first;
    *t = isnan(s.t) ? gradin_soup_entry(&s, &job->soup, s.first) : s.t;
    return s.first;
}

/* The pile is left as it is: to clear it takes as long as to search a small tree. */
void gradin_ray_start(ray_search *s, const ray_job *job, gradin_vec3 target_m) {
    s->job = job;
    s->target_m = target_m;
    s->ray = gradin_soup_way(job->edgewise_eye_m, turned(target_m, job->scene->lie.edge));
    s->holder = -1;
    s->nearest = INFINITY;
    s->n_left = 0;
}

int32_t gradin_ray_end(const ray_search *s, double *entry) {
    const ray_job *job = s->job;
    int32_t first = s->holder >= 0 ? job->scene->original[s->holder] : GRADIN_CLEAR;
    double t = INFINITY;
    if (entry) *entry = s->nearest;
    if (is_done(s)) return first;
    int32_t other = search_soup(job, s->target_m, &t);
    if (other == GRADIN_CLEAR) return first;
    if (first != GRADIN_CLEAR && (s->nearest < t || (s->nearest == t && first < other)))
        return first;
    if (entry) *entry = t;
    return other;
}

int32_t gradin_ray_first(ray_job *job, gradin_vec3 target_m) {
    ray_search s;
    gradin_ray_start(&s, job, target_m);
    if (job->is_any && job->last >= 0) gradin_ray_meet(&s, job->last);
    if (!is_done(&s)) gradin_ray_search_tree(&s);
    job->last = s.holder;
    return gradin_ray_end(&s, NULL);
}

int gradin_rays_clear(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner,
                      const gradin_vec3 *point_m, int n, bool *clear) {
    int n_clear = 0;
    if (!scene || !point_m) return 0;
    ray_job job = gradin_ray_job(scene, eye_m, owner, true);
    for (int i = 0; i < n; i++) {
        bool is_clear = gradin_ray_first(&job, point_m[i]) == GRADIN_CLEAR;
        n_clear += is_clear;
        if (clear) clear[i] = is_clear;
    }
    return n_clear;
}

void gradin_rays_first(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner,
                       const gradin_vec3 *point_m, int n, int32_t *first) {
    if (!scene || !point_m || !first) return;
    ray_job job = gradin_ray_job(scene, eye_m, owner, false);
    for (int i = 0; i < n; i++) first[i] = gradin_ray_first(&job, point_m[i]);
}
