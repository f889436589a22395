/* A programme: shows with their dates and layouts, and what changeovers between them cost. */
#include "files/programme.h"
#include "base/lookup.h"
#include "base/use.h"
#include "files/parse/date.h"
#include "files/schema/read.h"
#include "files/schema/values.h"
#include "files/stated/programme.h"
#include "gradin/files.h"

#include <math.h>
#include <string.h>

static int64_t date_s(reader *r, const node *at, const char *key, const char *text) {
    int64_t time_s = 0;
    if (text && !gradin_date_parse(text, false, &time_s))
        complain(r, map_get(at, key), "is '%s'; a local time YYYY-MM-DDThh:mm is needed", text);
    return time_s;
}

static void fill_layouts(reader *r, const stated_programme *s, gradin_programme *p) {
    const char **name = alloc(&r->c, s->n_layout, sizeof *name);
    const char **path = alloc(&r->c, s->n_layout, sizeof *path);
    for (int i = 0; name && path && i < s->n_layout; i++) {
        name[i] = s->layout[i].name;
        if (s->layout[i].file)
            path[i] =
                note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, s->layout[i].file));
    }
    p->layout_name = name;
    p->layout_path = path;
    p->n_layout = s->n_layout;
}

static int find_layout(reader *r, const node *at, const stated_programme *s, const char *name) {
    int found = index_of(s->layout, s->n_layout, sizeof *s->layout, name);
    if (found < 0) complain(r, at, "unknown layout '%s'; it is not in layouts", name);
    return found;
}

/* All of them when none is named. */
static void fill_allowed(reader *r, const stated_programme *s, const stated_booking *from,
                         gradin_booking *to) {
    int n = from->n_layout > 0 ? from->n_layout : s->n_layout;
    int *layout = alloc(&r->c, n, sizeof *layout);
    const node *list = map_get(from->at, "layouts");
    for (int i = 0; layout && i < n; i++) {
        layout[i] = from->n_layout > 0 ? find_layout(r, list->child[i], s, from->layout[i]) : i;
        for (int k = 0; k < i; k++)
            if (layout[i] >= 0 && layout[k] == layout[i])
                complain(r, list->child[i], "stands twice");
    }
    to->layout = layout;
    to->n_layout = n;
    to->is_any_order = from->n_layout == 0;
}

static void fill_shows(reader *r, const stated_programme *s, gradin_programme *p) {
    gradin_booking *b = alloc(&r->c, s->n_show, sizeof *b);
    for (int i = 0; b && i < s->n_show; i++) {
        const stated_booking *from = &s->show[i];
        b[i] = (gradin_booking){.name = from->name,
                                .start_s = date_s(r, from->at, "start", from->start),
                                .end_s = date_s(r, from->at, "end", from->end),
                                .seats = from->seats,
                                .wheelchairs = from->wheelchairs,
                                .at = &from->at->place};
        fill_allowed(r, s, from, &b[i]);
        if (r->c.n_error > 0) continue;
        if (b[i].end_s <= b[i].start_s)
            complain(r, map_get(from->at, "end"), "must be later than start");
        if (i > 0 && b[i].start_s < b[i - 1].end_s)
            complain(r, map_get(from->at, "start"),
                     "is before the end of %s; shows stand in the order that they are played",
                     b[i - 1].name);
    }
    p->booking = b;
    p->n_booking = s->n_show;
}

static void fill_before(reader *r, const stated_programme *s, gradin_programme *p) {
    p->first_layout = -1;
    if (!s->before || !s->before->layout) return;
    p->first_layout = find_layout(r, map_get(s->before->at, "layout"), s, s->before->layout);
    p->first_free_s = date_s(r, s->before->at, "from", s->before->from);
    if (p->first_free_s > p->booking[0].start_s)
        complain(r, map_get(s->before->at, "from"), "is after the first show's start");
}

bool programme_read(reader *r, const char *path, gradin_programme *p) {
    stated_programme s = {0};
    const node *root = SCHEMA_READ_FILE(r, path, &programme_schema, &s);
    if (!root || complaints_status(&r->c) != GRADIN_OK) return false;
    *p = (gradin_programme){.name = s.name,
                            .file = path,
                            .clear_s = 60.0 * s.clear_min,
                            .ready_s = 60.0 * s.ready_min,
                            .margin_s = 60.0 * s.margin_min,
                            .night_from_s = s.night ? clock_s(s.night->from) : 0,
                            .night_to_s = s.night ? clock_s(s.night->to) : 0,
                            .night_factor = s.night ? s.night->factor : 1.0,
                            .hour_cost = s.hour_cost,
                            .step_cost = s.step_cost};
    fill_layouts(r, &s, p);
    fill_shows(r, &s, p);
    if (complaints_status(&r->c) == GRADIN_OK) fill_before(r, &s, p);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_programme_read(gradin_arena *arena, const char *path,
                                    gradin_programme *programme, gradin_error *error) {
    if (NEEDS(error, arena, path, programme) != GRADIN_OK) return GRADIN_BAD_USE;
    char digest[33] = "";
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = digest};
    const char *file = gradin_arena_copy_text(arena, path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    programme_read(&r, file, programme);
    memcpy(programme->digest, digest, sizeof digest);
    return complaints_status(&r.c);
}
