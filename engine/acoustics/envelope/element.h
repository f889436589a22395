/* facade/element.h: what one element of the facade lets in. */
#ifndef GRADIN_FACADE_ELEMENT_H
#define GRADIN_FACADE_ELEMENT_H

#include "gradin/facade.h"

/* Area of a pane or a door; 0 of a vent. */
double gradin_element_area_m2(const gradin_element *element);

/* Closed fraction of the element's shade in a state, 0 without a shade. */
double gradin_shade_closed(const gradin_model *model, const gradin_element *element,
                           gradin_shade_state state);

/* Glass and shades of all elements, glass[n_element]; nothing of a vent. */
gradin_status gradin_glass_make(const gradin_model *model, gradin_glass *glass,
                                gradin_error *error);

/* S tau of each part of an element, as gradin_element_tau_m2() sums them. */
void gradin_element_parts_m2(const gradin_model *model, const gradin_element *element,
                             const gradin_glass *glass, gradin_shade_state state,
                             double tau_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND]);

/* S tau of an element, tau_m2[GRADIN_N_BAND]: area, joints, opening and shade, or a vent's
 * A0 10^(-Dn,e/10). glass is the element's own, unused for a vent. */
void gradin_element_tau_m2(const gradin_model *model, const gradin_element *element,
                           const gradin_glass *glass, gradin_shade_state state, double *tau_m2);

#endif
