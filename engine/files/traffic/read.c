/* A traffic file: classes with their spectra, tracks, the air, the performance, and the events'
 * own file. */
#include "base/use.h"
#include "files/schema/values.h"
#include "files/traffic/traffic.h"
#include "gradin/files.h"

static bool fill_classes(reader *r, const stated_traffic *s, gradin_traffic *t) {
    gradin_class *made = alloc(&r->c, s->n_class, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < s->n_class; i++) {
        const stated_class *from = &s->class_of[i];
        made[i].name = from->name;
        made[i].reference_m = from->spectrum.reference_m;
        made[i].scatter_db = isnan(from->scatter_db) ? s->uncertainty.scatter_db : from->scatter_db;
        fill_spectrum(r, from->at, &from->spectrum, made[i].level_db, &made[i].is_octave);
        if (from->spectrum.directivity)
            fill_directivity(r, from->spectrum.directivity, &made[i].directivity);
    }
    t->class_of = made;
    t->n_class = s->n_class;
    return complaints_status(&r->c) == GRADIN_OK;
}

/* Day, evening and night as in Directive 2002/49/EC, Annex I, unless stated. */
static void fill_periods(reader *r, const node *at, const stated_periods *s, gradin_periods *p) {
    static const int usual_s[GRADIN_N_PERIOD] = {7 * 3600, 19 * 3600, 23 * 3600};
    bool is_rising = true;
    for (int k = 0; k < GRADIN_N_PERIOD; k++) {
        p->start_s[k] = s->start[k] ? clock_s(s->start[k]) : usual_s[k];
        p->penalty_db[k] = s->penalty_db[k];
        is_rising = is_rising && (k == 0 || p->start_s[k] > p->start_s[k - 1]);
    }
    if (!is_rising) complain(r, at, "day, evening and night must begin one after the other");
}

static void fill_days(reader *r, const stated_span *s, gradin_traffic *t) {
    if (!s || !s->from || !s->to) return;
    t->from_s = day_under(r, s->at, "from", s->from);
    t->to_s = day_under(r, s->at, "to", s->to);
    if (t->from_s && t->to_s && t->to_s < t->from_s)
        complain(r, map_get(s->at, "to"), "is before from");
}

static void fill_background(reader *r, const stated_background *s, gradin_background *made) {
    const stated_spectrum levels = {
        .level_db = s->level_db, .n_level = s->n_level, .file = s->file};
    *made = (gradin_background){.name = s->name, .nc = isnan(s->nc) ? 0.0 : s->nc};
    if (isnan(s->nc)) fill_spectrum(r, s->at, &levels, made->level_db, &made->is_octave);
}

/* One curve, or a list of states. */
static void fill_backgrounds(reader *r, const stated_performance *s, gradin_traffic *t) {
    bool is_one = !isnan(s->background_nc);
    int n = is_one ? 1 : s->n_background;
    if (n == 0) return;
    gradin_background *made = alloc(&r->c, n, sizeof *made);
    if (!made) return;
    if (is_one)
        fill_background(r, &(stated_background){.name = "own noise", .nc = s->background_nc}, made);
    for (int i = 0; i < s->n_background; i++) fill_background(r, &s->background[i], &made[i]);
    t->background = made;
    t->n_background = n;
}

static void fill_performance(reader *r, const stated_performance *s, gradin_traffic *t) {
    t->start_s = clock_s(s->start);
    t->length_s = (int)lround(s->minutes * 60.0);
    t->voice = s->voice;
    t->sii_least = s->sii_least;
    fill_backgrounds(r, s, t);
    t->limit_dba = s->limit_dba;
    t->more_limit_dba = s->more_limit_dba;
    t->n_more_limit = s->n_more_limit;
}

static void fill_method(const stated_traffic *s, gradin_traffic *t) {
    t->temperature_c = s->air.temperature_c;
    t->humidity_pct = s->air.humidity_pct;
    t->pressure_kpa = s->air.pressure_kpa;
    t->source_uncertainty_db = s->uncertainty.source_db;
    t->has_lateral = s->method.has_lateral;
    t->has_impedance = s->method.has_impedance;
    t->weighting = (gradin_time_weighting)s->method.weighting;
}

/* A place without a bearing has no angle from which a directivity could count. */
static void check_headings(reader *r, const node *tracks, const gradin_traffic *t) {
    for (int i = 0; i < t->n_event && complaints_status(&r->c) == GRADIN_OK; i++) {
        const gradin_class *c = &t->class_of[t->event[i].class_index];
        const gradin_track *track = &t->track[t->event[i].track];
        if (c->directivity.n_lobe > 0 && !traffic_has_heading(track))
            complain(r, tracks->child[t->event[i].track],
                     "keeps its place, and class %s has a directivity; write fixed with "
                     "bearing_deg",
                     c->name);
    }
}

static void fill_traffic(reader *r, const node *root, const stated_traffic *s, bool skip_bad,
                         gradin_error *skipped, gradin_traffic *t) {
    t->name = s->name;
    fill_method(s, t);
    if (s->performance.start) fill_performance(r, &s->performance, t);
    fill_days(r, s->span, t);
    fill_periods(r, map_get(root, "periods"), &s->periods, &t->periods);
    bool has_all = s->n_class > 0 && fill_classes(r, s, t);
    has_all = s->n_track > 0 && fill_tracks(r, s, t) && has_all;
    if (!has_all || complaints_status(&r->c) != GRADIN_OK) return;
    const node *events = map_get(root, "events");
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, s->events));
    if (path && traffic_read_events(r, events, path, skip_bad, skipped, t))
        check_headings(r, map_get(root, "tracks"), t);
}

gradin_status traffic_read_changed(gradin_arena *arena, const char *path, bool skip_bad,
                                   value_changes *changes, gradin_traffic *traffic,
                                   gradin_error *skipped, gradin_error *error) {
    stated_traffic s = {0};
    *traffic = (gradin_traffic){.path = gradin_arena_copy_text(arena, path)};
    reader r = {.c = {.arena = arena, .error = error},
                .unit_m = 1.0,
                .digest = traffic->digest,
                .changes = changes};
    if (!traffic->path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    const node *root = SCHEMA_READ_FILE(&r, traffic->path, &traffic_schema, &s);
    if (root) fill_traffic(&r, root, &s, skip_bad, skipped, traffic);
    return complaints_status(&r.c);
}

gradin_status gradin_traffic_read(gradin_arena *arena, const char *path, bool skip_bad,
                                  gradin_traffic *traffic, gradin_error *skipped,
                                  gradin_error *error) {
    if (NEEDS(error, arena, path, traffic) != GRADIN_OK) return GRADIN_BAD_USE;
    return traffic_read_changed(arena, path, skip_bad, NULL, traffic, skipped, error);
}
