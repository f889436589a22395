/* Glazing build-ups: layers, a measured sound reduction index from a CSV file, or both. */
#include "files/venue_read.h"
#include "gradin/files.h"

#include <string.h>

enum { MAX_LAYER = 16 };

static void read_buildup(reader *r, const node *at, const char *file, double temperature_c,
                         gradin_buildup *buildup) {
    const node *layers = NULL, *measured = NULL;
    buildup->sample_m2 = NAN;
    buildup->temperature_c = temperature_c;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &buildup->name, 0},
              {"layers", FIELD_LIST, false, 0, 0, &layers, 0},
              {"temperature_c", FIELD_NUMBER, false, GRADIN_GLAZING_LEAST_C, GRADIN_GLAZING_MOST_C,
               &buildup->temperature_c, 0},
              {"measured", FIELD_ANY, false, 0, 0, &measured, 0},
              {"report", FIELD_TEXT, false, 0, 0, &buildup->report, 0},
              {"sample_m2", FIELD_NUMBER, false, 0.01, 100, &buildup->sample_m2, 0}))
        return;
    if ((!layers && !measured) || (measured && measured->kind != NODE_TEXT)) {
        complain(r, at, "needs layers, the name of a file under measured, or both");
        return;
    }
    if (!measured && !isnan(buildup->sample_m2))
        complain_key(r, at, "sample_m2", "belongs to a measurement; give the file under measured");
    if (layers) read_layers(r, layers, MAX_LAYER, &buildup->layer, &buildup->n_layer);
    if (measured) read_measured(r, measured, file, buildup);
}

bool read_buildups(reader *r, const node *list, const char *file, double temperature_c,
                   const gradin_buildup **buildup, int *n_buildup) {
    int before = r->c.n_error;
    gradin_buildup *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < list->n_child; i++)
        read_buildup(r, list->child[i], file, temperature_c, &made[i]);
    if (r->c.n_error == before) check_names(r, list, made, list->n_child, sizeof *made);
    *buildup = made;
    *n_buildup = list->n_child;
    return r->c.n_error == before;
}

static bool pick(reader *r, const char *file, const gradin_venue *v, const char *const *name,
                 int n_name, gradin_buildups *found) {
    gradin_buildup *made = alloc(&r->c, n_name, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < n_name; i++) {
        const node at = {.kind = NODE_TEXT, .place = {.file = file, .key = ""}, .text = name[i]};
        int k = look_up(r, &at, "build-up", v->buildup, v->n_buildup, sizeof *v->buildup);
        if (k >= 0 && index_of(made, i, sizeof *made, name[i]) >= 0)
            complain(r, &at, "build-up '%s' is named twice", name[i]);
        if (k >= 0) made[i] = v->buildup[k];
    }
    found->buildup = made;
    found->n_buildup = n_name;
    return r->c.n_error == 0;
}

gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                   const char *const *name, int n_name, gradin_buildups *found,
                                   gradin_error *error) {
    if (!arena || !venue_path || !found) return GRADIN_BAD_USE;
    gradin_venue v = {0};
    *found = (gradin_buildups){0};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = found->digest};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, venue_path));
    if (!file || !venue_read(&r, file, &v)) return complaints_status(&r.c);
    found->source = v.name;
    found->buildup = v.buildup;
    found->n_buildup = v.n_buildup;
    found->shade = v.shade;
    found->n_shade = v.n_shade;
    if (n_name > 0 && !pick(&r, file, &v, name, n_name, found)) return complaints_status(&r.c);
    found->note = r.c.note;
    found->n_note = r.c.n_note;
    return complaints_status(&r.c);
}

gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path, gradin_buildups *found,
                                gradin_error *error) {
    if (!arena || !csv_path || !found) return GRADIN_BAD_USE;
    *found = (gradin_buildups){.n_buildup = 1};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = found->digest};
    gradin_buildup *made = alloc(&r.c, 1, sizeof *made);
    r.c.file = note_failure(&r.c, gradin_arena_copy_text(arena, csv_path));
    if (!made || !r.c.file || !read_band_values(&r, NULL, r.c.file, made))
        return complaints_status(&r.c);
    const char *slash = strrchr(r.c.file, '/');
    made->name = found->source = slash ? slash + 1 : r.c.file;
    made->sample_m2 = NAN;
    found->buildup = made;
    return complaints_status(&r.c);
}
