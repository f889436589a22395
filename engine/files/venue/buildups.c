/* Glazing build-ups: layers, a measured sound reduction index from a CSV file, or both. */
#include "files/venue/read.h"

#include <stdio.h>

static void take_generic(reader *r, const stated_buildup *s, gradin_buildup *buildup) {
    const gradin_construction *found = gradin_construction_find(s->generic);
    int n;
    const gradin_construction *all = gradin_constructions(&n);
    char list[GRADIN_TEXT_CHARS] = "";
    if (found) {
        gradin_buildup_be(buildup, found);
        if (!buildup->report)
            buildup->report = print_text(&r->c, "%s: %s", found->source, found->meaning);
        return;
    }
    for (int i = 0, at = 0; i < n && at < (int)sizeof list; i++)
        at += snprintf(list + at, sizeof list - (size_t)at, "%s%s", i > 0 ? ", " : "", all[i].name);
    complain(r, map_get(s->at, "generic"), "is '%s'; allowed: %s", s->generic, list);
}

static void fill_buildup(reader *r, const stated_buildup *s, double temperature_c,
                         gradin_buildup *buildup) {
    *buildup = (gradin_buildup){.name = s->name,
                                .report = s->report,
                                .measured_file = s->measured,
                                .sample_m2 = s->sample_m2,
                                .frames = (gradin_frames)s->frames,
                                .has_lined_reveals = s->reveals == 1,
                                .is_flush = s->is_flush,
                                .temperature_c =
                                    isnan(s->temperature_c) ? temperature_c : s->temperature_c};
    if (!s->at) return;
    fill_layers(r, s->layer, s->n_layer, &buildup->layer, &buildup->n_layer);
    if (s->generic) take_generic(r, s, buildup);
    if (s->measured) read_measured(r, map_get(s->at, "measured"), r->c.file, buildup);
}

void fill_buildups(reader *r, const stated_facade *s, gradin_venue *v) {
    gradin_buildup *made = alloc(&r->c, s->n_buildup, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_buildup; i++)
        fill_buildup(r, &s->buildup[i], s->temperature_c, &made[i]);
    v->buildup = made;
    v->n_buildup = s->n_buildup;
}
