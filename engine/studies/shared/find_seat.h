/* studies/shared/find_seat.h: a seat by its name. */
#ifndef GRADIN_STUDIES_FIND_SEAT_H
#define GRADIN_STUDIES_FIND_SEAT_H

#include "gradin/model.h"

/* Its index; -1 after a complaint at --seat. */
int study_find_seat(const gradin_seats *seats, const char *id, gradin_error *error);

#endif
