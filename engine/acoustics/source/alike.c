/* Two classes of source that differ in level alone: on one track what one sends is what the other
 * sends times a factor by band, P2/P1 (r2/r1)2 e^(m (r2 - r1)) of the levels at the reference
 * distances, since the way, the air and the directivity are the same (incident.c). */
#include "acoustics/source/source.h"

static bool has_like_directivity(const gradin_directivity *a, const gradin_directivity *b) {
    if (a->n_lobe == 0 && b->n_lobe == 0) return true;
    return a->lobe == b->lobe && a->n_lobe == b->n_lobe && a->is_mean_level == b->is_mean_level;
}

bool gradin_source_ratio(const gradin_source *of, const gradin_source *to, double *ratio) {
    if (!has_like_directivity(&of->directivity, &to->directivity)) return false;
    double far = of->reference_m / to->reference_m, apart_m = of->reference_m - to->reference_m;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        ratio[b] = of->power[b] / to->power[b] * far * far * exp(to->absorption_1m[b] * apart_m);
        if (!(to->power[b] > 0.0) || !isfinite(ratio[b])) return false;
    }
    return true;
}
