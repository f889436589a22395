/* The room's reverberant field: that of a power W is (4) p^2 = 4 W rho c/R, with the room constant
 * R of absorption.c: the power that is left after the first reflection, W (1 - mean alpha), is what
 * surfaces and air take of the field. It takes the field as diffuse: the same at every seat (of
 * each side of an arch that divides the room: divide.c), good above the Schroeder frequency and
 * away from deep recesses. */
#include "acoustics/envelope/element.h"
#include "acoustics/room/divide.h"

#include <string.h>

static const double largest_mean_alpha = 0.99;

static double total_area_m2(const gradin_model *model) {
    double area_m2 = 0.0;
    for (int i = 0; i < model->n_surface; i++) area_m2 += model->surface[i].area_m2;
    for (int i = 0; i < model->n_element; i++)
        area_m2 += gradin_element_area_m2(&model->element[i]);
    return area_m2;
}

static double mean_alpha(const gradin_model *model, gradin_shade_state state, int band,
                         const gradin_scaling *scaling, double area_m2) {
    double sum_m2 = 0.0, factor = scaling->factor[band];
    for (int i = 0; i < model->n_surface; i++)
        sum_m2 += model->surface[i].area_m2 * gradin_surface_alpha(model, i, band, scaling);
    for (int i = 0; i < model->n_element; i++)
        sum_m2 += gradin_element_area_m2(&model->element[i]) *
                  gradin_element_absorption(model, &model->element[i], state, band, factor);
    return fmin(fmax(sum_m2 / area_m2, 0.0), largest_mean_alpha);
}

gradin_status gradin_scaled_field_make(const gradin_model *model, gradin_shade_state state,
                                       const gradin_scaling *scaling, gradin_room_field *field,
                                       gradin_error *error) {
    double area_m2 = total_area_m2(model), volume_m3 = model->volume_m3;
    if (!(area_m2 > 0.0) || !isfinite(area_m2) || !(volume_m3 > 0.0) || !isfinite(volume_m3))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the room needs a volume and surfaces");
    *field = (gradin_room_field){.main_side = 0};
    memcpy(field->factor, scaling->factor, sizeof field->factor);
    if (model->divide) return gradin_divided_field_make(model, state, scaling, field, error);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double alpha = mean_alpha(model, state, b, scaling, area_m2);
        double air_4m = gradin_room_air_4m(gradin_band_mid_hz(b));
        field->absorption_m2[b] = gradin_eyring_m2(area_m2, alpha, volume_m3, air_4m);
        for (int side = 0; side < 2; side++) {
            field->reverberation_s[side][b] =
                gradin_reverberation_s(volume_m3, field->absorption_m2[b]);
            for (int from = 0; from < 2; from++)
                field->reverberant_1m2[side][from][b] =
                    4.0 / gradin_room_constant_m2(area_m2, alpha, volume_m3, air_4m); /* (4) */
        }
    }
    return GRADIN_OK;
}
