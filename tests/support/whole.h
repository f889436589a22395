/* Fills what a test's hand-made structs leave out and the library asks for: names, and arrays of
 * zeros that are only read. */
#ifndef SUPPORT_WHOLE_H
#define SUPPORT_WHOLE_H

#include "gradin/model.h"

enum { WHOLE_SEATS = 20000 };

#define WHOLE(pointer)                                                                             \
    do {                                                                                           \
        if (!(pointer)) (pointer) = (void *)whole_zeros;                                           \
    } while (0)

static double whole_zeros[WHOLE_SEATS * GRADIN_N_BAND];

static inline void whole_model(gradin_model *model) {
    static const char *id[WHOLE_SEATS];
    gradin_seats *seats = &model->seats;
    for (int i = 0; i < WHOLE_SEATS; i++) id[i] = "";
    if (!model->venue_name) model->venue_name = "venue";
    if (!model->layout_name) model->layout_name = "layout";
    if (!model->units) model->units = "m";
    if (!seats->id) seats->id = id;
    WHOLE(seats->block);
    WHOLE(seats->row);
    WHOLE(seats->number);
    WHOLE(seats->kind);
    WHOLE(seats->floor_m);
    WHOLE(seats->eye_m);
    WHOLE(seats->facing_deg);
    WHOLE(seats->width_m);
    WHOLE(seats->depth_m);
    WHOLE(seats->sheet);
    WHOLE(seats->section);
    WHOLE(seats->level);
    WHOLE(model->aisle_sheet);
    WHOLE(model->vomitory_top_deg);
    WHOLE(model->vomitory_leads);
    WHOLE(model->vomitory_exit_m);
}

#endif
