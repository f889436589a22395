/* C of some seats alone, for those who move heights about: no rays, the same persons and the same
 * line as in the assessment (c_seat.c, c_line.c). */
#include "base/use.h"
#include "model/complete.h"
#include "sightline/c_value/c_seat.h"

gradin_status gradin_c_of_seats(const gradin_model *model, const int *seat, int n, double *c_m,
                                gradin_error *error) {
    if (NEEDS(error, model, seat, c_m) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_seats *s = &model->seats;
    for (int i = 0; i < n; i++)
        if (seat[i] < 0 || seat[i] >= s->n_seat)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "seat %d of %d", seat[i],
                                    s->n_seat);
    gradin_arena *arena = gradin_arena_create();
    sight_person *person = gradin_arena_alloc(arena, (size_t)s->n_seat, sizeof *person);
    const sight_focus focus = {.floor_middle_m = gradin_sight_floor_middle(model)};
    for (int i = 0; person && i < n; i++) {
        sight_plane plane =
            gradin_sight_plane(model, &focus, s->eye_m[seat[i]], s->facing_deg[seat[i]]);
        c_m[i] = gradin_sight_c(model, &plane, seat[i], person).over.c_m;
    }
    gradin_arena_destroy(arena);
    return person ? GRADIN_OK
                  : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for C-values");
}
