/* geometry/mask/soup_loops.h: the loops of triangle groups; part of mask_loops.h.
 *
 * Corners are seen along the ray: sheared so that it becomes the axis z (S. Woop, C. Benthin,
 * I. Wald, Watertight ray/triangle intersection, J. Computer Graphics Techniques 2(1), 2013; from
 * memory), the three cross products of neighbouring corners then say on which side of each edge it
 * passes. Every place is off by less than `off`: rounding of sums up to the largest coordinate from
 * the eye, and half a step of the 16-bit corner. */
#ifndef GRADIN_GEOMETRY_SOUP_LOOPS_H
#define GRADIN_GEOMETRY_SOUP_LOOPS_H

static uint32_t boxes(const soup_eye *eye, const soup_ray *r, const bvh_node *node, float *enter) {
    lanes in = lanes_all(0.0f), out = lanes_all(r->limit);
    for (int a = 0; a < 3; a++) {
        lanes inverse = lanes_all(r->inverse[a]);
        lanes low = lanes_sub(lanes_load(node->low[a]), lanes_all(eye->high_m[a]));
        lanes high = lanes_sub(lanes_load(node->high[a]), lanes_all(eye->low_m[a]));
        low = lanes_mul(low, inverse);
        high = lanes_mul(high, inverse);
        in = lanes_max(in, lanes_min(low, high));
        out = lanes_min(out, lanes_max(low, high));
    }
    in = lanes_mul(in, lanes_all(1.0f - 2.0f * ROUNDING));
    lanes_store(enter, in);
    return lanes_below(in, lanes_mul(out, lanes_all(1.0f + 2.0f * ROUNDING)));
}

typedef struct soup_corner {
    lanes x, y, z; /* z along the ray, from the eye; x and y from the ray */
} soup_corner;

static inline lanes coordinate(const soup_group *g, const float *base_m, int axis, int corner) {
    lanes at = lanes_mul(lanes_load_16(g->at[axis][corner]), lanes_all(g->step_m[axis]));
    return lanes_add(at, lanes_all(base_m[axis]));
}

static inline soup_corner see_corner(const soup_ray *r, const soup_group *g, const float *base_m,
                                     int corner) {
    lanes z = coordinate(g, base_m, r->z, corner);
    lanes x = coordinate(g, base_m, r->x, corner), y = coordinate(g, base_m, r->y, corner);
    return (soup_corner){lanes_sub(x, lanes_mul(z, lanes_all(r->shear_x))),
                         lanes_sub(y, lanes_mul(z, lanes_all(r->shear_y))),
                         lanes_mul(z, lanes_all(r->forward))};
}

static inline lanes three_min(lanes a, lanes b, lanes c) {
    return lanes_min(lanes_min(a, b), c);
}
static inline lanes three_max(lanes a, lanes b, lanes c) {
    return lanes_max(lanes_max(a, b), c);
}
static inline lanes cross(soup_corner a, soup_corner b) {
    return lanes_sub(lanes_mul(a.x, b.y), lanes_mul(b.x, a.y));
}
static inline lanes aside(soup_corner a) {
    return lanes_max(lanes_abs(a.x), lanes_abs(a.y));
}

/* The group's low corner from the eye, and how far off a corner's place may be. */
static inline float place_group(const soup_eye *eye, const soup_group *g, float *base_m) {
    float most = 0.0f, step = 0.0f;
    for (int a = 0; a < 3; a++) {
        base_m[a] = (float)((double)g->low_m[a] - eye->at_m[a]);
        float far = fabsf(base_m[a]) + 65535.0f * g->step_m[a];
        most = far > most ? far : most;
        step = g->step_m[a] > step ? g->step_m[a] : step;
    }
    return ROUNDING * most + 1.01f * step;
}

static void group(const soup_eye *eye, const soup_ray *r, const soup_group *g, soup_met *out) {
    float base_m[3], off = place_group(eye, g, base_m), end = r->reach_m * r->limit;
    soup_corner a = see_corner(r, g, base_m, 0), b = see_corner(r, g, base_m, 1);
    soup_corner c = see_corner(r, g, base_m, 2);
    lanes u = cross(a, b), v = cross(b, c), w = cross(c, a);
    lanes low = three_min(u, v, w), high = three_max(u, v, w);
    lanes wide = three_max(aside(a), aside(b), aside(c));
    lanes slack =
        lanes_mul(wide, lanes_add(lanes_all(4.0f * off), lanes_mul(wide, lanes_all(ROUNDING))));
    slack = lanes_add(slack, lanes_all(2.0f * off * off + g->edge_on_m2));
    lanes below = lanes_sub(lanes_all(0.0f), slack);
    lanes near = three_min(a.z, b.z, c.z), far = three_max(a.z, b.z, c.z);

    uint32_t apart = (lanes_below(low, below) & lanes_below(slack, high)) |
                     lanes_below(far, lanes_all(-off)) |
                     lanes_below(lanes_all(end * (1.0f + ROUNDING) + off), near);
    uint32_t inside = (lanes_below(slack, low) | lanes_below(high, below)) &
                      lanes_below(lanes_all(off + ROUNDING * r->reach_m), near) &
                      lanes_below(far, lanes_all(end * (1.0f - 2.0f * ROUNDING) - off));
    out->sure = inside & g->used & ~(uint32_t)g->thin;
    out->doubt = ((~apart & g->used) | g->thin) & ~out->sure;
    lanes share = lanes_all(1.0f / r->reach_m);
    lanes_store(out->near, lanes_mul(lanes_sub(near, lanes_all(off)), share));
    lanes_store(out->far, lanes_mul(lanes_add(far, lanes_all(off)), share));
}

#endif
