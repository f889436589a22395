/* Steps of a scale about the limit: noise in steps of 3 dB from the limit (3 dB is twice the power;
 * wider ones where the seats spread over more), an index in steps of its own, the C-value in steps
 * between its classes. Each step has one colour, so that a limit is an edge that the eye finds, in
 * grey too. */
#include "render/maps/quantity.h"

#include <string.h>

enum { MOST_STEP = 8, FEW = 100 }; /* one value in so many may lie beyond the steps */
enum { LEAST_OVER = 3 }; /* steps over a limit, so that layouts near it share their colours */
static const double noise_step_db = 3.0;

/* The values that share a scale: [n_array][n_seat]. */
typedef struct values {
    const double *const *of;
    int n_array, n_seat;
} values;

/* How many are below `bound` or, with sign -1, above. */
static int count_beyond(const values *v, double bound, double sign) {
    int n = 0;
    for (int k = 0; k < v->n_array; k++)
        for (int i = 0; v->of[k] && i < v->n_seat; i++)
            n += isfinite(v->of[k][i]) && sign * v->of[k][i] < sign * bound;
    return n;
}

static void set_edges(quantity *q, double first, double step, int n_step) {
    q->n_edge = n_step + 1;
    for (int k = 0; k <= n_step; k++) q->edge[k] = first + step * k;
    q->low = q->edge[0];
    q->high = q->edge[n_step];
}

/* The edge beyond which at most `few` of the values lie, in steps from the anchor towards -sign. */
static int outer_edge(const values *v, double anchor, double step, double sign, int few) {
    int edge = 0;
    while (edge < MOST_STEP + 1 && count_beyond(v, anchor - sign * step * edge, sign) > few) edge++;
    return edge;
}

/* The limit, or a whole number of steps near the median where there is none. */
static double anchor_of(const quantity *q, double step) {
    if (!isnan(q->criterion)) return q->criterion;
    return q->spread && isfinite(q->spread->median) ? step * floor(q->spread->median / step) : 0.0;
}

void quantity_step_levels(quantity *q, const double *const *also, int n_also) {
    const values v = also ? (values){also, n_also, q->model->seats.n_seat}
                          : (values){&q->value, 1, q->model->seats.n_seat};
    int n = count_beyond(&v, INFINITY, 1.0), few = n / FEW;
    if (n == 0) return;
    double first = q->step > 0.0 ? q->step : noise_step_db;
    for (double step = first; step < 64.0 * first; step *= 2.0) {
        double anchor = anchor_of(q, step);
        int down = outer_edge(&v, anchor, step, 1.0, few);
        int up = outer_edge(&v, anchor, step, -1.0, few);
        if (down + up > MOST_STEP) continue;
        if (!isnan(q->criterion)) down = down > 0 ? down : 1; /* a step within the limit */
        bool is_widened = !isnan(q->criterion) && down + LEAST_OVER <= MOST_STEP;
        int least_up = is_widened ? LEAST_OVER : 1;
        up = up > least_up ? up : least_up;
        set_edges(q, anchor - step * down, step, down + up);
        q->opens_low = count_beyond(&v, q->low, 1.0) > 0;
        q->opens_high = count_beyond(&v, q->high, -1.0) > 0;
        return;
    }
}

/* Ends that hold all values where 2 or 3 dB do: below that no difference is worth a strong colour.
 */
void quantity_reach_difference(quantity *q) {
    const values v = {&q->value, 1, q->model->seats.n_seat};
    for (double reach_db = 2.0; reach_db < q->high; reach_db += 1.0) {
        if (count_beyond(&v, -reach_db, 1.0) + count_beyond(&v, reach_db, -1.0) > 0) continue;
        q->low = -reach_db;
        q->high = reach_db;
        q->tick_shown = 1.0;
        q->opens_low = q->opens_high = false;
        return;
    }
}

void quantity_reach(quantity *q, const double *end, int n_end) {
    const values v = {&q->value, 1, q->model->seats.n_seat};
    int k = 0;
    while (k + 1 < n_end && count_beyond(&v, end[k], -1.0) > 0) k++;
    q->high = end[k];
    q->opens_high = count_beyond(&v, q->high, -1.0) > 0;
    double shown = end[k] * q->shown_per_si;
    q->tick_shown = shown > 30.0 ? 10.0 : shown > 10.0 ? 5.0 : shown > 5.0 ? 2.0 : 1.0;
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

void quantity_step_limits(quantity *q) {
    if (!q->limit || q->n_edge > 0) return;
    int first = q->is_high_good ? 2 : 0, way = q->is_high_good ? -1 : 1;
    const double edge[] = {q->low, q->limit[first], q->limit[first + way],
                           q->limit[first + 2 * way], q->high};
    int n = (int)(sizeof edge / sizeof edge[0]);
    for (int k = 0; k + 1 < n; k++)
        if (!(edge[k + 1] > edge[k])) return;
    memcpy(q->edge, edge, sizeof edge);
    q->n_edge = n;
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
