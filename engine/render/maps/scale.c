/* Steps of a scale about the limit: noise in steps of 3 dB from the limit (3 dB is twice the power;
 * wider ones where the seats spread over more), the C-value in steps between its classes. Each step
 * has one colour, so that a limit is an edge that the eye finds, in grey too. */
#include "render/maps/quantity.h"

#include <string.h>

enum { MOST_STEP = 8 };
static const double noise_step_db = 3.0;

static void widen(const gradin_seats *seats, const double *value, double *least, double *most) {
    for (int i = 0; value && i < seats->n_seat; i++) {
        if (!isfinite(value[i])) continue;
        *least = fmin(*least, value[i]);
        *most = fmax(*most, value[i]);
    }
}

static void set_edges(quantity *q, double first, double step, int n_step) {
    q->n_edge = n_step + 1;
    for (int k = 0; k <= n_step; k++) q->edge[k] = first + step * k;
    q->low = q->edge[0];
    q->high = q->edge[n_step];
}

void quantity_step_levels(quantity *q, const double *const *also, int n_also) {
    double least = INFINITY, most = -INFINITY;
    double anchor = isnan(q->criterion) ? 0.0 : q->criterion;
    widen(&q->model->seats, q->value, &least, &most);
    for (int k = 0; k < n_also; k++) widen(&q->model->seats, also[k], &least, &most);
    if (!(most >= least)) return;
    if (!isnan(q->criterion)) {
        least = fmin(least, anchor);
        most = fmax(most, anchor);
    }
    for (double step = noise_step_db;; step *= 2.0) {
        double from = floor((least - anchor) / step), to = floor((most - anchor) / step) + 1.0;
        if (!isnan(q->criterion)) from = fmin(from, -1.0); /* a step within the limit */
        if (to - from > MOST_STEP) continue;
        set_edges(q, anchor + step * from, step, (int)fmax(to - from, 2.0));
        q->opens_low = q->opens_high = false;
        return;
    }
}

/* Fair, good and clear from three limits that rise, two steps of its own below and above. */
void quantity_step_classes(quantity *q) {
    if (!q->limit) return;
    double fair = q->limit[2], good = q->limit[1], clear = q->limit[0];
    if (!(good > fair) || !(clear > good)) return;
    const double edge[] = {
        fair - 2.0 * (good - fair), fair - (good - fair),        fair, good, clear,
        clear + (clear - good),     clear + 2.0 * (clear - good)};
    q->n_edge = (int)(sizeof edge / sizeof edge[0]);
    memcpy(q->edge, edge, sizeof edge);
    q->low = edge[0];
    q->high = edge[q->n_edge - 1];
    q->opens_low = q->opens_high = true;
}

/* An edge belongs to the step on its good side: at the limit is within it. */
static int step_of(const quantity *q, double value) {
    int step = 0;
    for (int k = 1; k + 1 < q->n_edge; k++) {
        bool is_beyond = q->is_high_good ? value >= q->edge[k] : value > q->edge[k];
        if (is_beyond) step = k;
    }
    return step;
}

colour quantity_colour(const quantity *q, double value) {
    double along = (value - q->low) / (q->high - q->low);
    if (q->n_edge > 2) along = (double)step_of(q, value) / (q->n_edge - 2);
    if (q->is_difference) return colour_difference(2.0 * along - 1.0);
    return colour_at(q->is_high_good ? along : 1.0 - along);
}

colour quantity_colour_along(const quantity *q, double along) {
    return quantity_colour(q, q->low + along * (q->high - q->low));
}
