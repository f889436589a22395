/* What an outlook must have before anybody writes it. */
#include "sightline/outlook/complete.h"
#include "base/use.h"
#include "model/complete.h"

gradin_status outside_complete(const gradin_outside *outside, gradin_error *error) {
    gradin_status status = NEEDS(error, outside);
    if (status == GRADIN_OK && outside->n_point > 0) status = NEEDS(error, outside->point);
    for (int i = 0; status == GRADIN_OK && i < outside->n_point; i++)
        status = NEEDS(error, outside->point[i].name);
    return status;
}

static gradin_status check_arrays(const gradin_outlook *o, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    if (o->n_seat > 0) status = NEEDS(error, o->open_glass, o->glass_ahead, o->n_seen_from);
    if (status == GRADIN_OK && o->n_point > 0)
        status = NEEDS(error, o->away_m, o->n_seen, o->area, o->standing, o->is_spot_seen);
    if (status == GRADIN_OK && o->n_point > 0 && o->n_seat > 0)
        status = NEEDS(error, o->head, o->outline, o->turn_deg, o->seen);
    if (status == GRADIN_OK && o->n_spot > 0) status = NEEDS(error, o->first_spot, o->spot_m);
    return status;
}

static bool agrees(const gradin_outlook *o) {
    return o->n_seat == o->model->seats.n_seat && o->n_area == o->model->n_focus &&
           o->n_point == o->outside->n_point;
}

gradin_status outlook_complete(const gradin_outlook *outlook, gradin_error *error) {
    gradin_status status = NEEDS(error, outlook);
    if (status == GRADIN_OK) status = model_complete(outlook->model, error);
    if (status == GRADIN_OK) status = outside_complete(outlook->outside, error);
    if (status == GRADIN_OK && !agrees(outlook))
        status = gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                  "an outlook of other seats, areas or points");
    return status == GRADIN_OK ? check_arrays(outlook, error) : status;
}
