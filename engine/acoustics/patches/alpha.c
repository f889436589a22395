/* What the patches absorb. The seated share of a floor absorbs as occupied seating. An extra
 * absorbing area of the venue has no place: it hangs evenly on ceiling and walls. */
#include "acoustics/envelope/element.h"
#include "acoustics/patches/patch.h"

static double bare_m2(const gradin_model *model) {
    double sum_m2 = model->surface[GRADIN_SURFACE_CEILING].area_m2 +
                    model->surface[GRADIN_SURFACE_WALL].area_m2;
    for (int e = 0; e < model->n_element; e++)
        if (gradin_element_is_opaque(&model->element[e]))
            sum_m2 += gradin_element_area_m2(&model->element[e]);
    return sum_m2;
}

/* Of the extra areas, spread over what is bare. */
static double extra_alpha(const gradin_model *model, int b, const gradin_scaling *scaling) {
    double over_m2 = bare_m2(model), extra_m2 = 0.0;
    for (int i = GRADIN_N_SURFACE; i < model->n_surface; i++)
        extra_m2 += model->surface[i].area_m2 * gradin_surface_alpha(model, i, b, scaling);
    return over_m2 > 0.0 ? extra_m2 / over_m2 : 0.0;
}

static double alpha_of(const gradin_model *model, const gradin_patch *patch,
                       gradin_shade_state state, int b, const gradin_scaling *scaling,
                       double extra) {
    const gradin_element *element = patch->element >= 0 ? &model->element[patch->element] : NULL;
    switch (patch->kind) {
    case GRADIN_PATCH_FLOOR:
        return patch->seated * gradin_surface_alpha(model, GRADIN_SURFACE_SEATING, b, scaling) +
               (1.0 - patch->seated) *
                   gradin_surface_alpha(model, GRADIN_SURFACE_FLOOR, b, scaling);
    case GRADIN_PATCH_CEILING:
        return gradin_surface_alpha(model, GRADIN_SURFACE_CEILING, b, scaling) + extra;
    case GRADIN_PATCH_WALL:
        return gradin_surface_alpha(model, GRADIN_SURFACE_WALL, b, scaling) + extra;
    case GRADIN_PATCH_ELEMENT:
        break;
    }
    return gradin_element_absorption(model, element, state, b, scaling->factor[b]) +
           (gradin_element_is_opaque(element) ? extra : 0.0);
}

void gradin_patches_alpha_band(const gradin_model *model, const gradin_patches *patches,
                               gradin_shade_state state, const gradin_scaling *scaling, int band,
                               double *alpha) {
    double extra = extra_alpha(model, band, scaling);
    for (int i = 0; i < patches->n; i++)
        alpha[i] =
            fmin(fmax(alpha_of(model, &patches->patch[i], state, band, scaling, extra), 0.0), 1.0);
}

void gradin_patches_alpha(const gradin_model *model, const gradin_patches *patches,
                          gradin_shade_state state, const double *factor, double *alpha,
                          size_t stride) {
    gradin_scaling scaling = {.seating = NULL};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        scaling.factor[b] = factor ? factor[b] : 1.0;
        gradin_patches_alpha_band(model, patches, state, &scaling, b, alpha + (size_t)b * stride);
    }
}
