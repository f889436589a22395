/* Glazing build-ups: layers, a measured sound reduction index from a CSV file, or both. */
#include "files/venue/read.h"

static void fill_buildup(reader *r, const stated_buildup *s, double temperature_c,
                         gradin_buildup *buildup) {
    *buildup = (gradin_buildup){.name = s->name,
                                .report = s->report,
                                .measured_file = s->measured,
                                .sample_m2 = s->sample_m2,
                                .temperature_c =
                                    isnan(s->temperature_c) ? temperature_c : s->temperature_c};
    if (!s->at) return;
    fill_layers(r, s->layer, s->n_layer, &buildup->layer, &buildup->n_layer);
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
