/* Absorption of the room, its reverberation and reverberant field.
 *
 * Eyring (1930): (1) A = -S ln(1 - mean alpha), and air adds 4 m V (ISO 9613-1 at 20 degC, 50 %);
 * (2) T = 55.26 V/(c A). The reverberant field of a power W is (3) p^2 = 4 W rho c (1 - mean
 * alpha)/A: what is left after the first reflection (Kuttruff, "Room Acoustics"). It takes the
 * field as diffuse: the same at every seat (of each side of an arch that divides the room:
 * divide.c), good above the Schroeder frequency and away from deep recesses.
 *
 * Glass absorbs as "heavy plate glass" in octaves 125..4000 Hz (widely reprinted table, first
 * printed by the Acoustical and Insulating Materials Association); a closed shade's own figure
 * counts instead. An open door absorbs everything. */
#include "acoustics/envelope/element.h"
#include "acoustics/room/divide.h"

static const double air_temperature_c = 20.0, air_humidity_pct = 50.0, air_pressure_kpa = 101.325;
static const double largest_mean_alpha = 0.99;

/* octaves 63 (as 125) .. 4000 Hz */
static const double glass_absorption[GRADIN_N_OCTAVE] = {0.18, 0.18, 0.06, 0.04, 0.03, 0.02, 0.02};

double gradin_room_air_4m(double f_hz) {
    double alpha_dbm =
        gradin_air_absorption_dbm(f_hz, air_temperature_c, air_humidity_pct, air_pressure_kpa);
    return 4.0 * alpha_dbm * log(10.0) / 10.0;
}

double gradin_room_air_speed_ms(void) {
    return gradin_air_speed_ms(air_temperature_c);
}

double gradin_eyring_m2(double surface_m2, double mean_alpha, double volume_m3, double air_4m) {
    return -surface_m2 * log1p(-mean_alpha) + air_4m * volume_m3; /* (1) */
}

double gradin_reverberation_s(double volume_m3, double absorption_m2) {
    return 55.26 * volume_m3 / (gradin_room_air_speed_ms() * absorption_m2); /* (2) */
}

double gradin_element_absorption(const gradin_model *model, const gradin_element *element,
                                 gradin_shade_state state, int band) {
    double closed = gradin_shade_closed(model, element, state), glass = glass_absorption[band / 3];
    double open = element->kind == GRADIN_ELEMENT_DOOR ? element->open : 0.0;
    double behind = open + (1.0 - open) * glass;
    if (closed <= 0.0) return behind;
    return closed * model->shade[element->shade].absorption[band] + (1.0 - closed) * behind;
}

static double total_area_m2(const gradin_model *model) {
    double area_m2 = 0.0;
    for (int i = 0; i < model->n_surface; i++) area_m2 += model->surface[i].area_m2;
    for (int i = 0; i < model->n_element; i++)
        area_m2 += gradin_element_area_m2(&model->element[i]);
    return area_m2;
}

static double mean_alpha(const gradin_model *model, gradin_shade_state state, int band,
                         double area_m2) {
    double sum_m2 = 0.0;
    for (int i = 0; i < model->n_surface; i++)
        sum_m2 += model->surface[i].area_m2 * model->surface[i].absorption[band];
    for (int i = 0; i < model->n_element; i++)
        sum_m2 += gradin_element_area_m2(&model->element[i]) *
                  gradin_element_absorption(model, &model->element[i], state, band);
    return fmin(fmax(sum_m2 / area_m2, 0.0), largest_mean_alpha);
}

gradin_status gradin_room_field_make(const gradin_model *model, gradin_shade_state state,
                                     gradin_room_field *field, gradin_error *error) {
    double area_m2 = total_area_m2(model), volume_m3 = model->volume_m3;
    if (!(area_m2 > 0.0) || !isfinite(area_m2) || !(volume_m3 > 0.0) || !isfinite(volume_m3))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the room needs a volume and surfaces");
    *field = (gradin_room_field){.main_side = 0};
    if (model->divide) return gradin_divided_field_make(model, state, field, error);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double alpha = mean_alpha(model, state, b, area_m2);
        double air_4m = gradin_room_air_4m(gradin_band_mid_hz(b));
        field->absorption_m2[b] = gradin_eyring_m2(area_m2, alpha, volume_m3, air_4m);
        for (int side = 0; side < 2; side++) {
            field->reverberation_s[side][b] =
                gradin_reverberation_s(volume_m3, field->absorption_m2[b]);
            for (int from = 0; from < 2; from++)
                field->reverberant_1m2[side][from][b] =
                    4.0 * (1.0 - alpha) / field->absorption_m2[b]; /* (3) */
        }
    }
    return GRADIN_OK;
}
