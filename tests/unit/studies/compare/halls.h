/* unit/studies/compare/halls.h: small layouts assessed by hand, seat by seat: nothing in them is
 * computed by the engine. */
#ifndef GRADIN_TEST_COMPARE_HALLS_H
#define GRADIN_TEST_COMPARE_HALLS_H

#include "gradin/studies/compare.h"

enum { HALL_SEATS = 24, HALL_ROW = 12, HALL_ELEMENTS = 1 };

typedef struct small_hall {
    gradin_model model;
    gradin_assessment a;
    gradin_vec3 floor_m[HALL_SEATS];
    const char *id[HALL_SEATS];
    char text[HALL_SEATS][16];
    const char *block_name[2];
    int block[HALL_SEATS];
    int row[HALL_SEATS], number[HALL_SEATS], level[HALL_SEATS];
    gradin_seat_kind kind[HALL_SEATS];
    double visible[HALL_SEATS], distance_m[HALL_SEATS], turn_deg[HALL_SEATS];
    double c_m[HALL_SEATS], c_row_m[HALL_SEATS];
    double hidden[HALL_SEATS][GRADIN_N_CAUSE];
    gradin_rating rating[HALL_SEATS];
    gradin_reason reason[HALL_SEATS];
    int worst_occluder[HALL_SEATS], front_seat[HALL_SEATS], c_area[HALL_SEATS];
    gradin_c_case c_case[HALL_SEATS];
    double worst_hidden[HALL_SEATS];
    double clear[HALL_SEATS], clear_se[HALL_SEATS];
    double lamax_db[HALL_SEATS], band_db[HALL_SEATS][GRADIN_N_BAND];
    double systematic_db[HALL_SEATS], uncertainty_db[HALL_SEATS];
    gradin_verdict verdict[HALL_SEATS];
    int loudest[HALL_SEATS];
    gradin_glass glass[HALL_ELEMENTS];
    gradin_element element[HALL_ELEMENTS];
    gradin_pass pass;
    double share[HALL_ELEMENTS], r_db[GRADIN_N_BAND];
    gradin_weighted rw;
} small_hall;

/* Two blocks of twelve seats, one row each, half a metre apart, in a hall of 10 m by 20 m; every
 * seat sees all, sits 10 m away and hears 40 dB(A). */
void small_hall_make(small_hall *hall);
/* Mirrored east for west across the middle of the plan; the numbers stay with the seats' order. */
void small_hall_mirror(small_hall *hall);

#endif
