/* unit/sightline/hall.h: small models built by hand. People face south (180), rows climb to the
 * north, the focus lies to the south. */
#ifndef UNIT_SIGHTLINE_HALL_H
#define UNIT_SIGHTLINE_HALL_H

#include "gradin/sightline.h"

enum { HALL_SEATS = 64, HALL_OCCLUDERS = 160, HALL_AREAS = 4, HALL_SOLIDS = 8 };

typedef struct hall {
    gradin_vec3 floor_m[HALL_SEATS], eye_m[HALL_SEATS];
    double facing_deg[HALL_SEATS], width_m[HALL_SEATS], depth_m[HALL_SEATS];
    gradin_seat_kind kind[HALL_SEATS];
    int row[HALL_SEATS];
    gradin_occluder occluder[HALL_OCCLUDERS];
    gradin_vec2 area_corner[HALL_AREAS][4], solid_corner[HALL_SOLIDS][4];
    gradin_focus focus[HALL_AREAS];
    const char *name[8];
    int n_solid;
    gradin_model model;
} hall;

/* An empty hall without limits. */
void hall_start(hall *h);
/* A rectangle of focus, centre (x, y), weight as given. */
void hall_focus(hall *h, double x, double y, double width_m, double depth_m, double z_m,
                double weight);
/* A seat with its eye at eye_m, 1.2 m above its floor, facing south; returns its index. */
int hall_seat(hall *h, double x, double y, double eye_z_m);
/* A head and shoulders for every seat so far, name 0. */
void hall_heads(hall *h);
void hall_occluder(hall *h, gradin_shape shape, gradin_cause cause, int name);
/* A rectangular prism, centre (x, y). */
void hall_solid(hall *h, double x, double y, double width_m, double depth_m, double bottom_m,
                double top_m, gradin_cause cause, int name);
/* n_row rows of n_column seats at 0.55 m by 0.9 m from y = first_y, every other row moved by
 * shift_m; the first eye at eye_z_m, each row riser_m higher. */
void hall_rows(hall *h, int n_row, int n_column, double first_y, double shift_m, double eye_z_m,
               double riser_m);

gradin_sight hall_compute(const hall *h, gradin_arena *arena, int n_sample, bool use_reference);

/* Every array of the result has the same bytes. */
bool hall_same_bytes(const gradin_sight *a, const gradin_sight *b);

#endif
