/* What may be said of a level beside a limit when the level has an uncertainty.
 *
 * Errors in decibels are taken as normal. A decision rule of this kind, with a one-sided coverage
 * factor, is that of ISO 12999-1:2020, clause 8 (from memory); its Table 8 has the factors. */
#include "gradin/acoustics/uncertainty.h"

double gradin_chance_over(double excess_db, double uncertainty_db) {
    if (!(uncertainty_db > 0.0)) return excess_db > 0.0 ? 1.0 : 0.0;
    return 0.5 * erfc(-excess_db / (uncertainty_db * sqrt(2.0)));
}

double gradin_coverage_factor(double confidence) {
    double low = 0.0, high = 10.0;
    for (int i = 0; i < 60; i++) {
        double middle = 0.5 * (low + high);
        if (gradin_chance_over(middle, 1.0) < confidence)
            low = middle;
        else
            high = middle;
    }
    return low;
}

gradin_verdict gradin_verdict_of(double excess_db, double uncertainty_db, double confidence) {
    if (isnan(excess_db) || isnan(uncertainty_db)) return GRADIN_VERDICT_NONE;
    double sure = fmax(confidence, 0.5), over = gradin_chance_over(excess_db, uncertainty_db);
    if (1.0 - over >= sure) return GRADIN_VERDICT_WITHIN;
    return over >= sure ? GRADIN_VERDICT_OVER : GRADIN_VERDICT_NEAR;
}

gradin_verdict gradin_verdict_despite(double excess_db, double adds_db, double uncertainty_db,
                                      double confidence) {
    gradin_verdict verdict = gradin_verdict_of(excess_db, uncertainty_db, confidence);
    if (verdict != GRADIN_VERDICT_WITHIN || !(adds_db > 0.0)) return verdict;
    verdict = gradin_verdict_of(excess_db + adds_db, uncertainty_db, confidence);
    return verdict == GRADIN_VERDICT_WITHIN ? verdict : GRADIN_VERDICT_NEAR;
}

gradin_verdict gradin_verdict_both(gradin_verdict a, gradin_verdict b) {
    if (a == GRADIN_VERDICT_NONE) return b;
    if (b == GRADIN_VERDICT_NONE) return a;
    return a > b ? a : b;
}
