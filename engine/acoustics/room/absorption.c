/* What absorbs in the room, and how long it rings.
 *
 * Eyring (1930): (1) A = -S ln(1 - mean alpha), and air adds 4 m V (ISO 9613-1 at 20 degC, 50 %);
 * (2) T = 55.26 V/(c A). That is for the decay. A steady field loses in a second what falls on its
 * surfaces times their mean alpha, whatever the paths between: its balance has Sabine's area, (3) R
 * = (S mean alpha + 4 m V)/(1 - mean alpha), the room constant (Beranek, "Acoustics", 1954, ch. 10;
 * Bies, Hansen, Howard 2017, section 6.4, equation (6.44), number from memory; both write S alpha
 * with the air in it). In a sphere without air (3) is exact: the multiplier rho/(1 - rho) of
 * Ulbricht's sphere.
 *
 * Glass absorbs as "heavy plate glass" in octaves 125..4000 Hz (widely reprinted table, first
 * printed by the Acoustical and Insulating Materials Association); a closed shade's own figure
 * counts instead. An open door absorbs everything. Opaque walls and roofs have their own figures.
 */
#include "acoustics/envelope/element.h"
#include "acoustics/room/room.h"

static const double air_temperature_c = 20.0, air_humidity_pct = 50.0, air_pressure_kpa = 101.325;

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

double gradin_room_constant_m2(double surface_m2, double mean_alpha, double volume_m3,
                               double air_4m) {
    return (surface_m2 * mean_alpha + air_4m * volume_m3) / (1.0 - mean_alpha); /* (3) */
}

double gradin_reverberation_s(double volume_m3, double absorption_m2) {
    return 55.26 * volume_m3 / (gradin_room_air_speed_ms() * absorption_m2); /* (2) */
}

double gradin_scaled_alpha(double alpha, double factor) {
    return fmin(factor * alpha, 1.0);
}

double gradin_surface_alpha(const gradin_model *model, int i, int band,
                            const gradin_scaling *scaling) {
    bool is_other = i == GRADIN_SURFACE_SEATING && scaling->seating;
    double alpha = is_other ? scaling->seating[band] : model->surface[i].absorption[band];
    return gradin_scaled_alpha(alpha, scaling->factor[band]);
}

double gradin_element_absorption(const gradin_model *model, const gradin_element *element,
                                 gradin_shade_state state, int band, double factor) {
    if (gradin_element_is_opaque(element))
        return gradin_scaled_alpha(element->absorption[band], factor);
    double closed = gradin_shade_closed(model, element, state);
    double glass = gradin_scaled_alpha(glass_absorption[band / 3], factor);
    double open = element->kind == GRADIN_ELEMENT_DOOR ? element->open : 0.0;
    double behind = open + (1.0 - open) * glass;
    if (closed <= 0.0) return behind;
    double shade = gradin_scaled_alpha(model->shade[element->shade].absorption[band], factor);
    return closed * shade + (1.0 - closed) * behind;
}
