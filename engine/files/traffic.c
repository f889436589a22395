/* A traffic file: classes with their spectra, tracks, the air, the performance, and the events'
 * own file. */
#include "files/traffic.h"
#include "gradin/files.h"

#include <string.h>

static const int loud_voice = 2;
static const double poor_sii = 0.45; /* ANSI S3.5-1997, scope: poor below 0.45, from memory */

static bool read_classes(reader *r, const node *list, gradin_traffic *t) {
    if (list->n_child < 1 || list->n_child > GRADIN_MAX_CLASS) {
        complain(r, list, "has %d classes; 1 to %d are allowed", list->n_child,
                 (int)GRADIN_MAX_CLASS);
        return false;
    }
    gradin_class *made = alloc(&r->c, list->n_child, sizeof *made);
    for (int i = 0; made && i < list->n_child; i++) {
        const node *level = NULL, *directivity = NULL;
        made[i].directivity = (gradin_directivity){.lobe = NULL};
        READ(r, list->child[i], {"name", FIELD_TEXT, true, 0, 0, &made[i].name, 0},
             {"reference_distance", FIELD_LENGTH, true, 1, 10000, &made[i].reference_m, 0},
             {"level_db", FIELD_LIST, true, 0, 0, &level, 0},
             {"directivity", FIELD_MAP, false, 0, 0, &directivity, 0});
        if (directivity) directivity_read(r, directivity, &made[i].directivity);
        if (level)
            read_numbers(r, level, GRADIN_N_BAND, GRADIN_N_BAND, -50, 180, 1.0, made[i].level_db,
                         NULL);
    }
    if (!made) return false;
    check_names(r, list, made, list->n_child, sizeof *made);
    t->class_of = made;
    t->n_class = list->n_child;
    return complaints_status(&r->c) == GRADIN_OK;
}

/* hh:mm */
static bool clock_time(const char *text, int *second) {
    if (strlen(text) != 5 || text[2] != ':') return false;
    for (int i = 0; i < 5; i++)
        if (i != 2 && (text[i] < '0' || text[i] > '9')) return false;
    int hour = (text[0] - '0') * 10 + text[1] - '0', minute = (text[3] - '0') * 10 + text[4] - '0';
    *second = hour * 3600 + minute * 60;
    return hour < 24 && minute < 60;
}

static const char *const voice_names[] = {"normal", "raised", "loud", "shout", NULL};

static void read_performance(reader *r, const node *map, gradin_traffic *t) {
    const char *start = NULL;
    double minutes = 0.0;
    if (!READ(r, map, {"start", FIELD_TEXT, true, 0, 0, &start, 0},
              {"minutes", FIELD_NUMBER, true, 1, 1440, &minutes, 0},
              {"voice", FIELD_CHOICE, false, 0, 0, &t->voice, voice_names},
              {"sii_least", FIELD_NUMBER, false, 0.05, 0.95, &t->sii_least, 0},
              {"background_nc", FIELD_NUMBER, false, 15, 70, &t->background_nc, 0},
              {"limit_dba", FIELD_NUMBER, false, 0, 140, &t->limit_dba, 0}))
        return;
    if (!clock_time(start, &t->start_s))
        complain(r, map_get(map, "start"), "must be a time of day, \"hh:mm\"");
    t->length_s = (int)lround(minutes * 60.0);
}

const char *const time_weighting_names[] = {"none", "fast", "slow", NULL};

static void read_method(reader *r, const node *air, const node *method, gradin_traffic *t) {
    if (air)
        READ(r, air, {"temperature_c", FIELD_NUMBER, false, -40, 50, &t->temperature_c, 0},
             {"humidity_pct", FIELD_NUMBER, false, 1, 100, &t->humidity_pct, 0},
             {"pressure_kpa", FIELD_NUMBER, false, 50, 110, &t->pressure_kpa, 0});
    int weighting = GRADIN_WEIGHTING_NONE;
    if (method)
        READ(r, method, {"lateral_attenuation", FIELD_FLAG, false, 0, 0, &t->has_lateral, 0},
             {"impedance", FIELD_FLAG, false, 0, 0, &t->has_impedance, 0},
             {"time_weighting", FIELD_CHOICE, false, 0, 0, &weighting, time_weighting_names});
    t->weighting = (gradin_time_weighting)weighting;
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

static void read_root(reader *r, const node *root, bool skip_bad, gradin_error *skipped,
                      gradin_traffic *t) {
    const node *any, *events = NULL, *classes = NULL, *tracks = NULL, *air = NULL, *method = NULL;
    const node *performance = NULL;
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0}, {"name", FIELD_TEXT, true, 0, 0, &t->name, 0},
         {"events", FIELD_ANY, true, 0, 0, &events, 0},
         {"classes", FIELD_LIST, true, 0, 0, &classes, 0},
         {"tracks", FIELD_LIST, true, 0, 0, &tracks, 0},
         {"performance", FIELD_MAP, true, 0, 0, &performance, 0},
         {"air", FIELD_MAP, false, 0, 0, &air, 0}, {"method", FIELD_MAP, false, 0, 0, &method, 0});
    read_method(r, air, method, t);
    if (performance) read_performance(r, performance, t);
    bool has_all = classes && read_classes(r, classes, t);
    has_all = tracks && traffic_read_tracks(r, tracks, t) && has_all;
    if (events && events->kind != NODE_TEXT)
        complain(r, events, "must be the name of a file");
    else if (events && has_all && complaints_status(&r->c) == GRADIN_OK) {
        const char *path =
            note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, events->text));
        if (path && traffic_read_events(r, events, path, skip_bad, skipped, t))
            check_headings(r, tracks, t);
    }
}

gradin_status gradin_traffic_read(gradin_arena *arena, const char *path, bool skip_bad,
                                  gradin_traffic *traffic, gradin_error *skipped,
                                  gradin_error *error) {
    if (!arena || !path || !traffic) return GRADIN_BAD_USE;
    *traffic = (gradin_traffic){.path = gradin_arena_copy_text(arena, path),
                                .temperature_c = 15.0,
                                .humidity_pct = 70.0,
                                .pressure_kpa = 101.325,
                                .voice = loud_voice,
                                .sii_least = poor_sii,
                                .background_nc = NAN,
                                .limit_dba = NAN};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = traffic->digest};
    if (!traffic->path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    const node *root = node_read(&r, traffic->path);
    if (root && read_head(&r, root, "gradin-traffic-1"))
        read_root(&r, root, skip_bad, skipped, traffic);
    return complaints_status(&r.c);
}
