/* Finds the square grid on plan and the plane on which samples lie and keeps it as bits. Samples
 * may come in any order and leave gaps; those on no grid are kept as they are and met one by one.
 * The mask's rows are those of the square grid or its diagonals: see mask_way. */
#include "geometry/mask/mask.h"
#include "geometry/plan/plan.h"

#include <limits.h>

/* A sample may lie this far off its place, in spacings: below the slack of every piece. */
#define OFF_PLACE 1e-6
/* Neighbours in a row or column lie this far aside at most, of their distance: what turning them
 * into the frame leaves. */
#define ASIDE 1e-7
/* A sample lies this far off a plane that rises at most: rounding of its height. */
#define OFF_PLANE_M 1e-11
#define STEEPEST 1.0 /* m per m */
#define NEARLY_A_LINE 1e-9
enum { MAX_SIDE = 8192, SPARSE = 64 };

/* A sample in the frame of the rows. */
static gradin_vec2 place(const struct gradin_mask_grid *g, int i) {
    return plan_into((gradin_vec2){g->sample_m[i].x, g->sample_m[i].y}, g->lie.row);
}

static void extend(struct gradin_mask_grid *g, int i) {
    gradin_vec2 at = plan_into((gradin_vec2){g->sample_m[i].x, g->sample_m[i].y}, g->lie.edge);
    gradin_vec3 p = {at.x, at.y, g->sample_m[i].z};
    if (i == 0) g->low_m = g->high_m = p;
    g->low_m = (gradin_vec3){fmin(g->low_m.x, p.x), fmin(g->low_m.y, p.y), fmin(g->low_m.z, p.z)};
    g->high_m =
        (gradin_vec3){fmax(g->high_m.x, p.x), fmax(g->high_m.y, p.y), fmax(g->high_m.z, p.z)};
}

/* Least distance between neighbours in the list along a row or a column. */
static double find_spacing(const struct gradin_mask_grid *g) {
    double least = INFINITY;
    for (int i = 1; i < g->n_sample; i++) {
        gradin_vec2 p = place(g, i), q = place(g, i - 1);
        double dx = fabs(p.x - q.x), dy = fabs(p.y - q.y);
        if (dx > 0.0 && dy <= ASIDE * dx) least = fmin(least, dx);
        if (dy > 0.0 && dx <= ASIDE * dy) least = fmin(least, dy);
    }
    return isfinite(least) ? least : 1.0;
}

static int place_of(double at, double first, double spacing) {
    double place = (at - first) / spacing, whole = nearbyint(place);
    return fabs(place - whole) <= OFF_PLACE && whole < MAX_SIDE ? (int)whole : -1;
}

/* Whole steps along the mask's rows and across them: half columns and rows when the rows are
 * diagonals of the square grid. */
typedef struct steps {
    int along, across;
} steps;

typedef struct square {
    gradin_vec2 low; /* in the frame of the square grid's rows: its place (0, 0) */
    steps least, most;
} square;

static bool steps_of(const struct gradin_mask_grid *g, const square *s, int i, steps *out) {
    gradin_vec2 p = place(g, i);
    int x = place_of(p.x, s->low.x, g->spacing_m), y = place_of(p.y, s->low.y, g->spacing_m);
    *out = (steps){x * g->way.x + y * g->way.y, y * g->way.x - x * g->way.y};
    return x >= 0 && y >= 0;
}

static bool find_square(const struct gradin_mask_grid *g, square *s) {
    s->low = place(g, 0);
    for (int i = 1; i < g->n_sample; i++) {
        gradin_vec2 p = place(g, i);
        s->low = (gradin_vec2){fmin(s->low.x, p.x), fmin(s->low.y, p.y)};
    }
    s->least = (steps){INT_MAX, INT_MAX};
    s->most = (steps){INT_MIN, INT_MIN};
    for (int i = 0; i < g->n_sample; i++) {
        steps at;
        if (!steps_of(g, s, i, &at)) return false;
        if (at.along < s->least.along) s->least.along = at.along;
        if (at.across < s->least.across) s->least.across = at.across;
        if (at.along > s->most.along) s->most.along = at.along;
        if (at.across > s->most.across) s->most.across = at.across;
    }
    return true;
}

