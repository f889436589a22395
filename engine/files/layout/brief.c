/* Thresholds of a brief: rating limits and the noise criterion. */
#include "files/layout/read.h"

#include <string.h>

enum { UP = 1, DOWN = -1 };

/* Keys of the map `rating`, what each belongs to, and which way its limits run from clear to fair.
 */
static const struct {
    const char *key;
    gradin_reason reason;
    int way;
    size_t offset;
} row_of_key[] = {
    {"visible_min", GRADIN_REASON_VISIBLE, DOWN, offsetof(gradin_limits, visible_min)},
    {"clear_view_min", GRADIN_REASON_CLEAR_VIEW, DOWN, offsetof(gradin_limits, clear_view_min)},
    {"c_value_min", GRADIN_REASON_C_VALUE, DOWN, offsetof(gradin_limits, c_value_min_m)},
    {"head_gap_min_deg", GRADIN_REASON_C_VALUE, DOWN, offsetof(gradin_limits, head_gap_min_deg)},
    {"two_row_c_min", GRADIN_REASON_C_VALUE, DOWN, offsetof(gradin_limits, two_row_c_min_m)},
    {"distance_max", GRADIN_REASON_DISTANCE, UP, offsetof(gradin_limits, distance_max_m)},
    {"off_axis_max_deg", GRADIN_REASON_OFF_AXIS, UP, offsetof(gradin_limits, off_axis_max_deg)},
    {"down_max_deg", GRADIN_REASON_DOWN, UP, offsetof(gradin_limits, down_max_deg)},
    {"turn_max_deg", GRADIN_REASON_TURN, UP, offsetof(gradin_limits, turn_max_deg)},
};

/* Three numbers from clear to fair that never get stricter downwards. */
static void check_three(reader *r, const node *at, int way, const double value[3]) {
    if ((value[1] - value[0]) * way < 0.0 || (value[2] - value[1]) * way < 0.0)
        complain(r, at, "must run from the strictest to the mildest limit");
}

static void fill_counted(const stated_rating *s, gradin_limits *limits) {
    for (int i = 0; s->n_rate_by > 0 && i < GRADIN_N_REASON; i++) limits->is_left_out[i] = true;
    for (int i = 0; i < s->n_rate_by; i++) /* the words of rate_by are the reasons after none */
        limits->is_left_out[s->rate_by[i] + 1] = false;
}

gradin_limits fill_limits(reader *r, const stated_brief *s, gradin_form form) {
    gradin_limits limits = gradin_limits_defaults(form);
    const node *map = s->rating.at;
    if (!map) return limits;
    limits.brief = s->name ? s->name : "of the layout";
    for (size_t i = 0; i < sizeof row_of_key / sizeof *row_of_key; i++) {
        const node *at = map_get(map, row_of_key[i].key);
        if (!at) continue;
        double value[3];
        memcpy(value, (const char *)&s->rating.limits + row_of_key[i].offset, sizeof value);
        memcpy((char *)&limits + row_of_key[i].offset, value, sizeof value);
        check_three(r, at, row_of_key[i].way, value);
        if (row_of_key[i].offset == offsetof(gradin_limits, head_gap_min_deg))
            limits.is_gap_stated = true;
        else
            limits.is_stated[row_of_key[i].reason] = true;
    }
    if (map_get(map, "c_value_min") && !map_get(map, "two_row_c_min"))
        memcpy(limits.two_row_c_min_m, limits.c_value_min_m, sizeof limits.c_value_min_m);
    fill_counted(&s->rating, &limits);
    return limits;
}

bool brief_read_file(reader *r, const char *path, gradin_form form, gradin_limits *limits,
                     gradin_criterion *criterion) {
    stated_brief s = {0};
    if (!SCHEMA_READ_FILE(r, path, &brief_schema, &s)) return false;
    *limits = fill_limits(r, &s, form);
    if (!limits->brief && s.name) limits->brief = s.name;
    *criterion = s.noise;
    return complaints_status(&r->c) == GRADIN_OK;
}
