/* facade/element.h: what one element of the facade lets in. */
#ifndef GRADIN_FACADE_ELEMENT_H
#define GRADIN_FACADE_ELEMENT_H

#include "gradin/acoustics/facade.h"
#include "gradin/acoustics/glazing.h"

/* Area of a pane or a door; 0 of a vent. */
double gradin_element_area_m2(const gradin_element *element);

/* Closed fraction of the element's shade in a state, 0 without a shade. */
double gradin_shade_closed(const gradin_model *model, const gradin_element *element,
                           gradin_shade_state state);

/* Power that the closed part passes of a plane wave, over intensity x S x tau, at the nodes of
 * gradin_oblique: half of it in the mean over a hemisphere. */
struct gradin_by_angle {
    double closed[GRADIN_N_BAND][GRADIN_N_OBLIQUE];
};

typedef struct gradin_kept_glass gradin_kept_glass;

/* Glass and shades of all elements, glass[n_element], by angle in the arena; nothing of a vent. The
 * same for any number of threads, and with what is kept of other models (keep_glass.h) or NULL. */
gradin_status gradin_glass_make(gradin_arena *arena, const gradin_model *model,
                                gradin_kept_glass *kept, gradin_glass *glass, gradin_error *error);

/* angle.c: the size that an element's shape over the angle follows, and that shape. */
void gradin_angle_field_m(const gradin_element *element, double size_m[2]);
gradin_status gradin_angle_make(const gradin_buildup *buildup, const double size_m[2],
                                gradin_by_angle *by, gradin_error *error);
/* Node of the table at or below an angle, and how far on to the next it lies. */
double gradin_angle_place(double angle_rad, int *node);
/* Power that a part passes of a plane wave, over intensity x its S tau. */
double gradin_angle_share(const gradin_glass *glass, gradin_part_kind kind, int band,
                          double angle_rad);
/* Power that an element passes of a plane wave, over intensity, at the nodes. */
void gradin_element_passed_m2(const gradin_model *model, const gradin_element *element,
                              const gradin_glass *glass, gradin_shade_state state,
                              double passed_m2[GRADIN_N_BAND][GRADIN_N_OBLIQUE]);

/* S tau of each part of an element, as gradin_element_tau_m2() sums them. */
void gradin_element_parts_m2(const gradin_model *model, const gradin_element *element,
                             const gradin_glass *glass, gradin_shade_state state,
                             double tau_m2[GRADIN_N_PART_KIND][GRADIN_N_BAND]);

/* How an element's figures are known, and how well in a band, as a standard uncertainty. */
typedef enum gradin_known {
    GRADIN_KNOWN_MEASURED,
    GRADIN_KNOWN_PREDICTED,
    GRADIN_N_KNOWN
} gradin_known;
gradin_known gradin_element_known(const gradin_model *model, const gradin_element *element);
double gradin_element_uncertainty_db(const gradin_model *model, const gradin_element *element,
                                     const gradin_glass *glass, int band);

/* S tau of an element, tau_m2[GRADIN_N_BAND]: area, joints, opening and shade, or a vent's
 * A0 10^(-Dn,e/10). glass is the element's own, unused for a vent. */
void gradin_element_tau_m2(const gradin_model *model, const gradin_element *element,
                           const gradin_glass *glass, gradin_shade_state state, double *tau_m2);

#endif
