/* Finds the level square grid on which samples lie and keeps it as bits. Samples may come in any
 * order and leave gaps; those on no grid are kept as they are and met one by one. */
#include "geometry/mask/mask.h"
#include "geometry/plan/plan.h"

/* A sample may lie this far off its place, in spacings: below the slack of every piece. */
#define OFF_PLACE 1e-6
/* Neighbours in a row or column lie this far aside at most, of their distance: what turning them
 * into the frame leaves. */
#define ASIDE 1e-7
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

static bool size_grid(struct gradin_mask_grid *g) {
    g->spacing_m = find_spacing(g);
    gradin_vec2 low = place(g, 0), high = low;
    for (int i = 1; i < g->n_sample; i++) {
        gradin_vec2 p = place(g, i);
        low = (gradin_vec2){fmin(low.x, p.x), fmin(low.y, p.y)};
        high = (gradin_vec2){fmax(high.x, p.x), fmax(high.y, p.y)};
    }
    int column = place_of(high.x, low.x, g->spacing_m);
    int row = place_of(high.y, low.y, g->spacing_m);
    if (column < 0 || row < 0 || g->low_m.z != g->high_m.z) return false;
    g->first_m = low;
    g->z_m = g->low_m.z;
    g->n_column = column + 1;
    g->n_row = row + 1;
    g->n_strip = (g->n_column + 31) / 32;
    g->n_stride = (g->n_row + 15) / 16 * 16;
    return (int64_t)g->n_column * g->n_row <= (int64_t)SPARSE * g->n_sample + 4096;
}

static bool fill_grid(const struct gradin_mask_grid *g, uint32_t *valid, int32_t *index) {
    for (int i = 0; i < g->n_column * g->n_row; i++) index[i] = -1;
    for (int i = 0; i < g->n_sample; i++) {
        gradin_vec2 p = place(g, i);
        int column = place_of(p.x, g->first_m.x, g->spacing_m);
        int row = place_of(p.y, g->first_m.y, g->spacing_m);
        if (column < 0 || row < 0 || index[row * g->n_column + column] >= 0) return false;
        index[row * g->n_column + column] = i;
        valid[(column >> 5) * g->n_stride + row] |= 1u << (column & 31);
    }
    return true;
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
    if (!size_grid(g)) return g;
    uint32_t *valid =
        gradin_arena_alloc(arena, (size_t)g->n_strip * (size_t)g->n_stride, sizeof *valid);
    int32_t *index =
        gradin_arena_alloc(arena, (size_t)g->n_column * (size_t)g->n_row, sizeof *index);
    if (!valid || !index) return NULL;
    g->is_regular = fill_grid(g, valid, index);
    g->valid = valid;
    g->index = index;
    return g;
}
