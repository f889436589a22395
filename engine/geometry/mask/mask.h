/* geometry/mask/mask.h: the inside of the mask kernel. A grid of samples on a plane, level on plan
 * in its spacing, is kept as bits: strips of 32 columns, one word per row; word
 * [strip * n_stride + row], bit = column. A body seen from the eye throws a shadow on the plane;
 * the shadow is cut into pieces of which each row meets one interval.
 *
 * A plane that rises is made level by a shear: every height is told from the plane below or above
 * its place. Plans, lines, planes and fractions of a way stay what they are; balls and boxes do
 * not, so that forms are sheared and boxes widened.
 *
 * A square grid whose rows lie far askew to the edges is taken by its diagonals, which lie nearer
 * to them: rows 0.7 of the spacing apart with samples 1.4 of it apart, every other row half a
 * column late. 32 by 32 samples fill 26 columns of 51 rows then, where their own rows askew would
 * need 45 by 45 places and a band along an edge most of them. */
#ifndef GRADIN_GEOMETRY_MASK_H
#define GRADIN_GEOMETRY_MASK_H

#include "geometry/mask/soup.h"

/* The mask's rows as they lie in a square grid of samples: a row's neighbours are x steps along the
 * grid's rows and y across them apart: (1, 0), or a diagonal. */
typedef struct mask_way {
    int x, y;
} mask_way;

struct gradin_mask_grid {
    bool is_regular;
    gradin_lie lie;
    mask_way way;
    gradin_vec2
        first_m;      /* sample of column 0 of a row that is not late, at row 0, in their frame */
    double spacing_m; /* of the square grid */
    double z_m;       /* of the plane at first_m */
    bool is_tilted;
    gradin_vec2 rise;          /* of the plane per m, in the frame of the rows */
    float edgewise_rise[2];    /* in the frame of the edges */
    double column_m, row_m;    /* of the mask's columns and rows */
    float late[16], most_late; /* row j begins late[j & 15] of a column after first_m */
    /* what every eye needs of them */
    double columns_per_m, rows_per_m, row_in_columns;
    float to_column[2], to_row[2]; /* columns and rows per spacing along the edge and across it */
    float from_column[2], from_row[2]; /* spacings along the edge and across it per column, row */
    float inverse_spacing;
    int n_column, n_row, n_strip, n_stride; /* n_stride: n_row rounded up to 16 */
    const uint32_t *valid;                  /* [n_strip][n_stride] where samples are */
    const int32_t *index;                   /* [n_row][n_column] sample there, -1 none */
    const gradin_vec3 *sample_m;            /* [n_sample] caller's */
    int n_sample;
    gradin_vec3 low_m, high_m; /* box of the samples in the frame of the edges */
};

/* Grid columns and rows, ends included. */
typedef struct mask_rect {
    int column_low, column_high, row_low, row_high;
} mask_rect;

static inline int gradin_mask_size(mask_rect rect) {
    return (rect.column_high - rect.column_low + 1) * (rect.row_high - rect.row_low + 1);
}

/* Sixteen rows at a time from here on hold the rectangle and end within the strip; even, so that
 * late[] fits. */
static inline int gradin_mask_from(const struct gradin_mask_grid *g, mask_rect rect) {
    int from = rect.row_low & ~1, end = from + ((rect.row_high - from) | 15) + 1;
    return end > g->n_stride ? from - (end - g->n_stride) : from;
}

/* Columns of the rectangle within one strip. */
static inline uint32_t gradin_mask_columns(mask_rect rect, int strip) {
    int low = rect.column_low - 32 * strip, high = rect.column_high - 32 * strip;
    uint32_t from = low > 0 ? UINT32_MAX << low : UINT32_MAX;
    return high < 31 ? from & ((2u << high) - 1u) : from;
}

/* One eye before one grid. */
typedef struct mask_view {
    const struct gradin_mask_grid *grid;
    gradin_vec3 eye_m; /* in the frame of the rows */
    double x_m, y_m;   /* grid->first_m from the eye */
    double z_m;        /* the samples' plane above the eye, where it passes the eye on plan */
    double nearest_m;  /* no sample is nearer to the eye */
    /* for boxes, in the frame of the edges, in float with slack */
    float eye_low[3], eye_high[3], inverse_z, slack;
    float from[2], to[2];    /* box of the samples from the eye, in spacings */
    float column_at, row_at; /* grid->first_m from the eye, in columns and rows */
} mask_view;

/* Roots p, q of a row's discriminant and the middle of its interval, linear in the row j: interval
 * mid +- gain sqrt(D), D = p q (p and q not both negative), or a half line from there on with
 * D = p p + square. */
typedef struct mask_conic {
    float p, p_step, q, q_step, square;
    float mid, mid_step, gain;
    float slack; /* columns */
    float root_slack;
    int side; /* 0 interval, +1 half line to higher columns, -1 to lower */
} mask_conic;

enum { MASK_SIDES = 36 };

/* Convex polygon: above all lines of low, below all lines of high (column = at + step j), between
 * rows. */
typedef struct mask_wedge {
    int n_low, n_high;
    struct {
        float at, step, slack;
    } low[MASK_SIDES], high[MASK_SIDES];
    float row_low, row_high;           /* rows that may be met */
    float sure_row_low, sure_row_high; /* rows that are met whatever the rounding */
} mask_wedge;

typedef enum mask_form {
    MASK_NOTHING, /* hides no sample */
    MASK_PIECES,
    MASK_BY_SAMPLE /* ask gradin_shape_hit() */
} mask_form;