/* On a diagonal a row is late when it has no sample in the first half column. */
static void set_late(struct gradin_mask_grid *g, const square *s) {
    g->most_late = g->way.y != 0 ? 0.5f : 0.0f;
    for (int row = 0; row < 16; row++)
        g->late[row] = (row + s->least.across - s->least.along) & 1 ? g->most_late : 0.0f;
}

static void place_first(struct gradin_mask_grid *g, const square *s) {
    gradin_vec2 along = {g->way.x, g->way.y};
    double length = hypot(along.x, along.y), step = g->spacing_m / length;
    gradin_vec2 low = plan_into(s->low, (gradin_vec2){along.x / length, along.y / length});
    g->first_m = (gradin_vec2){low.x + s->least.along * step, low.y + s->least.across * step};
    g->row_m = step;
    g->column_m = g->way.y != 0 ? 2.0 * step : step;
}

/* What every eye needs of the grid, once. */
static void set_ratios(struct gradin_mask_grid *g) {
    g->columns_per_m = 1.0 / g->column_m;
    g->rows_per_m = 1.0 / g->row_m;
    g->row_in_columns = g->row_m / g->column_m;
    g->inverse_spacing = (float)(1.0 / g->spacing_m);
    double per_column = g->spacing_m / g->column_m, per_row = g->spacing_m / g->row_m;
    gradin_vec2 row = plan_into(gradin_mask_along(g->lie), g->lie.edge);
    g->to_column[0] = (float)(row.x * per_column);
    g->to_column[1] = (float)(row.y * per_column);
    g->to_row[0] = (float)(-row.y * per_row);
    g->to_row[1] = (float)(row.x * per_row);
    g->from_column[0] = (float)(row.x / per_column);
    g->from_column[1] = (float)(row.y / per_column);
    g->from_row[0] = (float)(-row.y / per_row);
    g->from_row[1] = (float)(row.x / per_row);
}

static gradin_vec3 from_first(const struct gradin_mask_grid *g, int i, gradin_vec2 along) {
    gradin_vec2 p = plan_into((gradin_vec2){g->sample_m[i].x, g->sample_m[i].y}, along);
    return (gradin_vec3){p.x - g->first_m.x, p.y - g->first_m.y, g->sample_m[i].z};
}

/* The plane of least squares. */
static bool fit_plane(struct gradin_mask_grid *g, gradin_vec2 along) {
    gradin_vec3 mean = {0.0, 0.0, 0.0};
    double xx = 0.0, xy = 0.0, yy = 0.0, xz = 0.0, yz = 0.0;
    for (int i = 0; i < g->n_sample; i++)
        mean = gradin_add(mean, gradin_scale(from_first(g, i, along), 1.0 / g->n_sample));
    for (int i = 0; i < g->n_sample; i++) {
        gradin_vec3 p = gradin_sub(from_first(g, i, along), mean);
        xx += p.x * p.x;
        xy += p.x * p.y;
        yy += p.y * p.y;
        xz += p.x * p.z;
        yz += p.y * p.z;
    }
    double det = xx * yy - xy * xy;
    if (!(det > NEARLY_A_LINE * (xx + yy) * (xx + yy))) return false;
    g->rise = (gradin_vec2){(xz * yy - yz * xy) / det, (yz * xx - xz * xy) / det};
    g->z_m = mean.z - g->rise.x * mean.x - g->rise.y * mean.y;
    return true;
}

