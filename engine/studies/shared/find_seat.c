/* A seat by its name, as people give it to a verb. */
#include "studies/shared/find_seat.h"

#include <string.h>

static const gradin_place seat_option = {.key = "--seat"};

int study_find_seat(const gradin_seats *seats, const char *id, gradin_error *error) {
    for (int i = 0; i < seats->n_seat; i++)
        if (strcmp(seats->id[i], id) == 0) return i;
    int near = gradin_nearest_name(id, seats->id, seats->n_seat);
    if (near >= 0)
        gradin_error_add(error, GRADIN_BAD_INPUT, &seat_option,
                         "there is no seat '%s'; did you mean '%s'?", id, seats->id[near]);
    else
        gradin_error_add(error, GRADIN_BAD_INPUT, &seat_option,
                         "there is no seat '%s'; seats.csv lists them, such as '%s'", id,
                         seats->n_seat > 0 ? seats->id[0] : "");
    return -1;
}
