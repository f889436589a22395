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
static void fill_extra(const gradin_model *model, double extra[GRADIN_N_BAND]) {
    double over_m2 = bare_m2(model);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double extra_m2 = 0.0;
        for (int i = GRADIN_N_SURFACE; i < model->n_surface; i++)
            extra_m2 += model->surface[i].area_m2 * model->surface[i].absorption[b];
        extra[b] = over_m2 > 0.0 ? extra_m2 / over_m2 : 0.0;
    }
}

static double alpha_of(const gradin_model *model, const gradin_patch *patch,
                       gradin_shade_state state, int b, const double *extra) {
    const gradin_surface *s = model->surface;
    const gradin_element *element = patch->element >= 0 ? &model->element[patch->element] : NULL;
    switch (patch->kind) {
    case GRADIN_PATCH_FLOOR:
        return patch->seated * s[GRADIN_SURFACE_SEATING].absorption[b] +
               (1.0 - patch->seated) * s[GRADIN_SURFACE_FLOOR].absorption[b];
    case GRADIN_PATCH_CEILING:
        return s[GRADIN_SURFACE_CEILING].absorption[b] + extra[b];
    case GRADIN_PATCH_WALL:
        return s[GRADIN_SURFACE_WALL].absorption[b] + extra[b];
    case GRADIN_PATCH_ELEMENT:
        break;
    }
    return gradin_element_absorption(model, element, state, b) +
           (gradin_element_is_opaque(element) ? extra[b] : 0.0);
}

void gradin_patches_alpha(const gradin_model *model, const gradin_patches *patches,
                          gradin_shade_state state, double *alpha, size_t stride) {
    double extra[GRADIN_N_BAND];
    fill_extra(model, extra);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        for (int i = 0; i < patches->n; i++)
            alpha[(size_t)b * stride + (size_t)i] =
                fmin(fmax(alpha_of(model, &patches->patch[i], state, b, extra), 0.0), 1.0);
}
