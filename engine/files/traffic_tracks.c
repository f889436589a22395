/* Tracks: a CSV of points in time, a straight pass, or a place that a source keeps. */
#include "files/traffic.h"

enum { MAX_TRACK_BYTES = 8 << 20 };

static const char track_header[] = "t_s,x,y,z";

static bool take_points(reader *r, const row_file *from, gradin_track *track) {
    row_file rows = *from;
    double *time_s = NULL, value[4];
    gradin_vec3 *point_m = NULL;
    int n = 0, time_capacity = 0, point_capacity = 0;
    while (rows_next(&rows)) {
        bool is_good = rows.is_whole && n < GRADIN_MAX_TRACK_POINT;
        for (int i = 0; i < 4 && is_good; i++)
            is_good = gradin_parse_number(rows.cell[i], &value[i]);
        if (!is_good || (n > 0 && value[0] <= time_s[n - 1])) {
            rows_complain(&rows, r->c.error, "needs t_s,x,y,z with rising t_s, at most %d rows",
                          (int)GRADIN_MAX_TRACK_POINT);
            r->c.n_error++;
            return false;
        }
        if (!grow(&r->c, (void **)&time_s, n, &time_capacity, sizeof *time_s) ||
            !grow(&r->c, (void **)&point_m, n, &point_capacity, sizeof *point_m))
            return false;
        time_s[n] = value[0];
        point_m[n++] = gradin_scale((gradin_vec3){value[1], value[2], value[3]}, r->unit_m);
    }
    *track = (gradin_track){track->name, n, time_s, point_m, 0.0, NAN};
    if (n > 1) return true;
    rows_complain(&rows, r->c.error, "a track needs at least two points");
    r->c.n_error++;
    return false;
}

static void read_points_file(reader *r, const node *at, gradin_track *track) {
    row_file rows;
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text));
    if (path && rows_open(r, at, path, MAX_TRACK_BYTES, track_header, &rows))
        take_points(r, &rows, track);
}

static void read_straight(reader *r, const node *at, gradin_track *track) {
    gradin_vec2 point_m = {0.0, 0.0};
    double altitude_m = 0.0, bearing_deg = 0.0, speed_ms = 1.0;
    if (!READ(r, at, {"point", FIELD_POINT, true, 0, 0, &point_m, 0},
              {"altitude", FIELD_LENGTH, true, 20, 20000, &altitude_m, 0},
              {"bearing_deg", FIELD_NUMBER, true, 0, 360, &bearing_deg, 0},
              {"speed_ms", FIELD_NUMBER, true, 1, 340, &speed_ms, 0}))
        return;
    if (gradin_track_straight(r->c.arena, (gradin_vec3){point_m.x, point_m.y, altitude_m},
                              bearing_deg, speed_ms, track) != GRADIN_OK)
        note_failure(&r->c, NULL);
}

static void read_fixed(reader *r, const node *at, gradin_track *track) {
    gradin_vec2 at_m = {0.0, 0.0};
    double height_m = 0.0, hold_s = 0.0, bearing_deg = NAN;
    if (!READ(r, at, {"at", FIELD_POINT, true, 0, 0, &at_m, 0},
              {"height", FIELD_LENGTH, true, 0, 20000, &height_m, 0},
              {"duration_s", FIELD_NUMBER, true, 1, 86400, &hold_s, 0},
              {"bearing_deg", FIELD_NUMBER, false, 0, 360, &bearing_deg, 0}))
        return;
    double *time_s = alloc(&r->c, 1, sizeof *time_s);
    gradin_vec3 *point_m = alloc(&r->c, 1, sizeof *point_m);
    if (!time_s || !point_m) return;
    *point_m = (gradin_vec3){at_m.x, at_m.y, height_m};
    *track = (gradin_track){track->name, 1, time_s, point_m, hold_s, bearing_deg};
}

static void read_track(reader *r, const node *at, gradin_track *track) {
    const node *file = NULL, *straight = NULL, *fixed = NULL;
    *track = (gradin_track){.name = NULL};
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &track->name, 0},
              {"file", FIELD_ANY, false, 0, 0, &file, 0},
              {"straight", FIELD_MAP, false, 0, 0, &straight, 0},
              {"fixed", FIELD_MAP, false, 0, 0, &fixed, 0}))
        return;
    if ((file != NULL) + (straight != NULL) + (fixed != NULL) != 1)
        complain(r, at, "needs one of file, straight and fixed");
    else if (file && file->kind != NODE_TEXT)
        complain(r, file, "must be the name of a file");
    else if (file)
        read_points_file(r, file, track);
    else if (straight)
        read_straight(r, straight, track);
    else
        read_fixed(r, fixed, track);
}

bool traffic_read_tracks(reader *r, const node *list, gradin_traffic *t) {
    if (list->n_child < 1 || list->n_child > GRADIN_MAX_TRACK) {
        complain(r, list, "has %d tracks; 1 to %d are allowed", list->n_child,
                 (int)GRADIN_MAX_TRACK);
        return false;
    }
    gradin_track *track = alloc(&r->c, list->n_child, sizeof *track);
    for (int i = 0; track && i < list->n_child; i++) read_track(r, list->child[i], &track[i]);
    if (!track) return false;
    check_names(r, list, track, list->n_child, sizeof *track);
    t->track = track;
    t->n_track = list->n_child;
    return complaints_status(&r->c) == GRADIN_OK;
}

bool traffic_has_heading(const gradin_track *track) {
    for (int i = 1; i < track->n_point; i++)
        if (gradin_norm(gradin_sub(track->point_m[i], track->point_m[i - 1])) > 0.0) return true;
    return track->n_point == 1 && !isnan(track->bearing_deg);
}
