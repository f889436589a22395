/* engine/model/complete.h: has a model all that its counts promise? */
#ifndef GRADIN_MODEL_COMPLETE_H
#define GRADIN_MODEL_COMPLETE_H

#include "gradin/model.h"

/* GRADIN_BAD_USE for a model that is NULL or lacks its names, its seats, or an array that a count
 * above 0 belongs to; every lack is one diagnostic whose key is the field. Nothing is computed, so
 * the writers call it, too. */
gradin_status model_complete(const gradin_model *model, gradin_error *error);

#endif
