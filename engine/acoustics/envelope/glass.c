/* Glass and shade of each element of the facade.
 *
 * A build-up's R is that of the usual sample of a laboratory, or of the element's own width and
 * height where the venue asks for it (finite.c). A shade's insertion loss is as given, or
 * R with its layers behind the glass less R without them. Measured figures win. Limits: a shade by
 * layers hangs before the whole element and lets no sound round its edges, and takes the same off
 * at every angle. By angle: angle.c. */
#include "acoustics/envelope/element.h"
#include "acoustics/envelope/keep_glass.h"
#include "gradin/acoustics/glazing.h"

#include <string.h>

static bool is_alike(const gradin_model *model, const gradin_element *a, const gradin_element *b) {
    if (a->buildup != b->buildup || a->shade != b->shade) return false;
    return !model->has_finite_panes || (a->width_m == b->width_m && a->height_m == b->height_m);
}

static gradin_status find_r(const gradin_model *model, const gradin_element *element, double *r_db,
                            gradin_error *error) {
    const gradin_buildup *buildup = &model->buildup[element->buildup];
    return model->has_finite_panes ? gradin_glazing_finite_r_db(buildup, element->width_m,
                                                                element->height_m, r_db, error)
                                   : gradin_glazing_r_db(buildup, r_db, error);
}

static gradin_status find_shade(const gradin_model *model, const gradin_element *element,
                                double *loss_db, gradin_error *error) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        loss_db[b] = element->shade < 0 ? 0.0 : model->shade[element->shade].insertion_loss_db[b];
    if (element->shade < 0 || !model->shade[element->shade].is_by_layers) return GRADIN_OK;
    const gradin_shade *shade = &model->shade[element->shade];
    bool has_size = model->has_finite_panes;
    return gradin_glazing_insertion_db(&model->buildup[element->buildup], shade->layer,
                                       shade->n_layer, has_size ? element->width_m : 0.0,
                                       has_size ? element->height_m : 0.0, loss_db, error);
}

static gradin_status find_angle(const gradin_model *model, const gradin_element *element,
                                gradin_by_angle *by, gradin_error *error) {
    double size_m[2];
    gradin_angle_field_m(element, size_m);
    return gradin_angle_make(&model->buildup[element->buildup], size_m, by, error);
}

static bool has_like_angle(const gradin_element *a, const gradin_element *b) {
    double size_m[2][2];
    gradin_angle_field_m(a, size_m[0]);
    gradin_angle_field_m(b, size_m[1]);
    return a->buildup == b->buildup && size_m[0][0] == size_m[1][0] && size_m[0][1] == size_m[1][1];
}

/* Elements that differ in what they pass by angle each get a table; *n gets their number and
 * first[n] the first element of each. */
static gradin_by_angle *list_angles(gradin_arena *arena, const gradin_model *model,
                                    gradin_glass *glass, int *first, int *n) {
    gradin_by_angle *made = NULL;
    int *which = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof *which);
    *n = 0;
    for (int e = 0; which && e < model->n_element; e++) {
        const gradin_element *element = &model->element[e];
        int like = 0;
        if (element->buildup < 0) continue;
        while (like < *n && !has_like_angle(&model->element[first[like]], element)) like++;
        if (like == *n) first[(*n)++] = e;
        which[e] = like;
    }
    if (which) made = gradin_arena_alloc(arena, (size_t)*n, sizeof *made);
    for (int e = 0; made && e < model->n_element; e++)
        if (model->element[e].buildup >= 0) glass[e].by_angle = &made[which[e]];
    return made;
}

static gradin_status find_angle_kept(const gradin_model *model, const gradin_element *element,
                                     const gradin_kept_glass *kept, gradin_by_angle *by,
                                     gradin_error *error) {
    char key[33];
    const kept_glass_entry *found = NULL;
    if (kept) {
        gradin_kept_glass_key(model, element, KEPT_GLASS_ANGLE, key);
        found = gradin_kept_glass_find(kept, key);
    }
    if (found) *by = found->by_angle;
    return found ? GRADIN_OK : find_angle(model, element, by, error);
}

static void keep_angles(const gradin_model *model, gradin_kept_glass *kept, const int *first, int n,
                        const gradin_by_angle *made) {
    for (int k = 0; kept && k < n; k++) {
        kept_glass_entry entry = {.by_angle = made[k]};
        gradin_kept_glass_key(model, &model->element[first[k]], KEPT_GLASS_ANGLE, entry.key);
        gradin_kept_glass_add(kept, &entry);
    }
}

static gradin_status find_angles(gradin_arena *arena, const gradin_model *model,
                                 gradin_kept_glass *kept, gradin_glass *glass,
                                 gradin_error *error) {
    gradin_status status = GRADIN_OK;
    int n = 0, *first = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof *first);
    gradin_by_angle *made = first ? list_angles(arena, model, glass, first, &n) : NULL;
    if (!made) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
#pragma omp parallel for schedule(dynamic, 1)
    for (int k = 0; k < n; k++) {
        gradin_error mine = {0};
        gradin_status own =
            find_angle_kept(model, &model->element[first[k]], kept, &made[k], &mine);
#pragma omp critical(gradin_angle)
        if (own != GRADIN_OK && status == GRADIN_OK) {
            status = own;
            gradin_error_add(error, own, NULL, "%s", mine.diagnostic[0].text);
        }
    }
    if (status == GRADIN_OK) keep_angles(model, kept, first, n, made);
    return status;
}

static gradin_status find_pane(const gradin_model *model, const gradin_element *element,
                               gradin_kept_glass *kept, gradin_glass *glass, gradin_error *error) {
    kept_glass_entry entry = {.key = ""};
    if (kept) gradin_kept_glass_key(model, element, KEPT_GLASS_R, entry.key);
    const kept_glass_entry *found = gradin_kept_glass_find(kept, entry.key);
    if (found) {
        memcpy(glass->r_db, found->r_db, sizeof glass->r_db);
        memcpy(glass->shade_db, found->shade_db, sizeof glass->shade_db);
        return GRADIN_OK;
    }
    gradin_status status = find_r(model, element, glass->r_db, error);
    if (status == GRADIN_OK) status = find_shade(model, element, glass->shade_db, error);
    if (status != GRADIN_OK) return status;
    memcpy(entry.r_db, glass->r_db, sizeof entry.r_db);
    memcpy(entry.shade_db, glass->shade_db, sizeof entry.shade_db);
    gradin_kept_glass_add(kept, &entry);
    return GRADIN_OK;
}

gradin_status gradin_glass_make(gradin_arena *arena, const gradin_model *model,
                                gradin_kept_glass *kept, gradin_glass *glass, gradin_error *error) {
    const gradin_buildup report = {.is_measured = true}; /* what Dn,e of a vent comes from */
    gradin_status status = GRADIN_OK;
    for (int e = 0; status == GRADIN_OK && e < model->n_element; e++) {
        const gradin_element *element = &model->element[e];
        glass[e] = (gradin_glass){.r_db = {0.0}};
        gradin_glazing_uncertainty_db(element->buildup < 0 ? &report
                                                           : &model->buildup[element->buildup],
                                      glass[e].uncertainty_db);
        if (element->buildup < 0) continue;
        int like = 0;
        while (like < e && !is_alike(model, &model->element[like], element)) like++;
        if (like < e) {
            glass[e] = glass[like];
            continue;
        }
        status = find_pane(model, element, kept, &glass[e], error);
    }
    return status == GRADIN_OK ? find_angles(arena, model, kept, glass, error) : status;
}
