/* What glass lets through, kept from one model to the next by what it follows from: the layers or
 * the measurement of its build-up, the size of the pane, the layers of its shade. Names do not
 * matter. When there are too many they are all dropped: it costs time, no result. */
#include "acoustics/envelope/keep_glass.h"
#include "base/digest.h"

#include <string.h>

enum { MOST_ENTRY = 400 };

struct gradin_kept_glass {
    gradin_arena *arena;
    int n;
    kept_glass_entry entry[MOST_ENTRY];
};

gradin_kept_glass *gradin_kept_glass_create(void) {
    gradin_arena *arena = gradin_arena_create();
    gradin_kept_glass *kept = arena ? gradin_arena_alloc(arena, 1, sizeof *kept) : NULL;
    if (kept)
        kept->arena = arena;
    else
        gradin_arena_destroy(arena);
    return kept;
}

void gradin_kept_glass_destroy(gradin_kept_glass *kept) {
    if (kept) gradin_arena_destroy(kept->arena);
}

static void fold(char hex[33], const double *value, size_t n) {
    gradin_digest_fold(hex, value, n * sizeof *value);
}

static void fold_count(char hex[33], int64_t n) {
    gradin_digest_fold(hex, &n, sizeof n);
}

static void fold_layers(char hex[33], const gradin_layer *layer, int n) {
    fold_count(hex, layer ? n : -1);
    for (int i = 0; layer && i < n; i++) {
        const gradin_layer *l = &layer[i];
        const double number[] = {
            l->thickness_m, l->density_kgm3, l->young_pa,          l->poisson,        l->loss,
            l->shear_pa,    l->speed_ms,     l->resistivity_pasm2, l->resistance_pasm};
        fold_count(hex, l->kind);
        fold(hex, number, sizeof number / sizeof *number);
        fold_count(hex, l->relaxation != NULL);
        if (!l->relaxation) continue;
        const double chain[] = {l->relaxation->instant_pa, l->relaxation->wlf_c1,
                                l->relaxation->wlf_c2_k, l->relaxation->reference_c};
        fold(hex, chain, sizeof chain / sizeof *chain);
        fold_count(hex, l->relaxation->n_term);
        fold(hex, l->relaxation->share, (size_t)l->relaxation->n_term);
        fold(hex, l->relaxation->time_s, (size_t)l->relaxation->n_term);
    }
}

static void fold_buildup(char hex[33], const gradin_buildup *b) {
    fold_layers(hex, b->layer, b->n_layer);
    fold(hex, &b->temperature_c, 1);
    fold_count(hex, b->frames);
    fold_count(hex, b->has_lined_reveals);
    fold_count(hex, b->is_flush);
    fold_count(hex, b->is_measured);
    if (!b->is_measured) return;
    fold_count(hex, b->is_octave);
    fold_count(hex, b->generic != NULL);
    fold(hex, b->measured_r_db, GRADIN_N_BAND);
    fold(hex, &b->sample_m2, 1);
}

static void fold_size(char hex[33], kept_glass_kind kind, double width_m, double height_m) {
    const double size_m[] = {width_m, height_m};
    hex[0] = '\0';
    fold_count(hex, kind);
    fold(hex, size_m, 2);
}

void gradin_kept_glass_key(const gradin_model *model, const gradin_element *e, kept_glass_kind kind,
                           char hex[33]) {
    double size_m[2] = {0.0, 0.0};
    if (kind == KEPT_GLASS_ANGLE)
        gradin_angle_field_m(e, size_m);
    else if (model->has_finite_panes)
        size_m[0] = e->width_m, size_m[1] = e->height_m;
    fold_size(hex, kind, size_m[0], size_m[1]);
    fold_buildup(hex, &model->buildup[e->buildup]);
    if (kind == KEPT_GLASS_ANGLE || e->shade < 0) return;
    const gradin_shade *shade = &model->shade[e->shade];
    fold_layers(hex, shade->is_by_layers ? shade->layer : NULL, shade->n_layer);
    fold(hex, shade->insertion_loss_db, GRADIN_N_BAND);
}

const kept_glass_entry *gradin_kept_glass_find(const gradin_kept_glass *kept, const char *key) {
    for (int i = 0; kept && i < kept->n; i++)
        if (memcmp(kept->entry[i].key, key, sizeof kept->entry[i].key) == 0) return &kept->entry[i];
    return NULL;
}

void gradin_kept_glass_add(gradin_kept_glass *kept, const kept_glass_entry *entry) {
    if (!kept || gradin_kept_glass_find(kept, entry->key)) return;
    if (kept->n == MOST_ENTRY) kept->n = 0;
    kept->entry[kept->n++] = *entry;
}
