/* gradin/study_inputs.h: what one point of a study is worked out from.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it. */
#ifndef GRADIN_STUDY_INPUTS_H
#define GRADIN_STUDY_INPUTS_H

#include "gradin/acoustics/traffic.h"
#include "gradin/model.h"
#include "gradin/study.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct gradin_study_inputs {
    gradin_model model;
    gradin_model partner;   /* where has_partner */
    gradin_traffic traffic; /* where has_traffic */
    bool has_partner, has_traffic;
    bool is_study_wrong; /* a key has no place in any of the files: no point could be read */
} gradin_study_inputs;

/* Makes the inputs of a point; point -1: without any of its values. GRADIN_BAD_INPUT where they
 * cannot stand: the diagnostics say why. gradin_study_point_read() of files.h is one. */
typedef gradin_status (*gradin_study_reader)(gradin_arena *arena, const gradin_study *study,
                                             int point, gradin_study_inputs *inputs,
                                             gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
