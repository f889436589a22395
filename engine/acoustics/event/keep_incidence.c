/* What events send onto the facade, kept from one model to the next by all that it follows from:
 * the class and its track, the air, the places of the elements, the building and the ground. What
 * the elements let through is no part of it, so that halls with other glass share it. Names do not
 * matter. Too many are dropped before the next room: it costs time, no result. */
#include "acoustics/event/keep_incidence.h"
#include "base/arena.h"
#include "base/digest.h"

#include <string.h>

enum { MOST_ENTRY = 256 };

static const double most_bytes = 256e6;

typedef struct kept_incidence {
    char key[33];
    gradin_arena *arena;
    gradin_incidence incidence;
} kept_incidence;

struct gradin_kept_incidences {
    gradin_arena *arena;
    int n;
    bool is_full;
    double bytes;
    kept_incidence entry[MOST_ENTRY];
};

gradin_kept_incidences *gradin_kept_incidences_create(void) {
    gradin_arena *arena = gradin_arena_create();
    gradin_kept_incidences *kept = arena ? gradin_arena_alloc(arena, 1, sizeof *kept) : NULL;
    if (kept)
        kept->arena = arena;
    else
        gradin_arena_destroy(arena);
    return kept;
}

static void drop_all(gradin_kept_incidences *kept) {
    for (int i = 0; i < kept->n; i++) gradin_arena_destroy(kept->entry[i].arena);
    kept->n = 0;
    kept->bytes = 0.0;
    kept->is_full = false;
}

void gradin_kept_incidences_destroy(gradin_kept_incidences *kept) {
    if (!kept) return;
    drop_all(kept);
    gradin_arena_destroy(kept->arena);
}

void gradin_kept_incidences_sweep(gradin_kept_incidences *kept) {
    if (kept && kept->is_full) drop_all(kept);
}

static void fold(char hex[33], const double *value, size_t n) {
    gradin_digest_fold(hex, value, n * sizeof *value);
}

static void fold_count(char hex[33], int64_t n) {
    gradin_digest_fold(hex, &n, sizeof n);
}

static void fold_class(char hex[33], const gradin_class *c) {
    const gradin_directivity *d = &c->directivity;
    fold(hex, &c->reference_m, 1);
    fold(hex, c->level_db, GRADIN_N_BAND);
    fold_count(hex, d->is_mean_level);
    fold_count(hex, d->n_lobe);
    for (int i = 0; i < d->n_lobe; i++) {
        fold_count(hex, d->lobe[i].first_band);
        fold_count(hex, d->lobe[i].n_band);
        fold_count(hex, d->lobe[i].n_angle);
        fold(hex, d->lobe[i].angle_deg, (size_t)d->lobe[i].n_angle);
        fold(hex, d->lobe[i].gain_db, (size_t)d->lobe[i].n_angle);
    }
}

static void fold_track(char hex[33], const gradin_track *t) {
    const double held[] = {t->hold_s, t->bearing_deg};
    fold_count(hex, t->n_point);
    for (int i = 0; i < t->n_point; i++) {
        const double point[] = {t->n_point > 1 ? t->time_s[i] : 0.0, t->point_m[i].x,
                                t->point_m[i].y, t->point_m[i].z};
        fold(hex, point, sizeof point / sizeof *point);
    }
    if (t->n_point == 1) fold(hex, held, sizeof held / sizeof *held);
}

static void fold_day(char hex[33], const gradin_traffic *t) {
    const double air[] = {t->temperature_c, t->humidity_pct, t->pressure_kpa};
    fold(hex, air, sizeof air / sizeof *air);
    fold_count(hex, t->weighting);
    fold_count(hex, t->has_lateral);
    fold_count(hex, t->has_impedance);
}

