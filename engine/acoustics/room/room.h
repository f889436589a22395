/* room/room.h: the room's own sound field: absorption, reverberant field, direct field of the
 * elements. */
#ifndef GRADIN_ROOM_ROOM_H
#define GRADIN_ROOM_ROOM_H

#include "gradin/acoustics.h"

typedef struct gradin_room_field {
    double absorption_m2[GRADIN_N_BAND];      /* Eyring, with air */
    double reverberation_s[2][GRADIN_N_BAND]; /* [side], Eyring, with air */
    /* [side of the listener][side of the source] mean square pressure per (W rho c). One room:
     * both sides are the same. */
    double reverberant_1m2[2][2][GRADIN_N_BAND];
    int main_side; /* with most seats */
    double
        factor[GRADIN_N_BAND]; /* on the stated absorption; 1 unless reverberation was measured */
} gradin_room_field;

/* How a field takes what is stated: factors on the absorption, and the seats' own at the time of a
 * measurement, or NULL. */
typedef struct gradin_scaling {
    double factor[GRADIN_N_BAND];
    const double *seating;
} gradin_scaling;

/* Of the model's surface i. */
double gradin_surface_alpha(const gradin_model *model, int i, int band,
                            const gradin_scaling *scaling);
/* field.c: the field with absorption as scaled. */
gradin_status gradin_scaled_field_make(const gradin_model *model, gradin_shade_state state,
                                       const gradin_scaling *scaling, gradin_room_field *field,
                                       gradin_error *error);

/* reverberation.c: factors by which the diffuse field rings as the model's measured reverberation
 * says. GRADIN_BAD_INPUT when none does. */
gradin_status gradin_reverberation_factors(const gradin_model *model, double *factor,
                                           gradin_error *error);
/* The seats' absorption at the measurement, NULL when as the venue states it. */
const double *gradin_reverberation_seating(const gradin_reverberation *measured);
/* Bands from `first` on that share the factor of their middle one: those of an octave (63 Hz with
 * 125 Hz) whose times are the same. */
int gradin_reverberation_run(const gradin_reverberation *measured, int first);
/* GRADIN_BAD_INPUT at the measured time of a band. */
gradin_status gradin_reverberation_refuse(const gradin_model *model, int band, const char *why,
                                          gradin_error *error);

/* Side of a point and of an element's middle when the arch divides the room, else 0. */
int gradin_room_side(const gradin_model *model, gradin_vec3 at_m);
int gradin_element_side(const gradin_model *model, const gradin_element *element);

/* Energy attenuation 4m of the room's air, 1/m, times volume gives its absorption. */
double gradin_room_air_4m(double f_hz);
double gradin_room_air_speed_ms(void);
/* Eyring's absorption of a mean coefficient, with air; mean_alpha 0..1. */
double gradin_eyring_m2(double surface_m2, double mean_alpha, double volume_m3, double air_4m);
/* Room constant of the steady field, with air; mean_alpha 0..1, infinite at 1. */
double gradin_room_constant_m2(double surface_m2, double mean_alpha, double volume_m3,
                               double air_4m);
/* T = 55.26 V/(c A). */
double gradin_reverberation_s(double volume_m3, double absorption_m2);

/* Of a surface by the factor of a measured reverberation: at most 1. */
double gradin_scaled_alpha(double alpha, double factor);
/* Absorption coefficient of an element's room side, times the factor; what stands open swallows all
 * whatever the factor. */
double gradin_element_absorption(const gradin_model *model, const gradin_element *element,
                                 gradin_shade_state state, int band, double factor);

/* GRADIN_BAD_USE for a room without volume or surfaces. */
gradin_status gradin_room_field_make(const gradin_model *model, gradin_shade_state state,
                                     gradin_room_field *field, gradin_error *error);

/* Structure and arch of the model, and its walls when the plan is not convex: what can hide an
 * element from a seat. In the arena. */
gradin_status gradin_room_scene_make(gradin_arena *arena, const gradin_model *model,
                                     gradin_scene *scene, gradin_error *error);
/* The same made ready for rays, along the walls; the scene must outlive it. NULL when out of
 * memory. */
gradin_mask_scene *gradin_room_sight_make(gradin_arena *arena, const gradin_model *model,
                                          const gradin_scene *scene);

/* Solid angle of the rectangle x0..x1, y0..y1 of a plane z in front of the origin, sr. */
double gradin_rectangle_sr(double x0, double x1, double y0, double y1, double z);

/* Direct field: mean square pressure at eye_m per (W rho c) that the element lets in, 1/m2. */
double gradin_direct_1m2(const gradin_element *element, gradin_vec3 eye_m,
                         const gradin_mask_scene *scene);

#endif
