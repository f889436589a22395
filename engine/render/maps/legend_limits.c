/* What the rating asks of each figure, in words for the legend: limits of clear, good and fair,
 * whether they are defaults, and why a figure does not count. */
#include "render/maps/legend.h"
#include "render/plan/plan.h"

#include <stdio.h>
#include <string.h>

typedef struct limit_words {
    const char *name, *bound, *unit;
    const double *limit;
    double shown_per_si;
} limit_words;

static limit_words words_of(const quantity *q, gradin_reason reason) {
    const gradin_limits *l = &q->model->limits;
    bool feet = plan_is_imperial(q->model);
    switch (reason) {
    case GRADIN_REASON_VISIBLE:
        return (limit_words){"visible share", "at least", "%", l->visible_min, 100.0};
    case GRADIN_REASON_CLEAR_VIEW:
        return (limit_words){"clear view", "at least", "% of draws", l->clear_view_min, 100.0};
    case GRADIN_REASON_C_VALUE:
        return (limit_words){"C-value", "at least", feet ? "in" : "mm", l->c_value_min_m,
                             feet ? 12.0 / GRADIN_FOOT_M : 1000.0};
    case GRADIN_REASON_DISTANCE:
        return (limit_words){"distance", "at most", feet ? "ft" : "m", l->distance_max_m,
                             feet ? 1.0 / GRADIN_FOOT_M : 1.0};
    case GRADIN_REASON_OFF_AXIS:
        return (limit_words){"off the stage axis", "at most", "deg", l->off_axis_max_deg, 1.0};
    case GRADIN_REASON_DOWN:
        return (limit_words){"look down", "at most", "deg", l->down_max_deg, 1.0};
    default:
        return (limit_words){"head turn", "at most", "deg", l->turn_max_deg, 1.0};
    }
}

static const char *why_not(const quantity *q, gradin_reason reason) {
    if (q->model->limits.is_left_out[reason])
        return reason == GRADIN_REASON_C_VALUE ? "a class of its own" : "not rated by the brief";
    if (reason == GRADIN_REASON_OFF_AXIS && isnan(q->model->axis_deg))
        return "not rated, the layout states no axis";
    if (reason == GRADIN_REASON_CLEAR_VIEW && !q->has_crowd)
        return "not rated, no audience was drawn";
    return NULL;
}

/* One decimal where it is not nought. */
static char *limit_text(double value, char text[16]) {
    if (isnan(value)) {
        snprintf(text, 16, "none");
        return text;
    }
    bool is_whole = fabs(value - round(value)) < 0.05;
    return gradin_format_fixed(text, 16, value, is_whole ? 0 : 1);
}

bool legend_limit(const quantity *q, gradin_reason reason, char *text, size_t size) {
    limit_words w = words_of(q, reason);
    char number[3][16];
    const char *why = why_not(q, reason);
    if (why) {
        snprintf(text, size, "%s: %s", w.name, why);
        return false;
    }
    for (int i = 0; i < 3; i++) limit_text(w.limit[i] * w.shown_per_si, number[i]);
    snprintf(text, size, "%s %s %s / %s / %s %s%s", w.name, w.bound, number[0], number[1],
             number[2], w.unit, q->model->limits.is_stated[reason] ? "" : ", default");
    return true;
}
