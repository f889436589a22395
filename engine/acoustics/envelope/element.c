/* Transmission of one element of the facade, S tau in m2.
 *
 * ISO 12354-3:2017 (EN 12354-3:2000): element by R_i and S_i, small element by Dn,e with
 * A0 = 10 m2 (4.2); joint by its reduction index per metre, reference length 1 m, so
 * S tau = l 10^(-Rs/10) (4.2 and Annex B, from memory). A door ajar lets everything through on its
 * open share. A shade hangs inside the whole element: its insertion loss acts on the closed share
 * of the power. */
#include "acoustics/envelope/element.h"

static const double dn_e_area_m2 = 10.0; /* A0 */

static double transmission(double r_db) {
    return pow(10.0, -0.1 * r_db);
}

double gradin_element_area_m2(const gradin_element *element) {
    return element->kind == GRADIN_ELEMENT_VENT
               ? 0.0
               : element->width_m * element->height_m * (1.0 - element->taken);
}

double gradin_shade_closed(const gradin_model *model, const gradin_element *element,
                           gradin_shade_state state) {
    if (element->shade < 0 || state == GRADIN_SHADES_OPEN) return 0.0;
    return state == GRADIN_SHADES_SHUT ? 1.0 : model->shade[element->shade].closed;
}

static void bare_parts_m2(const gradin_element *element, const gradin_glass *glass, int band,
                          double part_m2[GRADIN_N_PART_KIND]) {
    for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++) part_m2[kind] = 0.0;
    if (element->kind == GRADIN_ELEMENT_VENT) {
        part_m2[GRADIN_PART_VENT] = dn_e_area_m2 * transmission(element->dn_e_db[band]);
        return;
    }
    if (element->buildup < 0) return; /* opaque, its sound reduction not stated */
    double open = element->kind == GRADIN_ELEMENT_DOOR ? element->open : 0.0;
    double area_m2 = gradin_element_area_m2(element);
    part_m2[GRADIN_PART_BODY] = (1.0 - open) * area_m2 * fmin(transmission(glass->r_db[band]), 1.0);
    part_m2[GRADIN_PART_SEALS] = (1.0 - open) * element->joint_m *
                                 transmission(element->joint_r_db + element->joint_shape_db[band]);
    part_m2[GRADIN_PART_OPENING] = open * area_m2;
}

void gradin_element_parts_m2(const gradin_model *model, const gradin_element *element,
                             const gradin_glass *glass, gradin_shade_state state,
                             double tau_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND]) {
    double closed = gradin_shade_closed(model, element, state), part_m2[GRADIN_N_PART_KIND];
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double passed = 1.0;
        if (closed > 0.0) {
            double through = transmission(glass->shade_db[b]);
            passed = closed * through + (1.0 - closed);
        }
        bare_parts_m2(element, glass, b, part_m2);
        for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++)
            tau_m2[kind][b] = part_m2[kind] * passed * transmission(glass->site_db[b]);
    }
}

void gradin_element_tau_m2(const gradin_model *model, const gradin_element *element,
                           const gradin_glass *glass, gradin_shade_state state, double *tau_m2) {
    double part_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND];
    gradin_element_parts_m2(model, element, glass, state, part_m2);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        tau_m2[b] = 0.0;
        for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++) tau_m2[b] += part_m2[kind][b];
    }
}
