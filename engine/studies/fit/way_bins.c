/* Points of the plan by squares, so that what is near is found without looking at all. */
#include "studies/fit/ways.h"

static const double BIN_M = 1.0;

static int clamp(double value, int n) {
    return value < 0.0 ? 0 : value >= n ? n - 1 : (int)value;
}

static int bin_of(const bins *b, gradin_vec2 at_m) {
    return clamp((at_m.y - b->low_m.y) / BIN_M, b->n_row) * b->n_column +
           clamp((at_m.x - b->low_m.x) / BIN_M, b->n_column);
}

static void spread(bins *b, gradin_vec2 high_m, int n, const gradin_vec2 *at_m) {
    gradin_vec2 low_m = {0.0, 0.0};
    if (n > 0) low_m = at_m[0];
    for (int i = 0; i < n; i++) {
        low_m = (gradin_vec2){fmin(low_m.x, at_m[i].x), fmin(low_m.y, at_m[i].y)};
        high_m = (gradin_vec2){fmax(high_m.x, at_m[i].x), fmax(high_m.y, at_m[i].y)};
    }
    b->low_m = low_m;
    b->n_column = (int)((high_m.x - low_m.x) / BIN_M) + 1;
    b->n_row = (int)((high_m.y - low_m.y) / BIN_M) + 1;
}

bool bins_make(gradin_arena *arena, const gradin_vec2 *at_m, int n, bins *b) {
    *b = (bins){.at_m = at_m};
    spread(b, n > 0 ? at_m[0] : (gradin_vec2){0.0, 0.0}, n, at_m);
    int n_bin = b->n_column * b->n_row;
    b->first = gradin_arena_alloc(arena, (size_t)n_bin + 1, sizeof *b->first);
    b->item = gradin_arena_alloc(arena, (size_t)n + 1, sizeof *b->item);
    if (!b->first || !b->item) return false;
    for (int i = 0; i < n; i++) b->first[bin_of(b, at_m[i])]++;
    for (int k = 1; k <= n_bin; k++) b->first[k] += b->first[k - 1];
    for (int i = n - 1; i >= 0; i--) b->item[--b->first[bin_of(b, at_m[i])]] = i;
    return true;
}

/* The square of its column and row in which a point lies, which may be outside. */
static gradin_vec2 place_of(const bins *b, gradin_vec2 at_m) {
    return (gradin_vec2){floor((at_m.x - b->low_m.x) / BIN_M),
                         floor((at_m.y - b->low_m.y) / BIN_M)};
}

static int list(const bins *b, double column, double row, const int **item) {
    if (column < 0.0 || column >= b->n_column || row < 0.0 || row >= b->n_row) return 0;
    const int *first = &b->first[(int)row * b->n_column + (int)column];
    *item = &b->item[first[0]];
    return first[1] - first[0];
}

int bins_near(const bins *b, gradin_vec2 at_m, int k, const int **item) {
    gradin_vec2 place = place_of(b, at_m);
    return list(b, place.x + k % 3 - 1, place.y + k / 3 - 1, item);
}

/* From a place along one axis to the square next to its own; 0 to its own. */
static double off_side_m(double place_m, double square, int side) {
    return side == 0 ? 0.0 : side < 0 ? place_m - square * BIN_M : (square + 1.0) * BIN_M - place_m;
}

double bins_off_m(const bins *b, gradin_vec2 at_m, double most_m) {
    static const signed char side[9][2] = {{0, 0},   {-1, 0}, {1, 0},  {0, -1}, {0, 1},
                                           {-1, -1}, {1, -1}, {-1, 1}, {1, 1}};
    const double slack_m = 1e-9; /* more than rounding moves the side of a square */
    double least2 = most_m * most_m;
    gradin_vec2 place = place_of(b, at_m);
    const int *item;
    for (int k = 0; k < 9; k++) {
        double dx = off_side_m(at_m.x - b->low_m.x, place.x, side[k][0]),
               dy = off_side_m(at_m.y - b->low_m.y, place.y, side[k][1]);
        if (dx * dx + dy * dy > least2 + slack_m) continue; /* nothing nearer there */
        for (int i = 0, n = list(b, place.x + side[k][0], place.y + side[k][1], &item); i < n;
             i++) {
            double x = b->at_m[item[i]].x - at_m.x, y = b->at_m[item[i]].y - at_m.y;
            if (x * x + y * y < least2) least2 = x * x + y * y;
        }
    }
    return sqrt(least2);
}
