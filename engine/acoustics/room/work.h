/* room/work.h: what all seats of one noise computation share. */
#ifndef GRADIN_ROOM_WORK_H
#define GRADIN_ROOM_WORK_H

#include "acoustics/event/weighting.h"
#include "acoustics/room/room.h"
#include "acoustics/source/pass.h"

enum { GRADIN_BAND_100_HZ = 3 };

/* Mean square pressures re 20 uPa; powers times rho c. [t] over window.n_time, [e] over n_element.
 */
typedef struct gradin_work {
    int n_element;
    gradin_window window;
    gradin_history history; /* the window's times */
    double tau_s;           /* of the time weighting; 0 none */
    double area_m2;         /* of panes and doors; A0 when there are only vents */
    double outside_lamax_db;
    double a_weight[GRADIN_N_BAND]; /* of energy */
    gradin_room_field field[GRADIN_N_SHADE_STATE];
    double (*tau_m2[GRADIN_N_SHADE_STATE])[GRADIN_N_BAND]; /* [e][band] S tau */
    double (*incident)[GRADIN_N_BAND];                     /* [t * n_element + e][band] a m2 */
    double **let_in[GRADIN_N_SHADE_STATE];                 /* [t][e] A-weighted power */
    double *reverberant[GRADIN_N_SHADE_STATE][2];          /* [side][t] A-weighted, all elements */
    double **echo[2]; /* [side][t][e] A-weighted reverberant share, shades as set */
} gradin_work;

/* The point that times of a pass refer to. */
gradin_vec3 gradin_room_centre_m(const gradin_model *model);

/* glass[n_element]. Everything into the arena. */
gradin_status gradin_work_make(gradin_arena *arena, const gradin_model *model,
                               const gradin_glass *glass, gradin_work *work, gradin_error *error);

#endif
