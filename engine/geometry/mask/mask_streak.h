/* geometry/mask/mask_streak.h: between which lines through the eye a box lies on plan. Inline:
 * asked of every leaf of the tree that is met. */
#ifndef GRADIN_GEOMETRY_MASK_STREAK_H
#define GRADIN_GEOMETRY_MASK_STREAK_H

#include "geometry/mask/mask.h"

typedef struct mask_ways {
    float left[2], right[2]; /* to the corners of a box that are farthest left and right */
} mask_ways;

/* From an eye at the origin, left = counter-clockwise; false when it is inside. */
static inline bool gradin_mask_ways(const float low[2], const float high[2], mask_ways *w) {
    bool ahead = low[1] > 0.0f, behind = high[1] < 0.0f;
    /* seen from below the box lies between its sides, from beside it between its ends */
    if (ahead) {
        *w = (mask_ways){{low[0], low[0] > 0.0f ? high[1] : low[1]},
                         {high[0], high[0] > 0.0f ? low[1] : high[1]}};
    } else if (behind) {
        *w = (mask_ways){{high[0], high[0] < 0.0f ? low[1] : high[1]},
                         {low[0], low[0] < 0.0f ? high[1] : low[1]}};
    } else if (low[0] > 0.0f) {
        *w = (mask_ways){{low[0], high[1]}, {low[0], low[1]}};
    } else if (high[0] < 0.0f) {
        *w = (mask_ways){{high[0], low[1]}, {high[0], high[1]}};
    } else {
        return false;
    }
    return true;
}

/* Rows are met aslant; nearly along them the rectangle bounds as well. */
#define MASK_ASLANT 0.1f

/* Slope, columns per row, of the way; what lies right of it (is_right), or left of it. */
static inline void gradin_mask_side(const mask_view *v, const float way[2], bool is_right,
                                    mask_streak *s) {
    const struct gradin_mask_grid *g = v->grid;
    float x = way[0] * g->to_column[0] + way[1] * g->to_column[1];
    float y = way[0] * g->to_row[0] + way[1] * g->to_row[1];
    if (!(fabsf(y) > MASK_ASLANT * fabsf(x))) return;
    float slope = x / y;
    if ((y > 0.0f) == is_right) {
        s->low[1] = slope;
        if (!s->has_low) s->low[0] = slope;
        s->has_low = true;
    } else {
        s->high[1] = slope;
        if (!s->has_high) s->high[0] = slope;
        s->has_high = true;
    }
}

/* Of child k of the node. Filled in place: a copy of what was just written in parts would wait. */
static inline void gradin_mask_streak(const mask_view *v, const bvh_node *node, int k,
                                      mask_streak *s) {
    float low[2], high[2];
    mask_ways w;
    s->has_low = s->has_high = false;
    for (int a = 0; a < 2; a++) {
        low[a] = node->low[a][k] - v->eye_high[a];
        high[a] = node->high[a][k] - v->eye_low[a];
    }
    if (!gradin_mask_ways(low, high, &w)) return;
    gradin_mask_side(v, w.left, true, s);
    gradin_mask_side(v, w.right, false, s);
}

#endif