typedef struct mask_shadow {
    int n_conic;
    bool has_wedge;
    /* the body stands in the plane: its pieces hold beyond, it is asked sample by sample from
     * `level` up to there, and hides nothing before */
    bool is_split;
    mask_wedge beyond, level;
    mask_conic conic[2];
    mask_wedge wedge;
} mask_shadow;

/* Semi-axes of an ellipsoid as the matrix N of the form w N w. */
typedef struct mask_ellipsoid {
    double xx, xy, yy, zz, xz, yz, det;
} mask_ellipsoid;

/* Height of the samples' plane over a place in the frame of the rows. */
static inline double gradin_mask_plane_m(const struct gradin_mask_grid *g, double x_m, double y_m) {
    return g->z_m + g->rise.x * (x_m - g->first_m.x) + g->rise.y * (y_m - g->first_m.y);
}

/* A prism that ends at the level plane of the samples or beyond hides none: the rounded quotient of
 * gradin_hit_prism() is then 1 or more. */
static inline bool gradin_mask_ends_before(const mask_view *v, const gradin_shape *s) {
    if (v->grid->is_tilted) return false;
    return s->kind == GRADIN_SHAPE_PRISM && (v->z_m < 0.0 ? s->as.prism.top_m <= v->grid->z_m
                                                          : s->as.prism.bottom_m >= v->grid->z_m);
}

mask_way gradin_mask_way(gradin_lie lie);
/* Unit vector of the mask's rows. */
gradin_vec2 gradin_mask_along(gradin_lie lie);

mask_ellipsoid gradin_mask_ellipsoid(const gradin_shape *shape);
mask_form gradin_mask_throw(const mask_view *view, const gradin_shape *shape,
                            const mask_ellipsoid *ellipsoid, mask_shadow *shadow);

/* The least rectangle that holds all samples that may still change: whole numbers, from the first
 * to below the end; empty when there are none. */
typedef struct mask_live {
    float column, column_end, row, row_end;
    float from[2], to[2]; /* a box that holds them, from the eye, in spacings along the edges */
} mask_live;

/* Children of one node as seen from the eye, cut to what is live. */
typedef struct mask_look {
    /* from low to below high */
    uint32_t column_low[16], column_high[16], row_low[16], row_high[16];
    float near2[16]; /* squared distance, m2 */
    uint32_t alive;  /* bit k: child k may hide */
} mask_look;

/* Columns of each row between which the rays past a box on plan lie: with Y and X in spacings from
 * the eye, X from max(Y low[0], Y low[1]) to min(Y high[0], Y high[1]). */
typedef struct mask_streak {
    float low[2], high[2];
    bool has_low, has_high;
} mask_streak;

/* Bits of a piece: sure ones, and those nearer to its edge than rounding. */
typedef struct mask_bits {
    uint32_t *sure, *doubt; /* [n_strip][n_stride] */
} mask_bits;

/* How far what hides a sample may lie from the eye. */
typedef struct mask_depth {
    const uint32_t *clear; /* [n_strip][n_stride] not hidden */
    const float *far;      /* [n_strip][n_stride][32] of the hidden ones */
    const float *most;     /* [n_strip][n_stride] no hidden one of the word lies farther */
} mask_depth;

typedef struct mask_job mask_job; /* mask_scene.h */

/* Four planes through the eye between which rays lie: normals towards the inside. */
typedef struct beam_pyramid {
    float side[4][3];
} beam_pyramid;

/* The loops that exist once for each instruction set. is_first writes, else adds. The result has
 * bit 0 when any is sure, bit 1 when any is in doubt, within `open`. */
typedef struct mask_table {
    /* takes from the mask what the node hides */
    void (*descend)(const mask_job *job, int node);
    /* looks at the children of a node: those that may hide; returns how many */
    int (*children)(const mask_job *job, const bvh *tree, int node, mask_look *look,
                    int order[BVH_WAYS]);
    int (*conic)(const struct gradin_mask_grid *grid, const mask_conic *conic, mask_rect rect,
                 const uint32_t *open, bool is_first, mask_bits out);
    int (*wedge)(const struct gradin_mask_grid *grid, const mask_wedge *wedge, mask_rect rect,
                 const uint32_t *open, bool is_first, mask_bits out);
    /* any bit within the rectangle and the streak */
    bool (*any_along)(const mask_view *view, const uint32_t *bits, mask_rect rect,
                      const mask_streak *streak);
    /* out = valid samples that are clear, or hidden by what may end at near or farther; true when
     * there are any */
    bool (*open)(const struct gradin_mask_grid *grid, const mask_depth *depth, float near,
                 mask_rect rect, uint32_t *out);
    /* clear &= ~sure */
    void (*remove)(const struct gradin_mask_grid *grid, uint32_t *clear, const uint32_t *sure,
                   mask_rect rect);
    int (*count)(const struct gradin_mask_grid *grid, const uint32_t *bits);
    /* bit k: the segment may meet child k, which it enters at enter[k] of its way or later */
    uint32_t (*boxes)(const soup_eye *eye, const soup_ray *ray, const bvh_node *node, float *enter);
    /* bit k: a ray of the pyramid may meet child k, of which no point is nearer than near_m[k] */
    uint32_t (*pyramid)(const soup_eye *eye, const beam_pyramid *pyramid, const bvh_node *node,
                        float *near_m);
    /* which of the triangles are met within the ray's limit */
    void (*group)(const soup_eye *eye, const soup_ray *ray, const soup_group *group, soup_met *out);
} mask_table;

extern const mask_table gradin_mask_table_portable, gradin_mask_table_avx2,
    gradin_mask_table_avx512;

/* Table of the set in use (gradin_simd_use). */
const mask_table *gradin_mask_table(void);

#endif
