/* Order statistics. A percentile p of n sorted values lies at rank h = (n - 1) p counted from 0,
 * with linear interpolation between the two nearest values: definition 7 of Hyndman and Fan,
 * "Sample quantiles in statistical packages", The American Statistician 50 (1996) 361-365. Values
 * that are not finite (the figure does not apply to that seat) are left out. */
#include "studies/shared/spread.h"

#include <stdlib.h>

static int compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double quantile(const double *sorted, int n, double p) {
    double h = (n - 1) * p;
    int low = (int)h;
    int high = low + 1 < n ? low + 1 : low;
    return sorted[low] + (h - low) * (sorted[high] - sorted[low]);
}

/* The finite ones, sorted; NULL without memory. */
static double *sort_finite(gradin_arena *arena, const double *value, int n, int *n_finite) {
    double *sorted = gradin_arena_alloc(arena, (size_t)n, sizeof *sorted);
    *n_finite = 0;
    if (!sorted) return NULL;
    for (int i = 0; value && i < n; i++)
        if (isfinite(value[i])) sorted[(*n_finite)++] = value[i];
    if (*n_finite > 0) qsort(sorted, (size_t)*n_finite, sizeof *sorted, compare);
    return sorted;
}

gradin_status studies_spread(gradin_arena *arena, const double *value, int n,
                             gradin_spread *spread) {
    int n_finite;
    double *sorted = sort_finite(arena, value, n, &n_finite);
    *spread = (gradin_spread){NAN, NAN, NAN, NAN, NAN};
    if (!sorted) return GRADIN_NO_MEMORY;
    if (n_finite == 0) return GRADIN_OK;
    *spread =
        (gradin_spread){sorted[0], quantile(sorted, n_finite, 0.1), quantile(sorted, n_finite, 0.5),
                        quantile(sorted, n_finite, 0.9), sorted[n_finite - 1]};
    return GRADIN_OK;
}

gradin_status studies_percentile(gradin_arena *arena, const double *value, int n, double p,
                                 double *percentile) {
    int n_finite;
    double *sorted = sort_finite(arena, value, n, &n_finite);
    *percentile = NAN;
    if (!sorted) return GRADIN_NO_MEMORY;
    if (n_finite > 0) *percentile = quantile(sorted, n_finite, p);
    return GRADIN_OK;
}
