/* overflight/pass.h: a straight, level pass in time and the sound power it sends onto an element.
 */
#ifndef GRADIN_OVERFLIGHT_PASS_H
#define GRADIN_OVERFLIGHT_PASS_H

#include "gradin/acoustics.h"

typedef struct gradin_window {
    gradin_vec3 nearest_m, velocity_ms; /* source at time 0, the closest approach */
    double closest_m, length_s;
    int n_time;
    double *time_s;   /* [n_time] */
    double *weight_s; /* [n_time] trapezoid weights; they sum to length_s */
} gradin_window;

/* The times at which the pass matters at centre_m; arrays in the arena. */
gradin_status gradin_window_make(gradin_arena *arena, const gradin_pass *pass, gradin_vec3 centre_m,
                                 gradin_window *window, gradin_error *error);

gradin_vec3 gradin_window_source_m(const gradin_window *window, double time_s);

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

gradin_source gradin_source_make(const gradin_pass *pass);

/* The building as a body up to its highest wall. False when its plan has no corner that turns
 * inwards: then none of its walls stands before another. */
bool gradin_building_make(const gradin_model *model, gradin_shape *building);

/* Free-field mean square pressure (re 20 uPa) at a distance, [GRADIN_N_BAND]. */
void gradin_source_free_field(const gradin_source *source, double distance_m, double *square);

/* Energy mean of a lobe over the sphere. */
double gradin_directivity_mean(const gradin_lobe *lobe);
/* Multiplies square[GRADIN_N_BAND] by what the source sends that way, from it to the listener. */
void gradin_source_turn(const gradin_source *source, gradin_vec3 way, double *square);

/* Power that falls on a square metre of the element, times rho c, [GRADIN_N_BAND]. */
void gradin_source_incident(const gradin_source *source, gradin_vec3 source_m,
                            const gradin_element *element, double *incident);

/* Middle of an element's rectangle; a vent's own point. */
gradin_vec3 gradin_element_centre_m(const gradin_element *element);

#endif
