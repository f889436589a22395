/* Thresholds of a brief: rating limits and the noise criterion. */
#include "files/layout_read.h"

#include <string.h>

/* Three numbers from clear to fair that never get stricter downwards. */
static void read_three(reader *r, const node *map, const char *key, double least, double most,
                       double unit, double sign, double out[3]) {
    const node *at = map_get(map, key);
    double value[3];
    if (!at || at->kind != NODE_LIST) return;
    if (!read_numbers(r, at, 3, 3, least, most, unit, value, NULL)) return;
    if ((value[1] - value[0]) * sign < 0.0 || (value[2] - value[1]) * sign < 0.0)
        complain(r, at, "must run from the strictest to the mildest limit");
    else
        memcpy(out, value, sizeof value);
}

static void read_rating(reader *r, const node *map, gradin_limits *limits) {
    const node *any;
    READ(r, map, {"visible_min", FIELD_LIST, false, 0, 0, &any, 0},
         {"c_value_min", FIELD_LIST, false, 0, 0, &any, 0},
         {"distance_max", FIELD_LIST, false, 0, 0, &any, 0},
         {"off_axis_max_deg", FIELD_LIST, false, 0, 0, &any, 0},
         {"down_max_deg", FIELD_LIST, false, 0, 0, &any, 0},
         {"turn_max_deg", FIELD_LIST, false, 0, 0, &any, 0});
    read_three(r, map, "visible_min", 0.0, 1.0, 1.0, -1.0, limits->visible_min);
    read_three(r, map, "c_value_min", -2.0, 2.0, r->unit_m, -1.0, limits->c_value_min_m);
    read_three(r, map, "distance_max", 0.1, 500.0, r->unit_m, 1.0, limits->distance_max_m);
    read_three(r, map, "off_axis_max_deg", 0.0, 180.0, 1.0, 1.0, limits->off_axis_max_deg);
    read_three(r, map, "down_max_deg", 0.0, 90.0, 1.0, 1.0, limits->down_max_deg);
    read_three(r, map, "turn_max_deg", 0.0, 180.0, 1.0, 1.0, limits->turn_max_deg);
}

static void read_parts(reader *r, const node *rating, const node *noise, gradin_limits *limits,
                       gradin_criterion *criterion) {
    if (rating) read_rating(r, rating, limits);
    if (noise)
        READ(r, noise, {"nc", FIELD_NUMBER, false, 15, 70, &criterion->nc, 0},
             {"lamax_dba", FIELD_NUMBER, false, 0, 140, &criterion->lamax_dba, 0});
}

void brief_read_map(reader *r, const node *map, gradin_limits *limits,
                    gradin_criterion *criterion) {
    const node *rating = NULL, *noise = NULL;
    READ(r, map, {"rating", FIELD_MAP, false, 0, 0, &rating, 0},
         {"noise", FIELD_MAP, false, 0, 0, &noise, 0});
    read_parts(r, rating, noise, limits, criterion);
}

bool brief_read_file(reader *r, const char *path, gradin_limits *limits,
                     gradin_criterion *criterion) {
    const node *root = node_read(r, path), *rating = NULL, *noise = NULL, *any;
    if (!root || !read_head(r, root, "gradin-brief-1")) return false;
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0}, {"name", FIELD_TEXT, false, 0, 0, &any, 0},
         {"rating", FIELD_MAP, false, 0, 0, &rating, 0},
         {"noise", FIELD_MAP, false, 0, 0, &noise, 0});
    read_parts(r, rating, noise, limits, criterion);
    return complaints_status(&r->c) == GRADIN_OK;
}
