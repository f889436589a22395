/* geometry/mask/beam_loops.h: sixteen boxes and a pyramid of rays; part of mask_loops.h.
 *
 * A box lies beyond a side when its corner farthest towards the inside does (separating planes,
 * elementary geometry). The sums of a side carry a slack above their rounding. */
#ifndef GRADIN_GEOMETRY_BEAM_LOOPS_H
#define GRADIN_GEOMETRY_BEAM_LOOPS_H

#define BEAM_SLACK 1e-5f /* of sums and distances */

/* The largest a x over low <= x <= high. */
static inline lanes most_of(float a, lanes low, lanes high) {
    return lanes_mul(lanes_all(a), a > 0.0f ? high : low);
}

static uint32_t inside_side(const float n[3], const lanes low[3], const lanes high[3]) {
    lanes x = most_of(n[0], low[0], high[0]), y = most_of(n[1], low[1], high[1]);
    lanes z = most_of(n[2], low[2], high[2]);
    lanes size = lanes_add(lanes_add(lanes_abs(x), lanes_abs(y)), lanes_abs(z));
    lanes sum = lanes_add(lanes_add(x, y), z);
    return ~lanes_below(sum, lanes_mul(size, lanes_all(-BEAM_SLACK)));
}

static uint32_t pyramid(const soup_eye *eye, const beam_pyramid *p, const bvh_node *node,
                        float *near_m) {
    lanes low[3], high[3], near2 = lanes_all(0.0f);
    for (int a = 0; a < 3; a++) {
        low[a] = lanes_sub(lanes_load(node->low[a]), lanes_all(eye->high_m[a]));
        high[a] = lanes_sub(lanes_load(node->high[a]), lanes_all(eye->low_m[a]));
        lanes gap = lanes_max(low[a], lanes_sub(lanes_all(0.0f), high[a]));
        gap = lanes_max(gap, lanes_all(0.0f));
        near2 = lanes_add(near2, lanes_mul(gap, gap));
    }
    uint32_t alive = lanes_below(lanes_load(node->low[0]), lanes_all(0.5f * BVH_EMPTY));
    for (int i = 0; i < 4; i++) alive &= inside_side(p->side[i], low, high);
    lanes_store(near_m, lanes_mul(lanes_sqrt(near2), lanes_all(1.0f - BEAM_SLACK)));
    return alive;
}

#endif
