/* Tracks: a CSV of points in time, a straight pass, or a place that a source keeps. */
#include "files/traffic/traffic.h"

enum { MAX_TRACK_BYTES = 8 << 20 };
static const double MAX_FAR_M = 1e6, MAX_TRACK_S = 86400.0, MAX_SPEED_MS = 1000.0;

static const char track_header[] = "t_s,x,y,z";

/* A track within 1000 km, and no faster than an aircraft is: what an exponent or a foreign unit too
 * many would not be. */
static const char *odd_step(const double *time_s, const gradin_vec3 *point_m, int n) {
    if (!(gradin_norm(point_m[n]) <= MAX_FAR_M)) return "lies more than 1000 km from the hall";
    if (!(fabs(time_s[n]) <= MAX_TRACK_S)) return "is more than a day from the track's time 0";
    if (n > 0 && gradin_norm(gradin_sub(point_m[n], point_m[n - 1])) >
                     MAX_SPEED_MS * (time_s[n] - time_s[n - 1]))
        return "is further from the row before than anything flies (1000 m/s)";
    return NULL;
}

static bool refuse_row(reader *r, const row_file *rows, const char *text) {
    rows_complain(rows, r->c.error, "%s", text);
    r->c.n_error++;
    return false;
}

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
        point_m[n] = gradin_scale((gradin_vec3){value[1], value[2], value[3]}, r->unit_m);
        const char *odd = odd_step(time_s, point_m, n++);
        if (odd) return refuse_row(r, &rows, odd);
    }
    *track = (gradin_track){track->name, n, time_s, point_m, 0.0, NAN};
    return n > 1 || refuse_row(r, &rows, "a track needs at least two points");
}

static void read_points_file(reader *r, const node *at, gradin_track *track) {
    row_file rows;
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text));
    if (path && rows_open(r, at, path, MAX_TRACK_BYTES, track_header, &rows))
        take_points(r, &rows, track);
}

static void fill_straight(reader *r, const stated_flight *s, gradin_track *track) {
    const gradin_vec3 point_m = {s->point_m.x, s->point_m.y, s->altitude_m};
    if (gradin_track_straight(r->c.arena, point_m, s->bearing_deg, s->speed_ms, track) != GRADIN_OK)
        note_failure(&r->c, NULL);
}

static void fill_fixed(reader *r, const stated_place *s, gradin_track *track) {
    double *time_s = alloc(&r->c, 1, sizeof *time_s);
    gradin_vec3 *point_m = alloc(&r->c, 1, sizeof *point_m);
    if (!time_s || !point_m) return;
    *point_m = (gradin_vec3){s->at_m.x, s->at_m.y, s->height_m};
    *track = (gradin_track){track->name, 1, time_s, point_m, s->hold_s, s->bearing_deg};
}

static void fill_track(reader *r, const stated_track *s, gradin_track *track) {
    *track = (gradin_track){.name = s->name};
    if (!s->at) return;
    if (s->file)
        read_points_file(r, map_get(s->at, "file"), track);
    else if (s->straight)
        fill_straight(r, s->straight, track);
    else
        fill_fixed(r, s->fixed, track);
}

bool fill_tracks(reader *r, const stated_traffic *s, gradin_traffic *t) {
    gradin_track *track = alloc(&r->c, s->n_track, sizeof *track);
    if (!track) return false;
    for (int i = 0; i < s->n_track; i++) fill_track(r, &s->track[i], &track[i]);
    t->track = track;
    t->n_track = s->n_track;
    return complaints_status(&r->c) == GRADIN_OK;
}

bool traffic_has_heading(const gradin_track *track) {
    for (int i = 1; i < track->n_point; i++)
        if (gradin_norm(gradin_sub(track->point_m[i], track->point_m[i - 1])) > 0.0) return true;
    return track->n_point == 1 && !isnan(track->bearing_deg);
}
