/* source/source.h: a source's spectrum and the sound power it sends onto an element. */
#ifndef GRADIN_SOURCE_SOURCE_H
#define GRADIN_SOURCE_SOURCE_H

#include "gradin/acoustics.h"
#include "gradin/acoustics/traffic.h"

/* The source's spectrum made ready for sums. */
typedef struct gradin_source {
    double reference_m;
    double power[GRADIN_N_BAND];         /* 10^(L/10) at reference_m */
    double absorption_1m[GRADIN_N_BAND]; /* of energy, by air */
    double wavelength_m[GRADIN_N_BAND];
    gradin_directivity directivity;
    double mean[GRADIN_N_BAND];   /* energy that divides the directivity's factors */
    const gradin_shape *building; /* that other walls of it may shield from; NULL: none does */
    gradin_vec3 heading; /* unit; direction of travel, without meaning when alike all round */
} gradin_source;

/* Of one class in the traffic's air, heading nowhere. */
gradin_source gradin_source_make(const gradin_traffic *traffic, const gradin_class *of);

/* The building as a body up to its highest wall. False when its plan has no corner that turns
 * inwards: then none of its walls stands before another. */
bool gradin_building_make(const gradin_model *model, gradin_shape *building);

/* alike.c: ratio[GRADIN_N_BAND] of what one source sends to what the other does, wherever it goes.
 * False when they do not differ in level alone. */
bool gradin_source_ratio(const gradin_source *of, const gradin_source *to, double *ratio);

/* Free-field mean square pressure (re 20 uPa) at a distance, [GRADIN_N_BAND]. */
void gradin_source_free_field(const gradin_source *source, double distance_m, double *square);

/* Energy mean of a lobe over the sphere. */
double gradin_directivity_mean(const gradin_lobe *lobe);
/* Multiplies square[GRADIN_N_BAND] by what the source sends that way, from it to the listener. */
void gradin_source_turn(const gradin_source *source, gradin_vec3 way, double *square);

/* The wave that meets the middle of the element: its intensity times rho c, [GRADIN_N_BAND], and
 * its angle from the outward normal, pi/2 of what bends round to an element turned away. */
void gradin_source_incident(const gradin_source *source, gradin_vec3 source_m,
                            const gradin_element *element, double *intensity, double *angle_rad);

/* incident.c: from a point of the element's plane to the edge over which sound bends; the energy
 * left behind an edge; how far a wave of cosine `lit` to the normal is out of the half shadow of
 * the edge, 0..1; the detour over the wing before a point of the element, negative without one. */
double gradin_edge_m(const gradin_element *element, gradin_vec3 point_m);
double gradin_energy_behind(double detour_m, double wavelength_m);
double gradin_out_of_half_shadow(double lit, double edge_m, double wavelength_m);
double gradin_over_wing_m(const gradin_shape *building, const gradin_element *element,
                          gradin_vec3 point_m, gradin_vec3 source_m);

/* Adds what the ground before an upright element reflects onto it, as intensity at the angle of the
 * straight wave. Nothing for an element turned away, and none for GRADIN_GROUND_NONE. */
void gradin_source_reflect(const gradin_source *source, gradin_ground ground, gradin_vec3 source_m,
                           const gradin_element *element, double *intensity);
/* Share of the energy that ground sends back of a plane wave whose ray rises by asin(rise). */
double gradin_ground_energy(gradin_ground ground, int band, double rise);

/* Middle of an element's rectangle; a vent's own point. */
gradin_vec3 gradin_element_centre_m(const gradin_element *element);

#endif