/* Level planes are taken as they are, with no rounding. */
static bool find_plane(struct gradin_mask_grid *g) {
    gradin_vec2 along = gradin_mask_along(g->lie);
    g->z_m = g->low_m.z;
    g->is_tilted = g->low_m.z != g->high_m.z;
    if (!g->is_tilted) return true;
    if (!fit_plane(g, along) || !(hypot(g->rise.x, g->rise.y) <= STEEPEST)) return false;
    gradin_vec2 edgewise = plan_into(plan_out_of(g->rise, along), g->lie.edge);
    g->edgewise_rise[0] = (float)edgewise.x;
    g->edgewise_rise[1] = (float)edgewise.y;
    for (int i = 0; i < g->n_sample; i++) {
        gradin_vec3 p = from_first(g, i, along);
        if (!(fabs(g->z_m + g->rise.x * p.x + g->rise.y * p.y - p.z) <= OFF_PLANE_M)) return false;
    }
    return true;
}

static bool size_grid(struct gradin_mask_grid *g, square *s) {
    g->spacing_m = find_spacing(g);
    g->way = gradin_mask_way(g->lie);
    if (!find_square(g, s)) return false;
    int half = g->way.y != 0 ? 2 : 1;
    g->n_column = (s->most.along - s->least.along) / half + 1;
    g->n_row = s->most.across - s->least.across + 1;
    g->n_strip = (g->n_column + 31) / 32;
    g->n_stride = (g->n_row + 15) / 16 * 16;
    set_late(g, s);
    place_first(g, s);
    set_ratios(g);
    if (!find_plane(g)) return false;
    return (int64_t)g->n_column * g->n_row <= (int64_t)SPARSE * g->n_sample + 4096;
}

static bool fill_grid(const struct gradin_mask_grid *g, const square *s, uint32_t *valid,
                      int32_t *index) {
    int half = g->way.y != 0 ? 2 : 1;
    for (int i = 0; i < g->n_column * g->n_row; i++) index[i] = -1;
    for (int i = 0; i < g->n_sample; i++) {
        steps at;
        if (!steps_of(g, s, i, &at)) return false;
        int column = (at.along - s->least.along) / half, row = at.across - s->least.across;
        if (index[row * g->n_column + column] >= 0) return false;
        index[row * g->n_column + column] = i;
        valid[(column >> 5) * g->n_stride + row] |= 1u << (column & 31);
    }
    return true;
}

/* Sine of 22.5 degrees: farther from both axes a diagonal lies nearer to the edge. */
#define HALF_WAY 0.38268343236508977

mask_way gradin_mask_way(gradin_lie lie) {
    gradin_vec2 row = plan_into(lie.row, lie.edge);
    if (fabs(row.x) <= HALF_WAY || fabs(row.y) <= HALF_WAY) return (mask_way){1, 0};
    return row.x * row.y > 0.0 ? (mask_way){1, 1} : (mask_way){1, -1};
}

gradin_vec2 gradin_mask_along(gradin_lie lie) {
    mask_way way = gradin_mask_way(lie);
    double length = hypot(way.x, way.y);
    return plan_out_of((gradin_vec2){way.x / length, way.y / length}, lie.row);
}

gradin_mask_grid *gradin_mask_grid_create(gradin_arena *arena, const gradin_vec3 *sample_m,
                                          int n_sample, gradin_lie lie) {
    if (!arena || !sample_m || !plan_is_unit(lie.edge) || !plan_is_unit(lie.row)) return NULL;
    struct gradin_mask_grid *g = gradin_arena_alloc(arena, 1, sizeof *g);
    if (!g || n_sample < 1) return g;
    g->sample_m = sample_m;
    g->n_sample = n_sample;
    g->lie = lie;
    for (int i = 0; i < n_sample; i++) extend(g, i);
    square s;
    if (!size_grid(g, &s)) return g;
    uint32_t *valid =
        gradin_arena_alloc(arena, (size_t)g->n_strip * (size_t)g->n_stride, sizeof *valid);
    int32_t *index =
        gradin_arena_alloc(arena, (size_t)g->n_column * (size_t)g->n_row, sizeof *index);
    if (!valid || !index) return NULL;
    g->is_regular = fill_grid(g, &s, valid, index);
    g->valid = valid;
    g->index = index;
    return g;
}
