/* Thresholds of a brief: rating limits and the noise criterion. */
#include "files/layout/read.h"

/* Three numbers from clear to fair that never get stricter downwards. */
static void check_three(reader *r, const node *map, const char *key, double sign,
                        const double value[3]) {
    if ((value[1] - value[0]) * sign < 0.0 || (value[2] - value[1]) * sign < 0.0)
        complain(r, map_get(map, key), "must run from the strictest to the mildest limit");
}

void check_rating(reader *r, const stated_rating *s) {
    if (!s->at) return;
    check_three(r, s->at, "visible_min", -1.0, s->limits.visible_min);
    check_three(r, s->at, "c_value_min", -1.0, s->limits.c_value_min_m);
    check_three(r, s->at, "distance_max", 1.0, s->limits.distance_max_m);
    check_three(r, s->at, "off_axis_max_deg", 1.0, s->limits.off_axis_max_deg);
    check_three(r, s->at, "down_max_deg", 1.0, s->limits.down_max_deg);
    check_three(r, s->at, "turn_max_deg", 1.0, s->limits.turn_max_deg);
}

bool brief_read_file(reader *r, const char *path, gradin_limits *limits,
                     gradin_criterion *criterion) {
    stated_brief s = {0};
    if (!SCHEMA_READ_FILE(r, path, &brief_schema, &s)) return false;
    check_rating(r, &s.rating);
    *limits = s.rating.limits;
    *criterion = s.noise;
    return complaints_status(&r->c) == GRADIN_OK;
}
