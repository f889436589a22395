/* sightline/seen/occlusion.h: how much of the focus one seat sees, and what hides the rest. */
#ifndef GRADIN_SIGHTLINE_OCCLUSION_H
#define GRADIN_SIGHTLINE_OCCLUSION_H

#include "sightline/focus/focus.h"

/* One per thread. */
typedef struct sight_occlusion_scratch {
    const gradin_mask_scene *scene; /* shared */
    gradin_mask_scratch *mask;
    int32_t *first;       /* [n_sample] */
    int *tally;           /* [n_occluder_name] zero between calls */
    int *touched;         /* [n_occluder_name] names with a tally */
    double *by_name;      /* [n_occluder_name] zero between calls */
    double *area_visible; /* [n_area] of the seat just looked at */
} sight_occlusion_scratch;

typedef struct sight_occlusion {
    double visible, hidden[GRADIN_N_CAUSE];
    double c_heads;     /* hidden by heads of the floor that C is measured to */
    int worst_occluder; /* -1 when nothing hides */
    double worst_hidden;
} sight_occlusion;

/* scene is that of the model. False when out of memory. */
bool gradin_sight_occlusion_scratch(gradin_arena *arena, const gradin_model *model,
                                    const sight_focus *focus, const gradin_mask_scene *scene,
                                    sight_occlusion_scratch *scratch);

sight_occlusion gradin_sight_occlusion(const gradin_model *model, const sight_focus *focus,
                                       int seat, bool use_reference,
                                       sight_occlusion_scratch *scratch);

/* two_eyes.c: fills both_eyes and one_eye of the result. */
gradin_status gradin_sight_two_eyes(gradin_arena *arena, const gradin_model *model,
                                    const sight_focus *focus, gradin_sight *sight,
                                    gradin_error *error);

#endif