/* Of the model, what incidence.c, outside.c and source/ read of it. */
static void fold_model(char hex[33], const gradin_model *m) {
    const gradin_polygon *plan = &m->footprint;
    fold_count(hex, m->ground);
    fold(hex, &m->ceiling_m, 1);
    fold_count(hex, plan->n_corner);
    for (int i = 0; i < plan->n_corner; i++) {
        const double corner[] = {plan->corner_m[i].x, plan->corner_m[i].y};
        fold(hex, corner, 2);
    }
    fold_count(hex, m->n_element);
    for (int e = 0; e < m->n_element; e++) {
        const gradin_element *at = &m->element[e];
        const double place[] = {at->corner_m.x, at->corner_m.y, at->corner_m.z, at->along.x,
                                at->along.y,    at->outward.x,  at->outward.y,  at->width_m,
                                at->height_m,   at->tilt_deg,   at->wall_top_m};
        fold_count(hex, at->kind);
        fold(hex, place, sizeof place / sizeof *place);
    }
}

static void find_key(const gradin_model *model, const gradin_traffic *traffic, int class_index,
                     int track, char hex[33]) {
    hex[0] = '\0';
    fold_class(hex, &traffic->class_of[class_index]);
    fold_track(hex, &traffic->track[track]);
    fold_day(hex, traffic);
    fold_model(hex, model);
}

static const gradin_incidence *find(const gradin_kept_incidences *kept, const char *key) {
    for (int i = 0; i < kept->n; i++)
        if (memcmp(kept->entry[i].key, key, sizeof kept->entry[i].key) == 0)
            return &kept->entry[i].incidence;
    return NULL;
}

static double bytes_of(const gradin_incidence *i) {
    double n_time = i->moments.n;
    return sizeof(double) * n_time * (GRADIN_N_BAND + 10.0) * (i->n_element + 1.0);
}

/* Takes over the arena with what it holds; NULL when there is no room, or it is there already. */
static const gradin_incidence *add(gradin_kept_incidences *kept, const char *key,
                                   gradin_arena *arena, const gradin_incidence *made) {
    double bytes = kept->bytes + bytes_of(made);
    if (find(kept, key)) return NULL;
    if (kept->n == MOST_ENTRY || bytes > most_bytes) {
        kept->is_full = true;
        return NULL;
    }
    kept_incidence *entry = &kept->entry[kept->n++];
    *entry = (kept_incidence){.arena = arena, .incidence = *made};
    memcpy(entry->key, key, sizeof entry->key);
    kept->bytes = bytes;
    return &entry->incidence;
}

static gradin_status make_in(gradin_arena *arena, const gradin_model *model,
                             const gradin_traffic *traffic, int class_index, int track,
                             gradin_incidence **made, gradin_error *error) {
    *made = gradin_arena_alloc(arena, 1, sizeof **made);
    return *made ? gradin_incidence_make(arena, model, traffic, class_index, track, *made, error)
                 : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Made in an arena of its own, which `kept` takes over or, full, the caller's arena does. */
static gradin_status make_kept(gradin_arena *arena, gradin_kept_incidences *kept, const char *key,
                               const gradin_model *model, const gradin_traffic *traffic,
                               int class_index, int track, const gradin_incidence **incidence,
                               gradin_error *error) {
    gradin_incidence *made = NULL;
    const gradin_incidence *added = NULL;
    gradin_arena *own = gradin_arena_create();
    if (!own) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = make_in(own, model, traffic, class_index, track, &made, error);
    if (status == GRADIN_OK) {
#pragma omp critical(gradin_kept_incidences)
        added = add(kept, key, own, made);
    }
    if (!added) arena_adopt(arena, own);
    *incidence = added ? added : made;
    return status;
}

gradin_status gradin_incidence_take(gradin_arena *arena, gradin_kept_incidences *kept,
                                    const gradin_model *model, const gradin_traffic *traffic,
                                    int class_index, int track, const gradin_incidence **incidence,
                                    gradin_error *error) {
    char key[33];
    gradin_incidence *made = NULL;
    if (!kept) {
        gradin_status status = make_in(arena, model, traffic, class_index, track, &made, error);
        *incidence = made;
        return status;
    }
    find_key(model, traffic, class_index, track, key);
#pragma omp critical(gradin_kept_incidences)
    *incidence = find(kept, key);
    return *incidence
               ? GRADIN_OK
               : make_kept(arena, kept, key, model, traffic, class_index, track, incidence, error);
}
