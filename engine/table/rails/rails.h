/* table/rails/rails.h: what may be said of a rail's height. */
#ifndef GRADIN_TABLE_RAILS_H
#define GRADIN_TABLE_RAILS_H

#include "gradin/sightline.h"
#include "table/shared/text.h"

/* Why a seat has no height, "" when it has one. */
const char *rails_note(const gradin_model *model, const gradin_rail_limits *limits, int seat);
/* The height, NAN when it is below the venue's own minimum or the venue states none. */
double rails_allowed_m(const gradin_model *model, double height_m);

#endif
