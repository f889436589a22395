/* room/divide.h: two diffuse rooms coupled through the opening of an arch. */
#ifndef GRADIN_ROOM_DIVIDE_H
#define GRADIN_ROOM_DIVIDE_H

#include "acoustics/room/room.h"

typedef struct gradin_coupled {
    double volume_m3[2], absorption_m2[2]; /* of each room's own surfaces, with air:
                                                Sabine's for levels, Eyring's for decays */
    double coupling_m2;
} gradin_coupled;

/* Area through which two mean fields exchange power, of an opening in a section of the hall. */
double gradin_coupling_m2(double section_m2, double open_m2);
/* Mean square pressure in room `listener` per (W rho c) fed into the field of room `source`. */
double gradin_coupled_1m2(const gradin_coupled *coupled, int listener, int source);
/* T30 in a room after a steady source in it. */
double gradin_coupled_reverberation_s(const gradin_coupled *coupled, int room, double speed_ms);

/* The field of a model that an arch divides. */
gradin_status gradin_divided_field_make(const gradin_model *model, gradin_shade_state state,
                                        const gradin_scaling *scaling, gradin_room_field *field,
                                        gradin_error *error);

#endif
