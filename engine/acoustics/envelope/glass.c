/* Glass and shade of each element of the facade.
 *
 * A build-up's R is that of a pane of no size up to the limiting angle, or of the element's own
 * width and height where the venue asks for it (finite.c). A shade's insertion loss is as given, or
 * R with its layers behind the glass less R without them. Measured figures win. Limits: a shade by
 * layers hangs before the whole element and lets no sound round its edges; R is that of diffuse
 * incidence. */
#include "acoustics/envelope/element.h"

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

gradin_status gradin_glass_make(const gradin_model *model, gradin_glass *glass,
                                gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int e = 0; status == GRADIN_OK && e < model->n_element; e++) {
        const gradin_element *element = &model->element[e];
        glass[e] = (gradin_glass){.r_db = {0.0}};
        if (element->buildup < 0) continue;
        int like = 0;
        while (like < e && !is_alike(model, &model->element[like], element)) like++;
        if (like < e) {
            glass[e] = glass[like];
            continue;
        }
        status = find_r(model, element, glass[e].r_db, error);
        if (status == GRADIN_OK) status = find_shade(model, element, glass[e].shade_db, error);
    }
    return status;
}
