/* Measured curves as reports have them: a run of bands, and what stands in for those beyond it.
 *
 * Most reports begin at 100 or 125 Hz and end at 3150, 4000 or 5000 Hz. Below and above, a build-up
 * with layers gets its predicted curve, of the standard sample, moved by the mean difference over
 * the three nearest measured thirds; one without layers the nearest measured value, flat (an
 * estimate, no source: R of a tight pane falls by 4 to 6 dB per octave below 100 Hz, so that flat
 * is kind). The reader says so in a note. Limits: no hole in the run. */
#include "acoustics/glazing/tmm.h"
#include "base/use.h"
#include "gradin/acoustics/glazing.h"

enum { N_NEAREST = 3 };

static gradin_status refuse(const gradin_buildup *buildup, const char *text, int band,
                            gradin_error *error) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "build-up %s: measured value at %d Hz %s",
                            buildup->name ? buildup->name : "", gradin_band_nominal_hz(band), text);
}

gradin_status gradin_measured_run(const gradin_buildup *buildup, int *first, int *last,
                                  gradin_error *error) {
    if (NEEDS(error, buildup, first, last) != GRADIN_OK) return GRADIN_BAD_USE;
    if (!buildup->is_measured)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "build-up %s is not measured",
                                buildup->name ? buildup->name : "");
    const double *r_db = buildup->measured_r_db;
    for (*first = 0; *first < GRADIN_N_BAND && isnan(r_db[*first]);) ++*first;
    for (*last = GRADIN_N_BAND - 1; *last > *first && isnan(r_db[*last]);) --*last;
    if (*first == GRADIN_N_BAND)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "build-up %s: nothing is measured",
                                buildup->name ? buildup->name : "");
    for (int b = *first; b <= *last; b++) {
        if (isnan(r_db[b])) return refuse(buildup, "is missing between others", b, error);
        if (!isfinite(r_db[b])) return refuse(buildup, "is no finite number", b, error);
    }
    return GRADIN_OK;
}

/* Measured less predicted, mean over up to three bands from one on, step 1 or -1. */
static double offset_db(const double *measured_db, const double *predicted_db, int from, int to,
                        int step) {
    double sum_db = 0.0;
    int n = 0;
    for (int b = from; n < N_NEAREST && (step > 0 ? b <= to : b >= to); b += step, n++)
        sum_db += measured_db[b] - predicted_db[b];
    return sum_db / n;
}

gradin_status gradin_measured_fill(const gradin_buildup *buildup, double *r_db,
                                   gradin_error *error) {
    int first, last;
    double predicted_db[GRADIN_N_BAND] = {0.0};
    if (NEEDS(error, buildup, r_db) != GRADIN_OK) return GRADIN_BAD_USE;
    const double *measured_db = buildup->measured_r_db;
    gradin_status status = gradin_measured_run(buildup, &first, &last, error);
    if (status != GRADIN_OK) return status;
    bool is_whole = first == 0 && last == GRADIN_N_BAND - 1;
    if (buildup->layer && !is_whole) {
        glazing_method method = gradin_glazing_mounted(buildup, gradin_glazing_sample());
        status = gradin_glazing_predict(buildup, &method, predicted_db, error);
    }
    if (status != GRADIN_OK) return status;
    double low_db = measured_db[first], high_db = measured_db[last];
    if (buildup->layer && !is_whole) {
        low_db = offset_db(measured_db, predicted_db, first, last, 1);
        high_db = offset_db(measured_db, predicted_db, last, first, -1);
    }
    for (int b = 0; b < GRADIN_N_BAND; b++)
        r_db[b] = b < first  ? predicted_db[b] + low_db
                  : b > last ? predicted_db[b] + high_db
                             : measured_db[b];
    return GRADIN_OK;
}
